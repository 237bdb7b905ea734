package fitting

import "math"

// Notion is something that the hat takes besides its cloth, and how much of it:
// so many, each so long, or so far across when it is round.
type Notion struct {
	Kind     NotionKind `json:"kind"`
	Count    int        `json:"count"`
	Length   Length     `json:"length_mm,omitempty"`
	Diameter Length     `json:"diameter_mm,omitempty"`
}

// NotionKind says what a notion is.
type NotionKind string

// The notions of a hat.
const (
	Lining      NotionKind = "lining"    // a circle like the base's, stuck into the dome
	Ribbon      NotionKind = "ribbon"    // inside the rim
	EdgeWire    NotionKind = "edge wire" // in the brim's outer edge; a very small brim seldom needs it
	ElasticCord NotionKind = "elastic"   // knots included
	Comb        NotionKind = "comb"
	Pins        NotionKind = "pin" // their points guarded
	Band        NotionKind = "band"
)

// Notions are what the hat takes besides its cloth, with what holds it besides its
// elastic. Edge wire laps by an inch (Martin, Make Your Own Hats, 1921), and so does
// the ribbon (our choice); a comb's width is from memory.
func (s Solution) Notions() []Notion {
	r := s.Result
	n := []Notion{
		{Kind: Lining, Count: 1, Diameter: r.Base.CutDiameter},
		{Kind: Ribbon, Count: 1, Length: Length(math.Pi)*r.Base.Diameter + wireLap},
		{Kind: ElasticCord, Count: 1, Length: r.Elastic.Cut},
	}
	if r.Brim.Width >= leastPiece {
		n = append(n, Notion{Kind: EdgeWire, Count: 1, Length: r.Brim.edge() + wireLap})
	}
	return append(n, r.Hold.Fastening.notions()...)
}

// notions are what the fastening takes.
func (f Fastening) notions() []Notion {
	comb := Notion{Kind: Comb, Count: 1, Length: combWidth}
	switch f {
	case ByComb:
		return []Notion{comb}
	case ByCombAndPins:
		return []Notion{comb, {Kind: Pins, Count: holdingPins}}
	case ByBand:
		return []Notion{{Kind: Band, Count: 1}}
	default:
		return nil
	}
}
