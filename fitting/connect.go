package fitting

import "math"

const (
	near       = 1.0        // mm: an end so close is aimed at finely from there
	missed     = 0.01       // mm: what it leaves in the length is miss³/length²
	mostAims   = 12         // of Newton's method for one end
	widestTurn = 0.3        // rad, of one correction
	farthest   = 5.0        // length over the longest semi-axis: nothing on a head is so far apart
	finestLead = 1.0 / 2048 // where such a part of the way has failed there is no geodesic of this kind
)

// connect finds the shortest geodesic from p to q on the surface, to 1e-7 mm. Two
// points that have several shortest paths may get any of them. It reports false
// when it finds none, which has not been seen for points less than 150 degrees
// apart. The search begins in the plane through both and the centre; where nothing
// is found there, since the shortest path bends aside, on both sides of it.
func (e surface) connect(p, q Vec) (path, bool) {
	if p == q {
		return path{0, []state{{at: p, turn: 1}}}, true
	}
	ahead := e.newPlaneArc(p, q).aim()
	if way, ok := e.hit(p, q, ahead); ok {
		return way, true
	}
	return e.shortest(p, q, ahead, []float64{0.2, -0.2, 0.4, -0.4, 0.8, -0.8})
}

// shortest returns the shortest of the geodesics from p to q that are found from
// the aim turned by each of the angles.
func (e surface) shortest(p, q Vec, a aim, turns []float64) (best path, found bool) {
	for _, turn := range turns {
		if way, ok := e.hit(p, q, e.turned(p, a, turn)); ok && (!found || way.length < best.length) {
			best, found = way, true
		}
	}
	return best, found
}

// turned is the aim from p turned to the left, seen from outside.
func (e surface) turned(p Vec, a aim, angle float64) aim {
	sin, cos := math.Sincos(angle)
	return aim{a.along.Times(cos).Plus(e.Normal(p).Cross(a.along).Times(sin)), a.length}
}

// hit finds the geodesic from p to q that is near the aim. It reports false when
// Newton's method does not settle or neighbours meet on the way.
func (e surface) hit(p, q Vec, a aim) (path, bool) {
	a, ok := e.approach(p, q, a)
	if !ok {
		return path{}, false
	}
	for range mostAims {
		way := e.trace(p, a, fine())
		m := e.miss(way, q)
		if m.distance() < missed {
			way.length = m.length()
			return way, way.shortest()
		}
		if a, ok = e.correct(p, a, m); !ok {
			break
		}
	}
	return path{}, false
}

// approach corrects an aim from p until its geodesic ends near q.
func (e surface) approach(p, q Vec, a aim) (aim, bool) {
	for range mostAims {
		m := e.miss(e.trace(p, a, rough()), q)
		var ok bool
		if a, ok = e.correct(p, a, m); !ok {
			break
		}
		if m.distance() < near {
			return a, true
		}
	}
	return aim{}, false
}

// miss is how a path falls short of a point: along its end and across it.
type miss struct {
	path
	onward, across float64
}

func (e surface) miss(way path, q Vec) miss {
	end := way.end()
	short := q.Minus(end.at)
	return miss{way, short.Dot(end.along), short.Dot(e.Normal(end.at).Cross(end.along))}
}

func (m miss) distance() float64 { return math.Hypot(m.onward, m.across) }

// length is that of the geodesic to the point missed, to second order.
func (m miss) length() float64 {
	end := m.end()
	return m.path.length + m.onward + m.across*m.across*end.turn/(2*end.aside)
}

// correct is one step of Newton's method. It reports false where neighbours have
// met, or the geodesic has become longer than any on a head.
func (e surface) correct(p Vec, a aim, m miss) (aim, bool) {
	aside := m.end().aside
	a = e.turned(p, a, max(-widestTurn, min(m.across/aside, widestTurn)))
	a.length += max(-a.length/2, m.onward)
	return a, aside > 0 && a.length < farthest*max(e.A, e.B, e.C).Millimetres()
}

// lead follows the geodesic from p that the path found while its end moves from
// end(0), where the path ends, to end(1). It reports false when the geodesic
// ceases to exist on the way.
func (e surface) lead(way path, end func(part float64) Vec) (path, bool) {
	p := way.nodes[0].at
	a := aim{way.nodes[0].along, way.length}
	for done, step := 0.0, 1.0; step >= finestLead; {
		next := min(1, done+step)
		if next == 1 {
			if way, ok := e.hit(p, end(1), a); ok {
				return way, true
			}
		} else if b, ok := e.approach(p, end(next), a); ok {
			done, step, a = next, min(2*step, 1-next), b
			continue
		}
		step /= 2
	}
	return path{}, false
}

// planeArc is the arc of the surface in the plane through two of its points and
// the centre: a great circle of the sphere that the axes are scaled from. It is
// not a geodesic, but starts near one.
type planeArc struct {
	Head
	from, across Vec // on the unit sphere, at right angles
	angle        float64
}

func (e surface) newPlaneArc(p, q Vec) planeArc {
	onSphere := func(v Vec) Vec {
		return Vec{v.X / e.A.Millimetres(), v.Y / e.B.Millimetres(), v.Z / e.C.Millimetres()}
	}
	u, w := onSphere(p), onSphere(q)
	across := w.Minus(u.Times(w.Dot(u)))
	return planeArc{e.Head, u, across.unit(), math.Atan2(across.Norm(), w.Dot(u))}
}

func (c planeArc) scaled(v Vec) Vec {
	return Vec{v.X * c.A.Millimetres(), v.Y * c.B.Millimetres(), v.Z * c.C.Millimetres()}
}

// at returns the point a part of the way along.
func (c planeArc) at(part float64) Vec {
	sin, cos := math.Sincos(part * c.angle)
	return c.scaled(c.from.Times(cos).Plus(c.across.Times(sin)))
}

// aim returns how the arc leaves its start, and its length by Simpson's rule.
func (c planeArc) aim() aim {
	speed := func(x float64) float64 {
		sin, cos := math.Sincos(x * c.angle)
		return c.scaled(c.across.Times(cos).Minus(c.from.Times(sin))).Norm()
	}
	mean := (speed(0) + 4*speed(0.25) + 2*speed(0.5) + 4*speed(0.75) + speed(1)) / 12
	return aim{c.scaled(c.across).unit(), c.angle * mean}
}
