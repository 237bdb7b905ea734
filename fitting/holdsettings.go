package fitting

// HoldSettings are what the hold is estimated from besides the shapes of head and
// hat. What is nil or empty takes its default, so the zero value is the usual
// hat worn indoors.
type HoldSettings struct {
	// from other parts of the input
	Outdoors bool     `json:"-"`
	Hair     Worn     `json:"-"`
	Grip     Grip     `json:"-"`
	Layers   *int     `json:"-"` // of the base's cloth; default 4
	Folds    *int     `json:"-"` // of the brim's strip; default 4
	Density  *float64 `json:"-"` // of the cloth, g/m²; default 100
	Trim     *Mass    `json:"-"` // default 20

	Tension    *float64 `json:"tension_n,omitempty"`      // that the elastic is to have; default: what the hat needs
	Friction   *float64 `json:"friction,omitempty"`       // on the hair; default by Grip
	Reserve    *float64 `json:"reserve,omitempty"`        // friction over what still air may need of it; default 1.5
	Press      *float64 `json:"press,omitempty"`          // sum of the normal forces over weight and tensions, at most; default 2
	Stiffener  *float64 `json:"stiffener,omitempty"`      // mass of stiffened cloth over that of the cloth; default 1.15
	Extras     *Mass    `json:"extras_g,omitempty"`       // thread, binding, lining; default 8
	TrimHeight *Length  `json:"trim_height_mm,omitempty"` // of its centre over the base; default 20
	Drag       *float64 `json:"drag,omitempty"`           // coefficient of the silhouette; default 1
	Light      *float64 `json:"light_n,omitempty"`        // least tension that an elastic is worked at; default 0.2
	Most       *float64 `json:"most_n,omitempty"`         // greatest comfortable tension; default 1
	CordWidth  *Length  `json:"cord_width_mm,omitempty"`  // default 3
	CordBend   *Length  `json:"cord_bend_mm,omitempty"`   // radius that it runs round the head with; default 90
}

// Grip is how well a hat keeps its place on the hair.
type Grip string

// How hair may grip: fine clean hair slips, textured hair holds, and so does a
// base lined with velvet.
const (
	FineHair     Grip = "fine"
	UsualHair    Grip = "usual"
	TexturedHair Grip = "textured"
)

// holdFactors are the settings after the door: each one there and checked.
type holdFactors struct {
	HoldSettings
	layers, folds            int
	density, stiffener       float64
	extras, trim             Mass
	trimHeight               Length
	friction, reserve, press float64
	drag                     float64
	light, most              float64 // N
	cordWidth, cordBend      Length
}

func (s HoldSettings) filled() holdFactors {
	return holdFactors{
		HoldSettings: s, layers: given(s.Layers, usualLayers), folds: given(s.Folds, usualFolds),
		density: given(s.Density, usualDensity), stiffener: given(s.Stiffener, usualStiffener),
		extras: given(s.Extras, usualExtras), trim: given(s.Trim, usualTrim), trimHeight: given(s.TrimHeight, usualTrimHeight),
		friction: given(s.Friction, friction(s.Grip)), reserve: given(s.Reserve, usualReserve), press: given(s.Press, usualPress),
		drag: given(s.Drag, usualDrag), light: given(s.Light, lightTension), most: given(s.Most, usualMost),
		cordWidth: given(s.CordWidth, usualCordWidth), cordBend: given(s.CordBend, usualCordBend),
	}
}

func (s HoldSettings) read() (holdFactors, error) {
	f := s.filled()
	for _, n := range []struct {
		field, what    string
		x, least, most float64
		unit           string
	}{
		{"hat.layers", "The layers of the base", float64(f.layers), 1, 10, ""},
		{"cloth.g_per_m2", "The weight of the cloth", f.density, 5, 2000, " g/m²"},
		{"hat.trim_g", "The trimming", f.trim.Grams(), 0, mostTrim.Grams(), " g"},
		{"hold.tension_n", "The tension of the elastic", given(s.Tension, 0), 0, 10, " N"},
		{"hold.friction", "The friction on the hair", f.friction, leastFriction * mostReserve, 2, ""},
		{"hold.reserve", "The reserve of friction", f.reserve, 1, mostReserve, ""},
		{"hold.press", "How hard the head may be pressed", f.press, 1, 100, " times weight and tensions"},
		{"hold.stiffener", "The mass of stiffened cloth over that of the cloth", f.stiffener, 1, 10, ""},
		{"hold.extras_g", "The mass of thread, binding and lining", f.extras.Grams(), 0, 500, " g"},
		{"hold.trim_height_mm", "The height of the trimming's centre", f.trimHeight.Millimetres(), 0, 300, " mm"},
		{"hold.drag", "The drag coefficient", f.drag, 0.1, 5, ""},
		{"hold.light_n", "The least tension to work an elastic at", f.light, 0, 10, " N"},
		{"hold.most_n", "The greatest comfortable tension", f.most, 0.05, 10, " N"},
		{"hold.cord_width_mm", "The width of the elastic", f.cordWidth.Millimetres(), 0.5, 50, " mm"},
		{"hold.cord_bend_mm", "The radius of the elastic round the head", f.cordBend.Millimetres(), 20, 300, " mm"},
	} {
		if err := between(n.field, n.what, n.x, n.least, n.most, n.unit); err != nil {
			return holdFactors{}, err
		}
	}
	return f, nil
}
