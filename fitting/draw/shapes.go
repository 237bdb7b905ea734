package draw

import (
	"math"

	"perchbook/fitting"
)

// calotte is the domed base: part of a sphere, as a hatter names it.
type calotte struct {
	centre, normal fitting.Vec
	radius, height float64 // of the sphere, and of the calotte's edge above its centre
}

func newCalotte(s fitting.Seat) calotte {
	return calotte{s.Centre.Minus(s.Normal.Times(s.Rho)), s.Normal, s.Rho, s.Rho - s.Sag}
}

func (c calotte) hides(p, toward fitting.Vec) bool {
	q := p.Minus(c.centre)
	along := q.Dot(toward)
	root := along*along - q.Dot(q) + c.radius*c.radius
	if !(root > 0) {
		return false
	}
	root = math.Sqrt(root)
	for _, far := range [2]float64{-along - root, -along + root} {
		if far > touching && q.Plus(toward.Times(far)).Dot(c.normal) > c.height {
			return true
		}
	}
	return false
}

// cone is a frustum between two circles with one axis.
type cone struct {
	from     fitting.Circle
	normal   fitting.Vec
	sin, cos float64 // of the slope
	width    float64 // along the slope
}

func newCone(from, to fitting.Circle, normal fitting.Vec) cone {
	rise, out := to.Centre.Minus(from.Centre).Dot(normal), to.Radius-from.Radius
	width := math.Hypot(rise, out)
	if width == 0 {
		return cone{from: from, normal: normal, cos: 1}
	}
	return cone{from, normal, rise / width, out / width, width}
}

func (c cone) hides(p, toward fitting.Vec) bool {
	q := p.Minus(c.from.Centre)
	x, y, z := q.Dot(c.from.Forward), q.Dot(c.from.Left), q.Dot(c.normal)
	dx, dy, dz := toward.Dot(c.from.Forward), toward.Dot(c.from.Left), toward.Dot(c.normal)
	// on the cone sin·r = cos·z + sin·R, r the distance from the axis; its square is
	// quadratic along the ray
	k, dk := c.cos*z+c.sin*c.from.Radius, c.cos*dz
	sin2 := c.sin * c.sin
	if sin2 < 1e-12 { // flat: the two roots fall together
		far := -z / dz
		return far > touching && c.holds(math.Hypot(x+far*dx, y+far*dy), 0)
	}
	for _, far := range quadratic(sin2*(dx*dx+dy*dy)-dk*dk, sin2*(x*dx+y*dy)-k*dk, sin2*(x*x+y*y)-k*k) {
		if far > touching && c.holds(math.Hypot(x+far*dx, y+far*dy), z+far*dz) {
			return true
		}
	}
	return false
}

// holds says whether a point of the double cone, by its distance from the axis
// and its height, lies on the frustum.
func (c cone) holds(r, z float64) bool {
	along := (r-c.from.Radius)*c.cos + z*c.sin
	off := z*c.cos - (r-c.from.Radius)*c.sin
	return along > 0 && along < c.width && math.Abs(off) < touching
}

// quadratic solves a x² + 2 b x + c = 0. Where there is no root it returns NaN,
// which lies on no side of any bound.
func quadratic(a, b, c float64) [2]float64 {
	root := math.Sqrt(max(b*b-a*c, 0))
	if b*b < a*c {
		return [2]float64{math.NaN(), math.NaN()}
	}
	q := -b - math.Copysign(root, b)
	return [2]float64{q / a, c / q}
}
