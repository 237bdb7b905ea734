package draw

import (
	"math"

	"perchbook/fitting"
)

const turns = 144 // points of a full circle: 0.04 mm off it on the widest brim

// ring is the whole circle, from its front and back to it.
func ring(c fitting.Circle) []fitting.Vec {
	points := make([]fitting.Vec, turns+1)
	for i := range points {
		points[i] = c.Point(2 * math.Pi * float64(i) / turns)
	}
	return points
}

func rim(s fitting.Seat) fitting.Circle {
	return fitting.Circle{Centre: s.Rim, Forward: s.Forward, Left: s.Left, Radius: s.Radius}
}

func hasLip(s fitting.Solution) bool {
	return s.Brim.Inner.Centre != s.Seat.Rim || s.Brim.Inner.Radius != s.Seat.Radius
}

// domeOutline is where the domed base turns away from the onlooker; nil when she
// looks so far down on it that it does so nowhere.
func (c calotte) outline(toward fitting.Vec) []fitting.Vec {
	aside := c.normal.Minus(toward.Times(c.normal.Dot(toward)))
	sin := aside.Norm()
	if !(c.height < c.radius*sin) {
		return nil
	}
	up := aside.Times(1 / sin)
	across := toward.Cross(up)
	half := math.Acos(c.height / (c.radius * sin))
	const steps = 48
	points := make([]fitting.Vec, steps+1)
	for i := range points {
		s, k := math.Sincos(half * (2*float64(i)/steps - 1))
		points[i] = c.centre.Plus(up.Times(c.radius * k)).Plus(across.Times(c.radius * s))
	}
	return points
}

// outlines are the two straight lines where the frustum turns away from the
// onlooker, or none.
func (c cone) outlines(toward fitting.Vec) [][]fitting.Vec {
	// the normal cos·axis - sin·(direction of t) must be at right angles to toward
	u, v := c.sin*toward.Dot(c.from.Forward), c.sin*toward.Dot(c.from.Left)
	reach, want := math.Hypot(u, v), c.cos*toward.Dot(c.normal)
	if !(math.Abs(want) < reach) || c.width == 0 {
		return nil
	}
	middle, half := math.Atan2(v, u), math.Acos(want/reach)
	return [][]fitting.Vec{c.generator(middle - half), c.generator(middle + half)}
}

// generator is the straight line of the frustum at t radians from the front.
func (c cone) generator(t float64) []fitting.Vec {
	const steps = 24
	points := make([]fitting.Vec, steps+1)
	for i := range points {
		points[i] = c.at(t, c.width*float64(i)/steps)
	}
	return points
}

// at is the point of the frustum at t radians from the front, the given length
// out from its inner circle.
func (c cone) at(t, out float64) fitting.Vec {
	wider := c.from
	wider.Centre = wider.Centre.Plus(c.normal.Times(out * c.sin))
	wider.Radius += out * c.cos
	return wider.Point(t)
}
