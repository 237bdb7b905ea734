package fitting

// Input is everything the engine is told. A nil pointer, an empty word and a
// left out field all mean "not given" and take their default. What stands in
// Hat is taken as given; what is missing there is advised.
type Input struct {
	Measures Measures     `json:"measures"`
	Face     Face         `json:"face,omitzero"`
	Hair     Hair         `json:"hair,omitzero"`
	Wearer   Wearer       `json:"wearer,omitzero"`
	Occasion Occasion     `json:"occasion,omitzero"`
	Wish     Wish         `json:"wish,omitzero"`
	Hat      Hat          `json:"hat,omitzero"`
	Elastic  Cord         `json:"elastic,omitzero"`
	Cloth    Cloth        `json:"cloth,omitzero"`
	Hold     HoldSettings `json:"hold,omitzero"`
	Learned  Learned      `json:"learned,omitzero"`
	Workroom Workroom     `json:"workroom,omitzero"`
}

// Measures are the tapes and calipers of one head, taken over the hair. Girth
// must be given.
type Measures struct {
	Girth       *Length `json:"girth_mm,omitempty"`         // round the head where the hat will rest
	NapeToCrown *Length `json:"nape_to_crown_mm,omitempty"` // default 0.40 of the girth
	EarToEar    *Length `json:"ear_to_ear_mm,omitempty"`    // tragion to tragion over the crown
	BrowToNape  *Length `json:"brow_to_nape_mm,omitempty"`  // over the crown
	HeadLength  *Length `json:"head_length_mm,omitempty"`   // caliper
	HeadBreadth *Length `json:"head_breadth_mm,omitempty"`  // caliper
	TakenBy     Taker   `json:"taken_by,omitempty"`         // default Client
	Readings    int     `json:"readings,omitempty"`         // of each tape; default 1
	Repeat      *Length `json:"repeat_mm,omitempty"`        // standard deviation of one reading about its tape's mean; default 3, of a maker 1.5
	Sex         Sex     `json:"sex,omitempty"`              // default SexUnknown
	Doubts      Doubts  `json:"doubts,omitzero"`
}

// Doubts are standard deviations of tapes' errors where they are known to be
// greater than taker and readings tell: of a girth that is a hat size, or of
// readings that were taken long ago. They never make a tape more certain.
type Doubts struct {
	Girth       *Length `json:"girth_mm,omitempty"`
	NapeToCrown *Length `json:"nape_to_crown_mm,omitempty"`
	EarToEar    *Length `json:"ear_to_ear_mm,omitempty"`
	BrowToNape  *Length `json:"brow_to_nape_mm,omitempty"`
}

// Taker is who held the tape; it decides how far the tape is trusted.
type Taker string

// Who may have held the tape.
const (
	Client Taker = "client"
	Maker  Taker = "maker"
)

// Sex is used for one thing only: how much hair and head shape lie between
// caliper and tape in the surveys.
type Sex string

// The sexes that the surveys know.
const (
	Female     Sex = "female"
	Male       Sex = "male"
	SexUnknown Sex = "unknown"
)

// Face is its outline as picked from drawings, or four tapes, or points on a
// photograph. A tape counts before a point.
type Face struct {
	Shape          FaceShape   `json:"shape,omitempty"`
	HairlineToChin *Length     `json:"hairline_to_chin_mm,omitempty"`
	Cheekbone      *Length     `json:"cheekbone_mm,omitempty"`
	Forehead       *Length     `json:"forehead_mm,omitempty"`
	Jaw            *Length     `json:"jaw_mm,omitempty"`
	Points         *FacePoints `json:"points,omitempty"`
}

// FaceShape is the outline of a face.
type FaceShape string

// The outlines that may be picked.
const (
	Oval   FaceShape = "oval"
	Round  FaceShape = "round"
	Long   FaceShape = "long"
	Square FaceShape = "square"
	Heart  FaceShape = "heart"
	Pear   FaceShape = "pear"
)

// Hair is how it is worn on the day. Thickness is what lies between the
// surface of the hair and the elastic that runs under it.
type Hair struct {
	Thickness Length  `json:"thickness_mm,omitempty"`
	Worn      Worn    `json:"worn,omitempty"`
	Knot      Knot    `json:"knot,omitempty"`
	Parting   Parting `json:"parting,omitempty"`
	Grip      Grip    `json:"grip,omitempty"`
}

// Worn is up, down or short.
type Worn string

// How hair may be worn.
const (
	HairUp    Worn = "up"
	HairDown  Worn = "down"
	HairShort Worn = "short"
)

