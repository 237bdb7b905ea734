package fitting

import "math"

// NewView finds the lowest elevation at which either eye meets the brim's
// slanting surface, for five azimuths, each within viewWindow. Figures are
// exact: the outline of the surface as an eye sees it is made of its two circles
// and of the straight lines along which the eye looks past its slant.
func NewView(h Head, b Brim) View {
	eyes := h.Eyes()
	outlines := [2]outline{newOutline(eyes[0], b), newOutline(eyes[1], b)}
	if b.below(eyes[0]) || b.below(eyes[1]) {
		return View{-90, -90, -90, -90, -90}
	}
	at := func(azimuth Angle) Angle {
		lowest := math.Inf(1)
		for _, o := range outlines {
			lowest = min(lowest, o.lowest(azimuth))
		}
		return degrees(math.Atan(lowest)) // 90 where nothing was met
	}
	return View{Ahead: at(0), Left30: at(30), Right30: at(-30), Left60: at(60), Right60: at(-60)}
}

// outline is the brim as one eye sees it.
type outline struct {
	eye     Vec
	circles [2]Circle
	lines   []line
	dips    []Vec // from the eye: where the elevation is least along a circle or a line
}

// line runs from an inner to an outer point of the brim.
type line struct{ from, to Vec }

func newOutline(eye Vec, b Brim) outline {
	o := outline{eye: eye, circles: [2]Circle{b.Inner, b.Outer}, lines: b.contour(eye)}
	for _, c := range o.circles {
		o.dips = append(o.dips, c.dips(eye)...)
	}
	for _, l := range o.lines {
		if p, ok := l.dip(eye); ok {
			o.dips = append(o.dips, p)
		}
	}
	return o
}

// below says whether the slanting surface lies straight below the eye, so that
// it is met at -90 in every azimuth. No hat is worn so, but a search may try one.
func (b Brim) below(eye Vec) bool {
	sin, cos := math.Sincos(b.Slope.Radians())
	e, n := eye.Minus(b.Inner.Centre), b.Normal
	// a point of the whole cone has (rise cos + R sin)² = sin² out², by rise along
	// the normal and distance out from the axis; s below the eye that is a square
	rise := e.Dot(n)
	k := cos*rise + sin*b.Inner.Radius
	p := sin*sin*(1-n.Z*n.Z) - cos*cos*n.Z*n.Z
	q := sin*sin*(rise*n.Z-e.Z) + cos*n.Z*k // half
	r := sin*sin*(e.Dot(e)-rise*rise) - k*k
	sum := -q - math.Copysign(math.Sqrt(max(q*q-p*r, 0)), q) // of like signs: no digits lost
	for _, s := range [2]float64{sum / p, r / sum} {
		at := e.Minus(Vec{0, 0, s})
		rise := at.Dot(n)
		out := at.Minus(n.Times(rise)).Norm()
		along := rise*sin + (out-b.Inner.Radius)*cos
		off := rise*cos - (out-b.Inner.Radius)*sin
		if s > 0 && math.Abs(off) < 1e-6 && along >= 0 && along <= b.Width.Millimetres() {
			return true
		}
	}
	return false
}

// contour returns the lines of the slanting surface whose tangent plane holds
// the eye: none, or two.
func (b Brim) contour(eye Vec) []line {
	sin, cos := math.Sincos(b.Slope.Radians())
	e := eye.Minus(b.Inner.Centre)
	// the surface's normal at t is cos·Normal - sin·(direction of t); it must be at
	// right angles to the way from the circle's point at t to the eye
	u, v := sin*e.Dot(b.Inner.Forward), sin*e.Dot(b.Inner.Left)
	d, ok := twoTurns(u, v, cos*e.Dot(b.Normal)+sin*b.Inner.Radius)
	if !ok {
		return nil
	}
	return []line{{b.Inner.at(d[0]), b.Outer.at(d[0])}, {b.Inner.at(d[1]), b.Outer.at(d[1])}}
}

// lowest is the least tangent of elevation of the outline within the window
// about the azimuth, infinite when there is none: it lies at an edge of the
// window or at a dip inside.
func (o outline) lowest(azimuth Angle) float64 {
	lowest := math.Inf(1)
	o.meetWithin(azimuth, func(p Vec) { lowest = min(lowest, elevation(p)) })
	return lowest
}

// meetWithin calls met with the points of the outline, seen from its eye, among
// which the lowest within the window about the azimuth is.
func (o outline) meetWithin(azimuth Angle, met func(Vec)) {
	edges := [2]Vec{heading(azimuth + viewWindow), heading(azimuth - viewWindow)}
	for _, ahead := range edges {
		o.meetAlong(ahead, met)
	}
	for _, p := range o.dips {
		if edges[0].Cross(p).Z <= 0 && edges[1].Cross(p).Z >= 0 && p.Dot(edges[0]) > 0 {
			met(p)
		}
	}
}

