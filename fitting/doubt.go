package fitting

import "math"

// PlusMinus is how far the figures of the same names may be off: two standard
// deviations, for the doubt of the head. The elastic's also count how well the
// hat is placed, 3 degrees either way; the others say where and how it is to be
// made and set. To first order.
type PlusMinus struct {
	A             Length `json:"a_mm"`
	B             Length `json:"b_mm"`
	C             Length `json:"c_mm"`
	CutDiameter   Length `json:"cut_diameter_mm"`
	Sag           Length `json:"sag_mm"`
	CrownToCentre Length `json:"crown_to_centre_mm"`
	TapeLineToRim Length `json:"tape_line_to_rim_mm"`
	LeftPath      Length `json:"left_path_mm"`
	RightPath     Length `json:"right_path_mm"`
	Worn          Length `json:"worn_mm"`
}

// TapeDoubt is the standard deviation of one tape's error by who took it and
// how often; [Doubts] may make it greater for some.
func (m Measures) TapeDoubt() Length {
	bias, repeat := clientBias, clientRepeat
	if m.TakenBy == Maker {
		bias, repeat = makerBias, makerRepeat
	}
	readings := float64(max(1, m.Readings))
	return Length(math.Sqrt(square(bias) + square(given(m.Repeat, repeat))/readings))
}

// worn is everything that the hat's lengths follow from.
type worn struct {
	head              Head // of the tapes
	base, hair        Length
	forward, sideways Angle
	anchors           Anchors
}

func (w worn) seat() Seat { return seatAt(w.head, w.base, w.forward, w.sideways) }

// ends are the surface under the hair and the two anchors on it.
type ends struct {
	under       Head
	left, right Vec
}

func (w worn) ends() ends {
	s := w.seat()
	under := w.head.Under(w.hair)
	return ends{under, under.OnSurface(s.Anchor(w.anchors.Left, Left)), under.OnSurface(s.Anchor(w.anchors.Right, Right))}
}

// smallChange is what a central difference is taken over, in standard
// deviations.
const smallChange = 1e-3

// doubtful is one independent thing that the hat's lengths are in doubt by: the
// hat with a little less and a little more of it.
type doubtful struct{ less, more worn }

func doubtfulOf(w worn, change func(*worn, float64)) doubtful {
	d := doubtful{w, w}
	change(&d.less, -smallChange)
	change(&d.more, +smallChange)
	return d
}

// slope is a figure's change over one standard deviation.
func (d doubtful) slope(of func(worn) Length) Length {
	return (of(d.more) - of(d.less)) / (2 * smallChange)
}

// plusMinus carries the head's doubt to the hat. crown is the way from the crown
// to the base's centre.
func (e Elastic) plusMinus(w worn, head likeliest, crown Strand) PlusMinus {
	var sum PlusMinus // of squares
	add := func(to *Length, slope Length) { *to += slope * slope }
	elastic := func(d doubtful) {
		from, to := d.less.ends(), d.more.ends()
		stretch := e.Under.stretch(from.under, to.under)
		left := Length(e.Left.growth(stretch, to.left.Minus(from.left)) / (2 * smallChange))
		right := Length(e.Right.growth(stretch, to.right.Minus(from.right)) / (2 * smallChange))
		add(&sum.LeftPath, left)
		add(&sum.RightPath, right)
		add(&sum.Worn, left+right)
	}
	for _, move := range head.moves {
		d := doubtfulOf(w, func(w *worn, k float64) { w.head = w.head.moved(move, k) })
		elastic(d)
		add(&sum.A, move.A)
		add(&sum.B, move.B)
		add(&sum.C, move.C)
		add(&sum.CutDiameter, d.slope(func(w worn) Length { return w.seat().CutDiameter() }))
		add(&sum.Sag, d.slope(func(w worn) Length { return Length(w.seat().Sag) }))
		add(&sum.TapeLineToRim, d.slope(func(w worn) Length { return w.head.tapeLineToRim(w.seat()) }))
		add(&sum.CrownToCentre, Length(crown.growth(w.head.stretch(d.less.head, d.more.head),
			d.more.seat().Centre.Minus(d.less.seat().Centre))/(2*smallChange)))
	}
	elastic(doubtfulOf(w, func(w *worn, k float64) { w.forward += placingDoubt * Angle(k) }))
	elastic(doubtfulOf(w, func(w *worn, k float64) { w.sideways += placingDoubt * Angle(k) }))
	return sum.twiceRoot()
}

// twiceRoot makes two standard deviations of their squares.
func (p PlusMinus) twiceRoot() PlusMinus {
	for _, l := range []*Length{&p.A, &p.B, &p.C, &p.CutDiameter, &p.Sag, &p.CrownToCentre, &p.TapeLineToRim, &p.LeftPath, &p.RightPath, &p.Worn} {
		*l = 2 * Length(math.Sqrt(float64(*l)))
	}
	return p
}

// moved is the head with k of a change.
func (h Head) moved(by Head, k float64) Head {
	return Head{h.A + by.A*Length(k), h.B + by.B*Length(k), h.C + by.C*Length(k)}
}

// stretch is by what part each axis grows from one head to another, both close to h.
func (h Head) stretch(from, to Head) Vec {
	return Vec{float64((to.A - from.A) / h.A), float64((to.B - from.B) / h.B), float64((to.C - from.C) / h.C)}
}

// growth is how much longer the strand becomes when its surface is stretched and
// its end moved by little, without another geodesic: stretching the head along its
// axes carries the geodesic to a curve whose length differs from the new
// geodesic's in second order only, and the end's own movement counts along the
// path. A strand without length grows by whatever its end moves.
func (s Strand) growth(stretch, moved Vec) float64 {
	carried := Vec{stretch.X * s.Anchor.X, stretch.Y * s.Anchor.Y, stretch.Z * s.Anchor.Z}
	if s.Length == 0 {
		return moved.Minus(carried).Norm()
	}
	sum := s.Pull().Dot(carried.Minus(moved))
	for _, leg := range s.legs {
		sum += stretch.Dot(s.on.squares(leg))
	}
	return sum
}

// squares integrates the squares of the tangent's components along the path, by
// the trapezoidal rule with its end correction.
func (e surface) squares(p path) Vec {
	step := p.length / float64(len(p.nodes)-1)
	var sum Vec
	for i, s := range p.nodes {
		weight := step
		if i == 0 || i == len(p.nodes)-1 {
			weight = step / 2
		}
		sum = sum.Plus(Vec{s.along.X * s.along.X, s.along.Y * s.along.Y, s.along.Z * s.along.Z}.Times(weight))
	}
	slope := func(s state) Vec {
		bend := e.slope(s).along
		return Vec{2 * s.along.X * bend.X, 2 * s.along.Y * bend.Y, 2 * s.along.Z * bend.Z}
	}
	return sum.Plus(slope(p.nodes[0]).Minus(slope(p.end())).Times(step * step / 12))
}
