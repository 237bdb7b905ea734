package fitting

// Result is one hat on one head, in full precision. Rounding is for whoever
// shows it.
type Result struct {
	Head      Head        `json:"head"`
	Base      Base        `json:"base"`
	Placement Placement   `json:"placement"`
	Brim      BrimPattern `json:"brim"`
	Strip     Strip       `json:"strip"`
	Elastic   ElasticCut  `json:"elastic"`
	View      View        `json:"view"`
	Hold      Hold        `json:"hold"`
	Cloth     Lay         `json:"cloth"`
	PlusMinus PlusMinus   `json:"plus_minus"`
	Reasons   []Note      `json:"reasons"`
	Cautions  []Note      `json:"cautions"`

	Trim    Trimming `json:"trim"`
	Face    FaceRead `json:"face"`
	Lessons []Lesson `json:"lessons,omitempty"` // that the proposal went by

	Alternatives []Alternative `json:"alternatives"` // the proposals of other presences; none where the hat was given whole
}

// FaceRead is the face as the advice sees it.
type FaceRead struct {
	Height Length                `json:"height_mm"` // hairline to chin
	Width  Length                `json:"width_mm"`  // where it is widest
	Shares map[FaceShape]float64 `json:"shares"`    // how far it is each of the drawn faces, together 1

	// of points on a photograph, nil without them: as measured there less what the
	// camera's distance does, and twice the standard deviation of each
	Points          *FacePoints `json:"points,omitempty"`
	PointsPlusMinus *FacePoints `json:"points_plus_minus,omitempty"`
}

// Trimming is what the hat carries, as its weight counts: its mass, and how high its
// middle is over the base.
type Trimming struct {
	Mass   Mass   `json:"mass_g"`
	Height Length `json:"height_mm"`
}

// Base is the domed circle that carries the hat.
type Base struct {
	Diameter    Length    `json:"diameter_mm"`     // of its rim
	CutDiameter Length    `json:"cut_diameter_mm"` // of the flat circle to cut
	Sag         Length    `json:"sag_mm"`          // how deep it is domed
	Doming      Angle     `json:"doming_deg"`      // shear that the weave takes to dome
	Layers      int       `json:"layers"`
	Rule        LayerRule `json:"layer_rule,omitempty"` // of the layers, as given; empty means FourOneWay

	Block *Length `json:"block_mm,omitempty"` // of the workroom, that it is shaped on; nil when it is shaped freehand
}

// Placement is where the base sits, in angles and as it is taped on the head.
type Placement struct {
	Forward       Angle    `json:"forward_deg"`
	Sideways      Angle    `json:"sideways_deg"`
	Side          Side     `json:"side"`
	CrownToCentre Length   `json:"crown_to_centre_mm"`  // along the surface
	Clock         *float64 `json:"clock"`               // 12 is the front, 3 the wearer's right; nil at the crown
	TapeLineToRim Length   `json:"tape_line_to_rim_mm"` // of the rim's lowest point, negative below the tape line
}

// BrimPattern is the brim's flat shape and what it asks of the cloth.
type BrimPattern struct {
	Width           Length  `json:"width_mm"`
	Slope           Angle   `json:"slope_deg"`
	FlatInnerRadius Length  `json:"flat_inner_radius_mm"`
	FlatOuterRadius Length  `json:"flat_outer_radius_mm"`
	Sector          Angle   `json:"sector_deg"`
	RingLap         Angle   `json:"ring_lap_deg"`      // by which a full flat ring of these radii is lapped
	RingLapInner    Length  `json:"ring_lap_inner_mm"` // the same along the inner edge
	RingLapOuter    Length  `json:"ring_lap_outer_mm"` // and along the outer edge
	EdgeRatio       float64 `json:"edge_ratio"`        // edge stretch: outer edge over inner edge
	Shear           Angle   `json:"shear_deg"`         // of the bias strip curved to this shape
}

// Strip is the straight bias strip that the brim is curved from.
type Strip struct {
	Folds          int    `json:"folds"`
	FlatWidth      Length `json:"flat_width_mm"`
	FromFold       Length `json:"from_fold_mm"` // half the flat width, marked from the bias fold
	LeastFlatWidth Length `json:"least_flat_width_mm"`
	Length         Length `json:"length_mm"` // lap of the ends included
}

// ElasticCut is the elastic's length, taped, relaxed and to cut.
type ElasticCut struct {
	LeftPath       Length  `json:"left_path_mm"`
	RightPath      Length  `json:"right_path_mm"`
	LeftBehindEar  bool    `json:"left_behind_ear"` // the path had to be led behind the ear
	RightBehindEar bool    `json:"right_behind_ear"`
	Worn           Length  `json:"worn_mm"`
	Relaxed        Length  `json:"relaxed_mm"`
	Cut            Length  `json:"cut_mm"`
	PlusMinus      Length  `json:"plus_minus_mm"`          // two standard deviations of Cut
	Learned        Length  `json:"learned_mm,omitempty"`   // by which Relaxed and Cut are longer, as fittings have taught
	Stretch        float64 `json:"working_stretch"`        // worn over relaxed length, less one
	Reel           string  `json:"reel,omitempty"`         // that it is cut from, by its name in the notes; see [Learned]
	Colour         string  `json:"colour,omitempty"`       // that does not show in her hair, as it was given
	LeftAnchor     float64 `json:"left_anchor_from_front"` // fraction of the base
	RightAnchor    float64 `json:"right_anchor_from_front"`
}

// View is the lowest elevation of the brim as either eye sees it; 90 where the
// brim is not met. Left and right are the wearer's.
type View struct {
	Ahead   Angle `json:"ahead_deg"`
	Left30  Angle `json:"left_30_deg"`
	Right30 Angle `json:"right_30_deg"`
	Left60  Angle `json:"left_60_deg"`
	Right60 Angle `json:"right_60_deg"`
}

// Note is one reason or one caution. Its figures are values, so that a page may
// draw or sort them; Says is the same in one plain English sentence.
type Note struct {
	Field  string   `json:"field"`           // what it is about, named as in the contract: "view.ahead_deg"
	Value  float64  `json:"value"`           // of that figure, in the field's unit
	Limit  *float64 `json:"limit,omitempty"` // what it was held against, if anything
	Source string   `json:"source"`          // of the limit or the choice
	Says   string   `json:"says"`
}

// Refusal is the error for a head or a hat that cannot be. Field is the
// contract's name of what to mend ("hat.base_mm"); Why says, in a sentence for
// the person who measured, what is wrong and what to take again.
type Refusal struct {
	Field string `json:"field"`
	Why   string `json:"why"`
}

// Error names the field only: Why may hold a measurement, and errors end up in
// logs.
func (r Refusal) Error() string { return "refused: " + r.Field }
