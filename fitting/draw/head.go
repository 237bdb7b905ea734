package draw

import (
	"math"

	"perchbook/fitting"
)

// headOutline is where the ellipsoid turns away from the onlooker.
func headOutline(h fitting.Head, toward fitting.Vec) []fitting.Vec {
	a, b, c := h.A.Millimetres(), h.B.Millimetres(), h.C.Millimetres()
	// scaled to the unit sphere it is the great circle across this direction
	d := unit(fitting.Vec{X: toward.X / a, Y: toward.Y / b, Z: toward.Z / c})
	down := fitting.Vec{Z: -1}
	if math.Abs(d.Z) > 0.9 {
		down = fitting.Vec{X: -1}
	}
	down = unit(down.Minus(d.Times(down.Dot(d))))
	across := d.Cross(down)
	points := make([]fitting.Vec, turns+1)
	for i := range points {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / turns)
		p := down.Times(cos).Plus(across.Times(sin))
		points[i] = fitting.Vec{X: a * p.X, Y: b * p.Y, Z: c * p.Z}
	}
	return points
}

// tapeLine is where the tape lay round the head, from the back and back to it.
func tapeLine(h fitting.Head) []fitting.Vec {
	points := make([]fitting.Vec, turns+1)
	for i := range points {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / turns)
		points[i] = fitting.Vec{X: -h.A.Millimetres() * cos, Y: h.B.Millimetres() * sin}
	}
	return points
}

// tapeToRim is the line that the tape follows from the tape line to the rim's
// lowest point: the ellipsoid in the plane of the z-axis.
func tapeToRim(h fitting.Head, s fitting.Seat) []fitting.Vec {
	top := h.OnSurface(s.Lowest())
	c := h.C.Millimetres()
	end := math.Asin(top.Z / c)
	out := fitting.Vec{X: top.X, Y: top.Y}.Times(1 / math.Cos(end))
	const steps = 24
	points := make([]fitting.Vec, steps+1)
	for i := range points {
		sin, cos := math.Sincos(end * float64(i) / steps)
		points[i] = out.Times(cos).Plus(fitting.Vec{Z: c * sin})
	}
	return points
}
