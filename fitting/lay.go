package fitting

import (
	"fmt"
	"math"
)

// Lay is where the pieces of one hat lie on its cloth. When they do not fit they
// lie on the piece that would do: see Takes. Lengths are millimetres, X across
// the cloth from the left selvedge and Y along it.
type Lay struct {
	Fits         bool      `json:"fits"`
	UsedFraction float64   `json:"used_fraction"`  // of the cloth if it fits, else of Takes
	Takes        ClothSize `json:"takes"`          // the cloth's own width and the length of it that does; a greater width when no length does
	AreaLength   Length    `json:"area_length_mm"` // of the cloth's width, as large as all pieces together: no lay takes less
	Parts        int       `json:"strip_parts"`    // that the longest strip is joined of; 1 when it is cut in one
	Pieces       []Placed  `json:"pieces"`
	Notions      []Notion  `json:"notions,omitempty"` // what else the hat takes: see [Solution.Notions]
}

// ClothSize is a piece of cloth, from selvedge to selvedge and along.
type ClothSize struct {
	Width  Length `json:"width_mm"`
	Length Length `json:"length_mm"`
}

// Placed is one part where it lies. Turn is how its length, or a circle's front,
// lies to the line across the cloth, anticlockwise from 0 to 180: on the bias at
// 45 and 135.
type Placed struct {
	Kind     PieceKind   `json:"kind"`
	Piece    int         `json:"piece"` // its place in the list of pieces, from 0
	Part     int         `json:"part"`  // of a strip that is joined of Parts, from 1
	Parts    int         `json:"parts"`
	Turn     Angle       `json:"turn_deg"`
	X        Length      `json:"x_mm"` // of its middle
	Y        Length      `json:"y_mm"`
	Diameter Length      `json:"diameter_mm,omitempty"` // of a circle
	Outline  [][2]Length `json:"outline_mm,omitempty"`  // else the corners, x and y, anticlockwise
}

// LayOf lays the pieces on the cloth, with the bias kept, clear of each other and
// of the cloth's edges by the room that each asks for. A cloth without a width or
// a length is a metre of the usual 90 cm. Strips are joined where the cloth is
// too narrow for one. The lay is found by a rule, not by search: one that takes
// less may exist, but more cloth never does worse. The error is a [Refusal] when
// a size is out of bounds.
func LayOf(pieces []Piece, cloth Cloth) (Lay, error) {
	size, err := cloth.Size()
	if err != nil {
		return Lay{}, err
	}
	if err := checkPieces(pieces); err != nil {
		return Lay{}, err
	}
	c := cutting{levels: levelsOf(pieces)}
	found, fits := c.on(size)
	lay := Lay{Fits: fits, Takes: found.size(), Parts: found.joined(), Pieces: found.placed(pieces)}
	lay.Takes.Width = max(lay.Takes.Width, size.Width)
	on := lay.Takes
	if fits {
		on = size
	}
	used := found.area(pieces)
	lay.AreaLength = Length(used) / size.Width
	lay.UsedFraction = used / (on.Width.Millimetres() * on.Length.Millimetres())
	return lay, nil
}

// short says what cloth would do when the lay does not fit.
func (l Lay) short() []Note {
	if l.Fits {
		return nil
	}
	says := fmt.Sprintf("The pieces do not fit on this cloth with the bias kept. A piece %s wide and %s long would do", toCut(l.Takes.Width), toCut(l.Takes.Length))
	if l.Parts > 1 {
		says += fmt.Sprintf(", with the strip joined of %d parts", l.Parts)
	}
	return []Note{{"cloth.length_mm", float64(l.Takes.Length), nil, "the lay of the pieces, as worked out", says + "."}}
}

// toCut writes a length of cloth for people: up to the next half centimetre.
func toCut(l Length) string { return inCentimetres(Length(math.Ceil(float64(l-edgeSlack)/5) * 5)) }

// area in mm².
func (p Placed) area() float64 {
	if p.Diameter > 0 {
		return math.Pi * square(p.Diameter) / 4
	}
	sum := 0.0
	for i, a := range p.Outline {
		b := p.Outline[(i+1)%len(p.Outline)]
		sum += float64(a[0]*b[1] - b[0]*a[1])
	}
	return sum / 2
}

// Size is the cloth's, the usual one where nothing is said. The error is a [Refusal]
// when it is out of bounds.
func (c Cloth) Size() (ClothSize, error) {
	s := ClothSize{given(c.Width, usualClothWidth), given(c.Length, usualClothLength)}
	if err := within("cloth.width_mm", "The cloth's width", s.Width, leastCloth, mostCloth); err != nil {
		return s, err
	}
	return s, within("cloth.length_mm", "The cloth's length", s.Length, leastCloth, mostCloth)
}
