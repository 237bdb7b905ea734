package fitting

import (
	"math"
	"slices"
)

// silhouette is what the wind meets: the convex hull of both circles of the brim
// and the top of the base, seen along the wind.
type silhouette struct {
	area   float64 // mm²
	centre Vec     // its centroid, in the plane through the head's middle across the wind
}

// sight is a place or a direction in that plane: to the left, seen along the wind
// from behind it, and up.
type sight struct{ x, y float64 }

func (p sight) plus(q sight) sight    { return sight{p.x + q.x, p.y + q.y} }
func (p sight) minus(q sight) sight   { return sight{p.x - q.x, p.y - q.y} }
func (p sight) times(k float64) sight { return sight{k * p.x, k * p.y} }
func (p sight) dot(q sight) float64   { return p.x*q.x + p.y*q.y }
func (p sight) cross(q sight) float64 { return p.x*q.y - p.y*q.x }

// ovals are circles in parallel planes as they are seen, a point being one of
// radius zero. forward and left are one radius long as they are seen.
type ovals struct {
	forward, left sight
	centres       [3]sight
	radii         [3]float64
}

// newSilhouette looks at the hat along a level unit direction. It is right to
// rounding.
func newSilhouette(b Brim, top Vec, along Vec) silhouette {
	across := Vec{-along.Y, along.X, 0}
	see := func(p Vec) sight { return sight{p.Dot(across), p.Z} }
	o := ovals{
		see(b.Inner.Forward), see(b.Inner.Left),
		[3]sight{see(b.Inner.Centre), see(b.Outer.Centre), see(top)}, [3]float64{b.Inner.Radius, b.Outer.Radius, 0},
	}
	area, centre := o.hull()
	return silhouette{area, across.Times(centre.x).Plus(Vec{0, 0, centre.y})}
}

// hull is the area of the ovals' convex hull and its centroid. Going round by
// the direction that the hull's edge faces, one oval is outermost between two
// turns; what is left between its chord and its arc is a segment of an ellipse.
func (o *ovals) hull() (area float64, centre sight) {
	turns := o.turns()
	var sum moments
	was := o.reach(o.outermost(turns[0], turns[1]), turns[0]) // any place on the edge
	first := was
	for i := range len(turns) - 1 {
		k := o.outermost(turns[i], turns[i+1])
		from, to := o.reach(k, turns[i]), o.reach(k, turns[i+1])
		sum.triangle(was.at, from.at)
		sum.triangle(from.at, to.at)
		o.segment(&sum, k, from, to)
		was = to
	}
	sum.triangle(was.at, first.at)
	return sum.area, sum.first.times(1 / sum.area)
}

// reached is where an oval reaches farthest in a direction, and at which radians
// of its circle that is.
type reached struct {
	at sight
	t  float64
}

func facing(angle float64) sight {
	sin, cos := math.Sincos(angle)
	return sight{cos, sin}
}

func (o *ovals) reach(k int, angle float64) reached {
	d := facing(angle)
	t := math.Atan2(o.left.dot(d), o.forward.dot(d))
	sin, cos := math.Sincos(t)
	return reached{o.centres[k].plus(o.forward.times(o.radii[k] * cos)).plus(o.left.times(o.radii[k] * sin)), t}
}

// outermost is the oval that reaches farthest between two directions.
func (o *ovals) outermost(from, to float64) int {
	d := facing((from + to) / 2)
	radius := math.Hypot(o.forward.dot(d), o.left.dot(d))
	best, most := 0, math.Inf(-1)
	for k, c := range o.centres {
		if r := c.dot(d) + o.radii[k]*radius; r > most {
			best, most = k, r
		}
	}
	return best
}

// turns are the directions, in radians and in order once round, between which
// one oval is outermost: those in which two reach as far, and the quarters.
func (o *ovals) turns() []float64 {
	turns := make([]float64, 0, 17)
	for i := range 5 {
		turns = append(turns, float64(i)*math.Pi/2)
	}
	for i := range 3 {
		for j := range i {
			turns = o.addEven(turns, o.centres[i].minus(o.centres[j]), o.radii[i]-o.radii[j])
		}
	}
	slices.Sort(turns)
	return turns
}

// addEven adds the directions d in which two ovals may reach as far: apart·d and
// the difference of their radii, as it is seen along d, are alike but for the sign.
func (o *ovals) addEven(turns []float64, apart sight, radius float64) []float64 {
	square := radius * radius
	xx := apart.x*apart.x - square*(o.forward.x*o.forward.x+o.left.x*o.left.x)
	xy := apart.x*apart.y - square*(o.forward.x*o.forward.y+o.left.x*o.left.y)
	yy := apart.y*apart.y - square*(o.forward.y*o.forward.y+o.left.y*o.left.y)
	middle, swing := (xx+yy)/2, math.Hypot((xx-yy)/2, xy)
	if !(swing > 0 && math.Abs(middle) <= swing) {
		return turns
	}
	mid, half := math.Atan2(xy, (xx-yy)/2)/2, math.Acos(-middle/swing)/2
	for _, turn := range [...]float64{mid + half, mid - half, mid + half + math.Pi, mid - half + math.Pi} {
		turns = append(turns, math.Mod(turn+2*math.Pi, 2*math.Pi))
	}
	return turns
}

// moments are an area and its first moments, added up from pieces.
type moments struct {
	area  float64
	first sight
}

func (m *moments) add(area float64, centre sight) {
	m.area += area
	m.first = m.first.plus(centre.times(area))
}

// triangle adds the one between the origin and two places.
func (m *moments) triangle(p, q sight) { m.add(p.cross(q)/2, p.plus(q).times(1.0/3)) }

// segment adds what lies between an oval's arc and its chord: a segment of the
// circle, squeezed.
func (o *ovals) segment(m *moments, k int, from, to reached) {
	turned := math.Remainder(to.t-from.t, 2*math.Pi)
	over := turned - math.Sin(turned)
	if math.Abs(over) < 1e-18 {
		return
	}
	sin, cos := math.Sincos(from.t + turned/2)
	out := o.radii[k] * 4 * math.Pow(math.Sin(turned/2), 3) / (3 * over)
	centre := o.centres[k].plus(o.forward.times(out * cos)).plus(o.left.times(out * sin))
	m.add(o.radii[k]*o.radii[k]*o.forward.cross(o.left)*over/2, centre)
}

// windWays are the level directions that the wind is tried in, each followed
// half the list later by the opposite one.
var windWays = func() (ways [8]Vec) {
	for i := range ways {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(len(ways)))
		ways[i] = Vec{cos, sin, 0}
	}
	return ways
}()

// gusts are the pulls in N of a wind of 1 m/s in each direction. Against the wind
// a silhouette is the same.
func gusts(s Seat, b Brim, drag float64) []pull {
	loads := make([]pull, len(windWays))
	half := len(windWays) / 2
	for i, way := range windWays[:half] {
		seen := newSilhouette(b, s.Centre, way)
		force := way.Times(halfAirDensity * drag * seen.area / 1e6)
		loads[i], loads[i+half] = pull{force, seen.centre}, pull{force.Times(-1), seen.centre}
	}
	return loads
}

// Beaufort returns the force of the Beaufort scale that a mean wind in m/s has,
// 0 to 12.
func Beaufort(metresPerSecond float64) int {
	force := 0
	for force < len(beaufortFrom) && metresPerSecond >= beaufortFrom[force] {
		force++
	}
	return force
}
