package draw

import (
	"perchbook/fitting"
)

// drawSight draws the line from the eye to the point of the brim that it sees
// lowest ahead, if it meets the brim there at all.
func (v *view) drawSight() {
	eye, met, ok := fitting.Sight(v.Head, v.Brim, 0)
	if !ok {
		return
	}
	if !v.facing() { // only what of it is not behind head and hat
		v.drawSplit(sighted, none, "sight", v.solids.behind, fine(eye, met))
		return
	}
	v.draw(sighted, "sight", []fitting.Vec{eye, met})
	v.dot(sighted, "sight-end", met, 1.8)
}

// fine is the straight line from p to q in short pieces.
func fine(p, q fitting.Vec) []fitting.Vec {
	const steps = 40
	points := make([]fitting.Vec, steps+1)
	for i := range points {
		points[i] = p.Plus(q.Minus(p).Times(float64(i) / steps))
	}
	return points
}
