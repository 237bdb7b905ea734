package fitting

import "math"

const (
	near       = 1.0        // mm: an aim so close is traced finely from there
	missed     = 0.01       // mm: what it leaves in the length is miss³/length²
	mostAims   = 12         // of Newton's method for one end
	widestTurn = 0.3        // rad, of one correction
	farthest   = 5.0        // length over the longest semi-axis: nothing on a head is so far apart
	firstLead  = 0.25       // part of the way from an end that was hit to one that was not
	finestLead = 1.0 / 2048 // where such a step has failed too, there is no geodesic of this kind
)

// connect finds the shortest geodesic from p to q on the surface, to 1e-7 mm. It
// looks near the plane through p, q and the centre; two points so far apart that
// several shortest paths may join them can give any one of these. It reports
// false when it finds none.
func (e surface) connect(p, q Vec) (path, bool) {
	if p == q {
		return path{0, []state{{at: p, turn: 1}}}, true
	}
	arc := e.newPlaneArc(p, q)
	if way, _, ok := e.hit(p, q, arc.aim(1)); ok {
		return way, true
	}
	return e.lead(p, arc.aim(0.3), func(part float64) Vec { return arc.at(0.3 + 0.7*part) })
}

// hit corrects an aim by Newton's method until the geodesic from p ends at q. It
// reports false when that does not settle or neighbours meet on the way.
func (e surface) hit(p, q Vec, a aim) (path, aim, bool) {
	normal, g := e.Normal(p), rough()
	for range mostAims {
		way := e.trace(p, a, g)
		end := way.end()
		miss := q.Minus(end.at)
		onward, aside := miss.Dot(end.along), miss.Dot(e.Normal(end.at).Cross(end.along))
		off := math.Hypot(onward, aside)
		if off < missed && g == fine() {
			way.length += onward + aside*aside*end.turn/(2*end.aside)
			return way, a, way.shortest()
		}
		if !(end.aside > 0) {
			return path{}, a, false
		}
		turn := max(-widestTurn, min(aside/end.aside, widestTurn))
		sin, cos := math.Sincos(turn)
		a = aim{a.along.Times(cos).Plus(normal.Cross(a.along).Times(sin)), a.length + max(-a.length/2, onward)}
		if !(a.length < farthest*max(e.A, e.B, e.C).Millimetres()) {
			return path{}, a, false
		}
		if off < near {
			g = fine()
		}
	}
	return path{}, a, false
}

// lead follows a geodesic while its end moves from where a hits it, end(0), to
// end(1). It reports false when the geodesic ceases to exist on the way.
func (e surface) lead(p Vec, a aim, end func(part float64) Vec) (path, bool) {
	_, a, ok := e.hit(p, end(0), a)
	if !ok {
		return path{}, false
	}
	for done, step := 0.0, firstLead; ; {
		next := min(1, done+step)
		way, b, ok := e.hit(p, end(next), a)
		switch {
		case ok && next == 1:
			return way, true
		case ok:
			done, step, a = next, 2*step, b
		default:
			step /= 2
		}
		if step < finestLead {
			return path{}, false
		}
	}
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

// aim returns how the arc leaves its start, and its length over a part of the
// way by Simpson's rule.
func (c planeArc) aim(part float64) aim {
	speed := func(x float64) float64 {
		sin, cos := math.Sincos(x * part * c.angle)
		return c.scaled(c.across.Times(cos).Minus(c.from.Times(sin))).Norm()
	}
	mean := (speed(0) + 4*speed(0.25) + 2*speed(0.5) + 4*speed(0.75) + speed(1)) / 12
	return aim{c.scaled(c.across).unit(), part * c.angle * mean}
}
