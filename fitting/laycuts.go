package fitting

import (
	"cmp"
	"math"
	"slices"
)

// Cut is one piece to tick off at the bench, or several alike. Numbers are their
// places in [Lay.InOrder], from 1, as the drawing of the lay numbers them.
type Cut struct {
	Kind     PieceKind
	Numbers  []int
	Part     int // of a strip that is joined of Parts, from 1
	Parts    int
	Width    Length // of a strip
	Length   Length // of a strip along the bias, from point to point
	Diameter Length // of a circle
}

// InOrder are the placed pieces in the order of the work.
func (l Lay) InOrder() []Placed {
	return slices.SortedStableFunc(slices.Values(l.Pieces), func(a, b Placed) int {
		return cmp.Or(cmp.Compare(a.Piece, b.Piece), cmp.Compare(a.Part, b.Part))
	})
}

// Cuts are the pieces to cut, those alike that follow each other as one.
func (l Lay) Cuts() []Cut {
	var all []Cut
	for i, p := range l.InOrder() {
		c := Cut{Kind: p.Kind, Part: p.Part, Parts: p.Parts, Diameter: p.Diameter}
		c.Width, c.Length = p.Size()
		if n := len(all); n > 0 && all[n-1].alike(c) {
			all[n-1].Numbers = append(all[n-1].Numbers, i+1)
			continue
		}
		c.Numbers = []int{i + 1}
		all = append(all, c)
	}
	return all
}

func (c Cut) alike(d Cut) bool {
	near := func(a, b Length) bool { return math.Abs(float64(a-b)) < 0.05 }
	return c.Kind == d.Kind && c.Part == d.Part && c.Parts == d.Parts &&
		c.Diameter == d.Diameter && near(c.Width, d.Width) && near(c.Length, d.Length)
}

// Size is how wide a strip lies across its bias and how long along it, from point
// to point; nought for a circle.
func (p Placed) Size() (width, length Length) {
	sin, cos := math.Sincos(p.Turn.Radians())
	return p.extent(-sin, cos), p.extent(cos, sin)
}

// extent is how far the outline reaches in a direction.
func (p Placed) extent(x, y float64) Length {
	if len(p.Outline) == 0 {
		return 0
	}
	least, most := math.Inf(1), math.Inf(-1)
	for _, c := range p.Outline {
		at := float64(c[0])*x + float64(c[1])*y
		least, most = min(least, at), max(most, at)
	}
	return Length(most - least)
}

// TurnedLayers tells of each base circle, in the order in which they are laid on
// each other, whether it is turned by 45 degrees, the straight thread in front
// instead of the bias.
func (l Lay) TurnedLayers() []bool {
	var turned []bool
	for _, p := range l.InOrder() {
		if p.Kind == BasePiece {
			turned = append(turned, math.Abs(math.Sin(2*p.Turn.Radians())) < 0.5)
		}
	}
	return turned
}

// Named is what the bench calls a piece of the kind.
func (k PieceKind) Named() string {
	switch k {
	case StripPiece:
		return "Brim strip"
	case LipPiece:
		return "Lip strip"
	case BindingPiece:
		return "Binding"
	case BasePiece:
		return "Base circle"
	case TrimmingPiece:
		return "Trimming"
	}
	return string(k)
}
