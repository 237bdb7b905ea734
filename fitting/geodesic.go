package fitting

import "math"

// surface is an ellipsoid made ready for tracing geodesics on it.
type surface struct {
	Head
	wx, wy, wz float64 // inverse squares of the semi-axes
	bend       float64 // least radius of curvature, mm
}

func newSurface(h Head) surface {
	least, most := min(h.A, h.B, h.C), max(h.A, h.B, h.C)
	return surface{h, 1 / square(h.A), 1 / square(h.B), 1 / square(h.C), square(least) / most.Millimetres()}
}

// grade is how finely a geodesic is traced.
type grade struct {
	columns int     // of extrapolation, at most mostColumns
	step    float64 // over the least radius of curvature
}

const mostColumns = 6

// Of the pairs tried, rough lands within a millimetre at the least cost, and
// fine is right to 2e-8 mm on any head: TestFineGradeIsFineEnough.
func rough() grade { return grade{4, 1.2} }
func fine() grade  { return grade{mostColumns, 0.6} }

// state is a geodesic at one point, with its Jacobi field: how far, per radian,
// a neighbour that left the start at another azimuth lies aside. Newton's method
// aims with it, and where it falls back to zero the geodesic stops being a
// shortest path.
type state struct {
	at    Vec // on the surface
	along Vec // unit tangent
	aside float64
	turn  float64 // derivative of aside by length
}

// plus returns s + k d.
func (s state) plus(k float64, d state) state {
	return state{s.at.Plus(d.at.Times(k)), s.along.Plus(d.along.Times(k)), s.aside + k*d.aside, s.turn + k*d.turn}
}

// slope is the derivative of a state by length. The acceleration points along
// the surface's normal, not to the centre of the head, and aside” = -K aside
// with the Gaussian curvature K.
func (e surface) slope(s state) state {
	g := Vec{e.wx * s.at.X, e.wy * s.at.Y, e.wz * s.at.Z}
	gg := g.Dot(g)
	bend := (e.wx*s.along.X*s.along.X + e.wy*s.along.Y*s.along.Y + e.wz*s.along.Z*s.along.Z) / gg
	return state{s.along, g.Times(-bend), s.turn, -e.wx * e.wy * e.wz / (gg * gg) * s.aside}
}

// advance moves a state on by length l: the modified midpoint rule with 2, 4,
// 6, ... steps, extrapolated (Gragg, Bulirsch and Stoer).
func (e surface) advance(s state, l float64, columns int) state {
	first := e.slope(s)
	var row [mostColumns]state // row[j]: extrapolated from step counts 2(j+1) to the newest
	for i := range columns {
		n := 2 * (i + 1)
		row[i] = e.midpoint(s, first, l, n)
		for j := i - 1; j >= 0; j-- {
			ratio := float64(n) / float64(2*(j+1))
			row[j] = row[j+1].plus(1/(ratio*ratio-1), row[j+1].plus(-1, row[j]))
		}
	}
	return row[0]
}

// midpoint is written out in numbers, not vectors: nearly all the time of a fit
// is spent in this loop.
func (e surface) midpoint(s, first state, l float64, n int) state {
	h := l / float64(n)
	det := e.wx * e.wy * e.wz
	before, now := s, s.plus(h, first)
	for i := range n {
		k := 2 * h
		if i == n-1 { // the last step is half as long, and the end is the mean of two estimates
			k = h
		}
		gx, gy, gz := e.wx*now.at.X, e.wy*now.at.Y, e.wz*now.at.Z
		tx, ty, tz := now.along.X, now.along.Y, now.along.Z
		inverse := 1 / (gx*gx + gy*gy + gz*gz)
		bend := -k * inverse * (e.wx*tx*tx + e.wy*ty*ty + e.wz*tz*tz)
		after := state{
			Vec{before.at.X + k*tx, before.at.Y + k*ty, before.at.Z + k*tz},
			Vec{before.along.X + bend*gx, before.along.Y + bend*gy, before.along.Z + bend*gz},
			before.aside + k*now.turn,
			before.turn - k*det*inverse*inverse*now.aside,
		}
		before, now = now, after
	}
	return state{}.plus(0.5, now.plus(1, before))
}

// path is a traced geodesic: its states at even steps of length from start to
// end.
type path struct {
	length float64
	nodes  []state
}

func (p path) end() state { return p.nodes[len(p.nodes)-1] }

// mirror turns the path into its mirror image on the other side of the head.
func (p path) mirror() {
	for i, s := range p.nodes {
		p.nodes[i] = state{s.at.mirrored(), s.along.mirrored(), s.aside, s.turn}
	}
}

// shortest says whether no neighbour meets the path again before its end.
func (p path) shortest() bool {
	for _, s := range p.nodes[1:] {
		if !(s.aside > 0) {
			return false
		}
	}
	return true
}

// aim is how a geodesic leaves its start.
type aim struct {
	along  Vec // unit tangent
	length float64
}

// trace follows the geodesic that leaves p as aimed.

func (e surface) trace(p Vec, a aim, g grade) path {
	steps := max(1, int(math.Ceil(a.length/(g.step*e.bend))))
	nodes := make([]state, 1, steps+1)
	nodes[0] = state{at: p, along: a.along, turn: 1}
	for i := range steps {
		nodes = append(nodes, e.advance(nodes[i], a.length/float64(steps), g.columns))
	}
	return path{a.length, nodes}
}