// Knot is where a knot of hair sits.
type Knot string

// Where a knot may sit.
const (
	NoKnot     Knot = "none"
	KnotAtNape Knot = "nape"
	KnotAtBack Knot = "back"
	KnotOnTop  Knot = "top"
)

// Parting is where the hair is parted, as the wearer says it.
type Parting string

// Where the parting may be.
const (
	PartedLeft   Parting = "left"
	PartedMiddle Parting = "middle"
	PartedRight  Parting = "right"
	NoParting    Parting = "none"
)

// Wearer is what else matters about her.
type Wearer struct {
	Glasses bool    `json:"glasses,omitempty"`
	Height  *Length `json:"height_mm,omitempty"`
}

// Occasion is where the hat will be worn. Kind is free text; the advice knows
// some kinds and treats the others as none in particular.
type Occasion struct {
	Kind      string  `json:"kind,omitempty"`
	Outdoors  bool    `json:"outdoors,omitempty"`
	LeastBase *Length `json:"least_base_mm,omitempty"` // what the event's rule demands
}

// Wish is what she would like.
type Wish struct {
	Side     Side      `json:"side,omitempty"`
	Presence Presence  `json:"presence,omitempty"`
	Brim     Direction `json:"brim,omitempty"`
}

// Side is the wearer's own left or right, or the middle.
type Side string

// The sides of a head.
const (
	Left   Side = "left"
	Right  Side = "right"
	Middle Side = "middle"
)

// Presence is how much the hat should be noticed.
type Presence string

// The three presences, from least to most.
const (
	Quiet    Presence = "quiet"
	Balanced Presence = "balanced"
	Bold     Presence = "bold"
)

// Direction is which way the brim goes from the rim.
type Direction string

// Up lifts away from the head, Down droops.
const (
	Up   Direction = "up"
	Down Direction = "down"
)

// Hat holds the hat's figures. Base, Forward, Sideways, BrimWidth and BrimSlope
// are advised when nil; the others then take their default.
type Hat struct {
	Base            *Length   `json:"base_mm,omitempty"`           // rim diameter
	Forward         *Angle    `json:"forward_deg,omitempty"`       // tilt of the base's centre from the crown
	Sideways        *Angle    `json:"sideways_deg,omitempty"`      // positive to the wearer's left
	BrimWidth       *Length   `json:"brim_width_mm,omitempty"`     // along the slope
	BrimSlope       *Angle    `json:"brim_slope_deg,omitempty"`    // from the rim's plane, positive lifting
	LipWidth        *Length   `json:"lip_width_mm,omitempty"`      // turned up at the brim's inner edge; default none
	LipSlope        *Angle    `json:"lip_slope_deg,omitempty"`     // from the rim's plane; default 90
	AnchorFromFront *float64  `json:"anchor_from_front,omitempty"` // fraction of the base; default a third
	Folds           *int      `json:"folds,omitempty"`             // layers of the strip: 4, 2 or 1; default 4
	Trim            *Mass     `json:"trim_g,omitempty"`            // default 20
	Layers          LayerRule `json:"layers,omitempty"`            // of the base; default FourOneWay
	Anchor          Anchoring `json:"anchor,omitempty"`            // how the anchors are chosen; default AtFraction
}

// Complete says whether nothing is left to advise.
func (h Hat) Complete() bool {
	return h.Base != nil && h.Forward != nil && h.Sideways != nil && h.BrimWidth != nil && h.BrimSlope != nil
}

// Cord is how the elastic is worked.
type Cord struct {
	WorkingStretch *float64 `json:"working_stretch,omitempty"` // worn over relaxed length, less one; default by the reel, or 0.10
	Knot           *Length  `json:"knot_mm,omitempty"`         // for the knot at each end; default 15
	Rest           *Length  `json:"rest_mm,omitempty"`         // a piece of the reel: see Reel; all three or none
	Loaded         *Length  `json:"loaded_mm,omitempty"`
	Load           *float64 `json:"load_n,omitempty"`
	Colour         string   `json:"colour,omitempty"` // that does not show in her hair; passed on to the result, changes no figure
}

// Cloth is the piece to cut from.
type Cloth struct {
	Width   *Length  `json:"width_mm,omitempty"`  // from selvedge to selvedge; default 900
	Length  *Length  `json:"length_mm,omitempty"` // default 1000
	Density *float64 `json:"g_per_m2,omitempty"`
	Bias    *float64 `json:"bias_stretch,omitempty"` // of 20 cm on the bias, pulled to the first ripple, as a part of it; see [Locks]
}
