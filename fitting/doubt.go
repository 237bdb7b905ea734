package fitting

import "math"

// doubts are the standard deviations of what the elastic's length depends on.
type doubts struct {
	girth, nape       Length
	index             float64
	forward, sideways Angle
}

func (m Measures) doubts(t tapes) doubts {
	bias, repeat := clientBias, clientRepeat
	if m.TakenBy == Maker {
		bias, repeat = makerBias, makerRepeat
	}
	readings := float64(max(1, m.Readings))
	tape := Length(math.Sqrt(square(bias) + square(repeat)/readings))
	d := doubts{tape, tape, indexDeviation, placingDoubt, placingDoubt}
	if t.guessedNape {
		d.nape = napeToCrownDoubt.of(t.girth)
	}
	if t.calipers {
		d.index = 0
	}
	return d
}

// worn is everything that the worn length of the elastic follows from.
type worn struct {
	tapes             tapes
	head              Head // of the tapes
	base, hair        Length
	forward, sideways Angle
	anchors           Anchors
}

// ends are the surface under the hair and the two anchors on it.
type ends struct {
	under       Head
	left, right Vec
}

func (w worn) ends() ends {
	s := seatAt(w.head, w.base, w.forward, w.sideways)
	under := w.head.Under(w.hair)
	return ends{under, under.OnSurface(s.Anchor(w.anchors.Left, Left)), under.OnSurface(s.Anchor(w.anchors.Right, Right))}
}

// smallChange is what a central difference is taken over, in standard
// deviations.
const smallChange = 1e-3

// wornDoubt is the standard deviation of the worn length. Each change is
// followed to first order without another geodesic: stretching the head along
// its axes carries the geodesic to a curve whose length differs from the new
// geodesic's in second order only, and the anchor's own movement counts along
// the path's end.
func (e Elastic) wornDoubt(w worn, d doubts) Length {
	tape := func(girth, nape Length, index float64) func(*worn, float64) {
		return func(w *worn, k float64) {
			w.tapes.girth += girth * Length(k)
			w.tapes.nape += nape * Length(k)
			w.tapes.index += index * k
			w.head = w.tapes.head()
		}
	}
	withGirth := Length(0) // how a guessed nape tape follows the girth
	if w.tapes.guessedNape {
		withGirth = usualNapeToCrown.of(d.girth)
	}
	changes := []func(*worn, float64){
		tape(d.girth, withGirth, 0),
		tape(0, d.nape, 0),
		tape(0, 0, d.index),
		func(w *worn, k float64) { w.forward += d.forward * Angle(k) },
		func(w *worn, k float64) { w.sideways += d.sideways * Angle(k) },
	}
	sum := 0.0
	for _, change := range changes {
		more, less := w, w
		change(&more, +smallChange)
		change(&less, -smallChange)
		grown := e.growth(less.ends(), more.ends()) / (2 * smallChange)
		sum += grown * grown
	}
	return Length(math.Sqrt(sum))
}

// growth is how much longer both strands become from one setting to the other,
// both close to e.
func (e Elastic) growth(from, to ends) float64 {
	change := func(v, w, axis Length) float64 { return float64((w - v) / axis) }
	stretch := Vec{
		change(from.under.A, to.under.A, e.Under.A),
		change(from.under.B, to.under.B, e.Under.B),
		change(from.under.C, to.under.C, e.Under.C),
	}
	return e.Left.growth(stretch, to.left.Minus(from.left)) + e.Right.growth(stretch, to.right.Minus(from.right))
}

func (s Strand) growth(stretch, moved Vec) float64 {
	carried := Vec{stretch.X * s.Anchor.X, stretch.Y * s.Anchor.Y, stretch.Z * s.Anchor.Z}
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
