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