// meetAlong does so with those straight ahead in a level direction.
func (o *outline) meetAlong(ahead Vec, met func(Vec)) {
	for _, c := range o.circles {
		for _, x := range c.crossings(o.eye, ahead) {
			if x.met {
				met(x.seen)
			}
		}
	}
	for _, l := range o.lines {
		l.meet(o.eye, ahead, met)
	}
}

// heading is the level direction of an azimuth.
func heading(azimuth Angle) Vec {
	sin, cos := math.Sincos(azimuth.Radians())
	return Vec{cos, sin, 0}
}

// elevation is the tangent of the elevation of p, seen from the origin.
func elevation(p Vec) float64 { return p.Z / math.Hypot(p.X, p.Y) }

// crossing is a place of a circle, as an eye sees it.
type crossing struct {
	at   turn
	seen Vec
	met  bool
}

// crossings are where the circle, seen from the eye, lies in the upright half
// plane ahead of it.
func (c Circle) crossings(eye, ahead Vec) (x [2]crossing) {
	across := Vec{-ahead.Y, ahead.X, 0}
	d, ok := twoTurns(c.Radius*c.Forward.Dot(across), c.Radius*c.Left.Dot(across), eye.Minus(c.Centre).Dot(across))
	for i := range d {
		p := c.at(d[i]).Minus(eye)
		x[i] = crossing{d[i], p, ok && p.Dot(ahead) > 0}
	}
	return x
}

// meet calls met with the point of the line, seen from the eye, that lies in the
// upright half plane ahead of it, if there is one.
func (l line) meet(eye, ahead Vec, met func(Vec)) {
	across := Vec{-ahead.Y, ahead.X, 0}
	from, along := l.from.Minus(eye), l.to.Minus(l.from)
	part := -from.Dot(across) / along.Dot(across)
	if p := from.Plus(along.Times(part)); part >= 0 && part <= 1 && p.Dot(ahead) > 0 {
		met(p)
	}
}

// dip is the inner point of the line that the eye sees lowest, if there is one.
func (l line) dip(eye Vec) (Vec, bool) {
	from, along := l.from.Minus(eye), l.to.Minus(l.from)
	// the elevation z/ρ is level where z'ρ² = z(x x' + y y'); along a line that is
	// linear in the part of the way, the squares cancelling
	at := func(p Vec) float64 {
		return along.Z*(p.X*p.X+p.Y*p.Y) - p.Z*(p.X*along.X+p.Y*along.Y)
	}
	start, stop := at(from), at(l.to.Minus(eye))
	if !(start < 0 && stop > 0) {
		return Vec{}, false
	}
	return from.Plus(along.Times(start / (start - stop))), true
}

// dipSamples of a circle lie so close that a low point between two of them which is
// missed lies less than 1e-4, as a tangent, below its surroundings.
const dipSamples = 144

// dips returns the points of the circle, seen from the eye, whose elevation is
// least among their neighbours.
func (c Circle) dips(eye Vec) []Vec {
	r := c.seenFrom(eye)
	var dips []Vec
	was := 0.0
	_, first := r.at(was)
	before := first
	for i := 1; i <= dipSamples; i++ {
		t := 2 * math.Pi * float64(i) / dipSamples
		_, now := r.at(t)
		if i == dipSamples {
			now = first // of the same place, but for rounding
		}
		if before < 0 && now >= 0 {
			dips = append(dips, r.dip(was, t, now-before))
		}
		was, before = t, now
	}
	return dips
}

// ring is a circle as an eye sees it: its middle, and its first two radii.
type ring struct{ centre, forward, left Vec }

func (c Circle) seenFrom(eye Vec) ring {
	return ring{c.Centre.Minus(eye), c.Forward.Times(c.Radius), c.Left.Times(c.Radius)}
}

// at is the ring's point at t radians, and how its elevation rises there, but for
// a factor that is never negative.
func (r ring) at(t float64) (p Vec, rise float64) { return r.towards(turned(t)) }

func (r ring) towards(to turn) (p Vec, rise float64) {
	p = r.centre.Plus(r.forward.Times(to.cos)).Plus(r.left.Times(to.sin))
	d := r.left.Times(to.cos).Minus(r.forward.Times(to.sin))
	return p, d.Z*(p.X*p.X+p.Y*p.Y) - p.Z*(p.X*d.X+p.Y*d.Y)
}

// dip is the point between two t where the rise, which is of about the given
// scale, changes its sign.
func (r ring) dip(from, to, scale float64) Vec {
	p, _ := r.at(rising(func(t float64) float64 { _, rise := r.at(t); return rise / scale }, from, to))
	return p
}
