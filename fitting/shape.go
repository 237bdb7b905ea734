package fitting

import "math"

// Sight returns the eye, and the point of the brim that it sees lowest, within
// viewWindow of the azimuth (0 ahead, positive to the left): where the figures of
// [View] are met. It reports false when neither eye meets the brim there.
func Sight(h Head, b Brim, azimuth Angle) (eye, met Vec, ok bool) {
	lowest := math.Inf(1)
	for _, from := range h.Eyes() {
		newOutline(from, b).meetWithin(azimuth, func(p Vec) {
			if e := elevation(p); e < lowest {
				lowest, eye, met, ok = e, from, from.Plus(p), true
			}
		})
	}
	return eye, met, ok
}

// meetWithin calls met with the points of the outline, seen from its eye, among
// which the lowest within the window about the azimuth is.
func (o outline) meetWithin(azimuth Angle, met func(Vec)) {
	edges := [2]Vec{heading(azimuth + viewWindow), heading(azimuth - viewWindow)}
	for _, ahead := range edges {
		for _, c := range o.circles {
			c.meet(o.eye, ahead, met)
		}
		for _, l := range o.lines {
			l.meet(o.eye, ahead, met)
		}
	}
	for _, p := range o.dips {
		if edges[0].Cross(p).Z <= 0 && edges[1].Cross(p).Z >= 0 && p.Dot(edges[0]) > 0 {
			met(p)
		}
	}
}
