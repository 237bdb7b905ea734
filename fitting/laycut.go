package fitting

import (
	"cmp"
	"math"
	"slices"
)

// cutting is a list of pieces being laid. What it tries depends on the pieces
// alone and not on the cloth, so that what fits on one cloth fits on a larger one.
type cutting struct {
	levels []*level // each with more joins than the one before
	bed    bed
}

// level is all pieces cut in parts, and how they lie on a bed of each of
// bedWidths.
type level struct {
	parts []part  // in the order in which they are laid
	least float64 // width that they take, mm
	beds  [len(bedWidths)]struct {
		length float64
		spots  []spot // nil where it was not tried yet
	}
}

// laid is one lay: a level on a bed of one width.
type laid struct {
	*level
	bed    int  // index of its width in bedWidths
	turned bool // the bed's width runs along the cloth
}

// edgeSlack in mm forgives rounding where a part just reaches across.
const edgeSlack = 1e-6

// on finds a lay on the cloth, with as few joins as may be, its bed across the
// cloth's shorter side if that will do; or else the one that takes the least length
// of the cloth's width, and false.
func (c *cutting) on(size ClothSize) (laid, bool) {
	across := size.Width.Millimetres() + edgeSlack
	short, long := across, size.Length.Millimetres()+edgeSlack
	if short > long {
		short, long = long, short
	}
	for _, l := range c.levels {
		for i := len(bedWidths) - 1; i >= 0; i-- {
			if l.width(i) <= short && c.length(l, i) <= long {
				return laid{l, i, short != across}, true
			}
		}
		for i := range bedWidths {
			if l.width(i) > short && l.width(i) <= long && c.length(l, i) <= short {
				return laid{l, i, short == across}, true
			}
		}
	}
	return c.least(across), false
}

// least is the lay that takes the least length of cloth so wide; if none does, the
// one that takes the least width.
func (c *cutting) least(across float64) laid {
	var best laid
	least, narrowest := math.Inf(1), math.Inf(1)
	for _, l := range c.levels {
		for i := range bedWidths {
			for _, turned := range [...]bool{false, true} {
				wide, long := l.width(i), c.length(l, i)
				if turned {
					wide, long = long, wide
				}
				if wide <= across {
					wide = 0 // all the same then
				}
				if wide < narrowest || wide == narrowest && long < least {
					best, narrowest, least = laid{l, i, turned}, wide, long
				}
			}
		}
	}
	return best
}

func (l *level) width(i int) float64 { return l.least * bedWidths[i] }

// length of the bed that the level takes at the width.
func (c *cutting) length(l *level, i int) float64 {
	on := &l.beds[i]
	if on.spots == nil {
		on.spots = make([]spot, len(l.parts))
		c.bed.width = l.width(i)
		on.length = c.bed.lay(l.parts, on.spots)
	}
	return on.length
}

// levelsOf cuts the pieces with more and more joins, until that makes nothing
// narrower.
func levelsOf(pieces []Piece) []*level {
	var levels []*level
	widest := widestStrip(pieces)
	for n := 1; n <= mostParts; n++ {
		parts := widest.inParts(n)
		if parts == nil {
			break
		}
		l := levelOf(pieces, parts[0].reach.across())
		if n > 1 && !(l.least < levels[n-2].least) {
			break
		}
		levels = append(levels, l)
	}
	return levels
}

// widestStrip is the one that reaches farthest across the cloth; no piece at all
// when there are circles only.
func widestStrip(pieces []Piece) Piece {
	var widest Piece
	for _, p := range pieces {
		if p.Length > 0 && p.across() > widest.across() {
			widest = p
		}
	}
	return widest
}

// levelOf cuts each strip in as few parts as reach no farther across than most.
func levelOf(pieces []Piece, most float64) *level {
	l := &level{parts: make([]part, 0, 2*len(pieces))}
	for i, p := range pieces {
		parts := p.fewest(most + edgeSlack)
		for _, q := range slices.Backward(parts) { // the last part first: so they were found to lie closer
			q.piece, q.across = i, parts[0].reach.across()
			l.parts = append(l.parts, q)
			l.least = max(l.least, q.across)
		}
	}
	l.sort()
	return l
}

// sort puts the parts that take most of the width first.
func (l *level) sort() {
	slices.SortStableFunc(l.parts, func(a, b part) int { return cmp.Compare(b.across, a.across) })
}

// fewest parts that reach no farther across than most, or else the narrowest.
func (p Piece) fewest(most float64) []part {
	parts := p.inParts(1)
	for n := 2; n <= mostParts && p.Length > 0 && parts[0].reach.across() > most; n++ {
		more := p.inParts(n)
		if more == nil {
			break
		}
		parts = more
	}
	return parts
}

// across is how much of the cloth's width a whole strip takes.
func (p Piece) across() float64 {
	if p.Length == 0 {
		return 0
	}
	return p.inParts(1)[0].reach.across()
}

// placed is the lay as told: each part's outline on the cloth.
func (l laid) placed(pieces []Piece) []Placed {
	told := make([]Placed, len(l.parts))
	for i, q := range l.parts {
		told[i] = q.placed(pieces[q.piece], l.beds[l.bed].spots[i])
		if l.turned {
			told[i] = told[i].swapped()
		}
	}
	return told
}

func (q part) placed(p Piece, s spot) Placed {
	t := Placed{Kind: p.Kind, Piece: q.piece, Part: q.number, Parts: q.of, Turn: 45, X: Length(s.x), Y: Length(s.y)}
	if q.corners == nil {
		t.Turn, t.Diameter = p.Turn, p.Width
		return t
	}
	t.X, t.Y = 0, 0
	t.Outline = make([][2]Length, len(q.corners))
	for i, c := range q.corners {
		at := [2]Length{Length(c[0] + s.x), Length(c[1] + s.y)}
		if s.mirrored {
			at[0] = Length(s.x - c[0])
		}
		t.Outline[i] = at
		t.X += at[0] / Length(len(q.corners))
		t.Y += at[1] / Length(len(q.corners))
	}
	if s.mirrored {
		t.Turn = 135
		slices.Reverse(t.Outline)
	}
	return t
}

// swapped is the part with across and along the cloth exchanged, as in a mirror
// on the bias.
func (p Placed) swapped() Placed {
	p.X, p.Y = p.Y, p.X
	p.Turn = Angle(math.Mod(270-p.Turn.Degrees(), 180))
	for i, c := range p.Outline {
		p.Outline[i] = [2]Length{c[1], c[0]}
	}
	slices.Reverse(p.Outline)
	return p
}

// size is the cloth that the lay takes.
func (l laid) size() ClothSize {
	s := ClothSize{Length(l.level.width(l.bed)), Length(l.beds[l.bed].length)}
	if l.turned {
		s.Width, s.Length = s.Length, s.Width
	}
	return s
}
