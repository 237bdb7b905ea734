package fitting

import "math"

// Anchoring is how the places are chosen where the elastic is sewn on.
type Anchoring string

// How they may be chosen. AtFraction, the default, is [Hat.AnchorFromFront] back
// on both sides.
const (
	AtFraction Anchoring = "fraction"
	AtEars     Anchoring = "ears"      // the rim points nearest to the points behind the ears
	Steadiest  Anchoring = "steadiest" // the fraction that leaves the tension the most room
)

// Anchors are how far back from the base's front, as fractions of the base, the
// two ends of the elastic are sewn on.
type Anchors struct{ Left, Right float64 }

// EarAnchors are the rim points of each half of the base that are nearest, along
// the surface under the hair, to the point behind that ear: to 1e-3 of the base.
func EarAnchors(h Head, s Seat, hair Length) Anchors {
	under := newSurface(h.Under(hair))
	return Anchors{under.nearestToEar(s, Left), under.nearestToEar(s, Right)}
}

// earSamples are the places of half a rim that are looked at first. The nearest
// in a straight line may be far from the nearest along a narrow head.
const earSamples = 12

func (e surface) nearestToEar(s Seat, side Side) float64 {
	ear := e.BehindEar(side)
	along := func(t float64) float64 {
		way, ok := e.connect(ear, e.OnSurface(s.anchorAt(t, side)))
		if !ok {
			return math.Inf(1)
		}
		return way.length
	}
	step := math.Pi / earSamples
	nearest, least := 0.0, math.Inf(1)
	for i := range earSamples + 1 {
		if d := along(step * float64(i)); d < least {
			nearest, least = step*float64(i), d
		}
	}
	for range 5 { // more than a smooth valley needs: where the anchor lies on the ear it is a notch
		nearest = min(max(lowestNear(along, nearest, step), 0), math.Pi)
		step /= 4
	}
	return (1 - math.Cos(nearest)) / 2
}

// lowestNear is the lowest point of the parabola through three points of f, or
// its middle one where that is no valley.
func lowestNear(f func(float64) float64, middle, step float64) float64 {
	before, at, after := f(middle-step), f(middle), f(middle+step)
	bend := before - 2*at + after
	if !(bend > 0) {
		return middle
	}
	return middle + max(-step, min(step*(before-after)/(2*bend), step))
}

// SteadiestAnchors are the same fraction on both sides, with which the widest
// range of tensions holds the hat in still air, to 0.002 of the base; a third
// where that has no upper end. It reports false when no fraction holds. It takes
// some thirty times as long as [HoldOf].
func SteadiestAnchors(h Head, s Seat, b Brim, hair Length, set HoldSettings) (Anchors, bool, error) {
	f, err := set.read()
	if err != nil {
		return Anchors{}, false, err
	}
	strip, err := b.Pattern().Strip(f.folds)
	if err != nil {
		return Anchors{}, false, err
	}
	hat := burdens(s, b, strip, f)
	q, room := topOf(func(q float64) float64 {
		e, err := NewElastic(h, s, hair, q)
		if err != nil {
			return math.Inf(-1)
		}
		least, most, ok := newBearing(h, s, e, hat, f.press).tensions(f.friction / f.reserve)
		if !ok {
			return math.Inf(-1)
		}
		return most - least
	}, usualAnchor, foremost, hindmost)
	return Anchors{q, q}, room >= 0, nil
}

// Between these fractions the steadiest anchors are looked for: our choice, so
// that the two ends are not sewn on as one.
const foremost, hindmost = 0.1, 0.7

// topOf looks for where f is greatest between low and high: in even steps from
// the start both ways, then in ever smaller ones about the best.
func topOf(f func(float64) float64, start, low, high float64) (best, most float64) {
	const coarse, fine = 0.05, 0.001
	best, most = start, f(start)
	try := func(x float64) bool {
		if !(x >= low && x <= high) {
			return false
		}
		v := f(x)
		if !(v > most) {
			return false
		}
		best, most = x, v
		return true
	}
	for k := 1.0; k*coarse <= high-low; k++ {
		try(start - k*coarse)
		try(start + k*coarse)
	}
	for step := coarse / 2; step >= fine; step /= 2 {
		if !try(best - step) {
			try(best + step)
		}
	}
	return best, most
}
