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
	v.draw(sighted, "sight", []fitting.Vec{eye, met})
	v.dot(sighted, "sight-end", met, 1.8)
}
