package draw

import (
	"math"

	"perchbook/fitting"
)

const (
	threadGap   = 9.0 // mm between hatched threads along the brim's middle, at least
	closest     = 6.5 // mm between them along its inner edge, at least
	threadSteps = 10
	fewest      = 24
)

// weave is the brim's hatching along both families of its bias threads. The
// strip is a net of threads that pivot and do not stretch: at radius r of the
// flat shape they make, with the strip, the angle whose cosine is r/(rho sqrt 2),
// 45° in the middle at rho. Followed outward a thread turns about the flat
// shape's centre by asin(r/(rho sqrt 2)), and about the hat's axis by that over
// cos(slope).
func weave(b fitting.BrimPattern, c cone) [][]fitting.Vec {
	inner, outer := b.FlatInnerRadius.Millimetres(), b.FlatOuterRadius.Millimetres()
	if c.width == 0 {
		return nil
	}
	middle := math.Sqrt((inner*inner + outer*outer) / 2)
	turn := func(r float64) float64 {
		return math.Asin(min(1, r/(middle*math.Sqrt2))) / math.Cos(b.Slope.Radians())
	}
	count := max(fewest, int(b.Sector.Radians()*min(middle/threadGap, inner/closest)))
	var threads [][]fitting.Vec
	for i := range count {
		start := 2 * math.Pi * (float64(i) + 0.5) / float64(count)
		for _, way := range [2]float64{1, -1} {
			threads = append(threads, make([]fitting.Vec, threadSteps+1))
			thread := threads[len(threads)-1]
			for j := range thread {
				r := inner + (outer-inner)*float64(j)/threadSteps
				thread[j] = c.at(start+way*(turn(r)-turn(inner)), r-inner)
			}
		}
	}
	return threads
}

// drawThread draws what is seen of a thread: dark where the onlooker looks on the
// brim's outside, light where she looks into it.
func (v *view) drawThread(thread []fitting.Vec) {
	hidden := func(p fitting.Vec) bool { return v.solids.behindHat(p) || v.solids.sunk(p) }
	for _, seen := range split(thread, hidden).seen {
		r := split(seen, v.inside)
		v.draw(weft, "threads", r.seen...)
		v.draw(warp, "threads", r.hidden...)
	}
}

// inside says whether the onlooker sees the brim, at its point p, from the side
// of the crown.
func (v *view) inside(p fitting.Vec) bool {
	c := v.solids.cones[0]
	q := p.Minus(c.from.Centre)
	out := q.Minus(c.normal.Times(q.Dot(c.normal)))
	return c.normal.Times(c.cos).Minus(unit(out).Times(c.sin)).Dot(v.from.toward) > 0
}
