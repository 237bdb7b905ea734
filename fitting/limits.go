package fitting

import "math"

// bound is one hard limit of the advice. spare is how far inside it the hat is,
// negative outside, 1 being far enough to forget about it; NaN is outside.
type bound struct {
	key    string // the figure that it limits
	spare  func(p *person, t *trial) float64
	who    string // what holds the hat back, to begin a sentence with
	source string
}

// bounds are all hard limits but the least base, which is an end of the search's
// box, the elastic's own side, of which the crossing is only the handle, and the
// hold, to which those that touch it are tangents.
var bounds = [...]bound{
	seeing(0), seeing(1), seeing(2), seeing(3),
	{browKey, func(_ *person, t *trial) float64 { return (t.low - clearBrow).Centimetres() },
		"The least room above the tape line, 2.5 cm (1 in),", "common practice: 1 in above the brows"},
	{"brim.shear_deg", func(p *person, t *trial) float64 { return (p.mostShear - t.pattern.Shear).Degrees() / 5 },
		"The weave, which locks when it is pulled farther out of square,", "the roll's own bias test, or else our choice: 40 degrees"},
	{"hat.brim_slope_deg", func(_ *person, t *trial) float64 { return (t.gap - clearHead) / 10 },
		"The head, which the brim's edge has to clear,", "our choice: 5 mm from the hair"},
	{"base.doming_deg", func(_ *person, t *trial) float64 { return (mostDoming - t.doming()).Degrees() / 5 },
		"The base's weave, which domes no farther,", "our choice"},
	{"hat.base_mm", func(_ *person, t *trial) float64 { return 10 * (steepestBase - t.seat.Radius/t.seat.Rho) },
		"The curve of the head under the base", "our choice"},
	{"hair.knot", spareKnot, "The knot of hair, which the base has to clear,", "our choice of the place and size of a knot"},
	{"hat.brim_width_mm", func(p *person, t *trial) float64 { return (p.shoulders - t.across()) / 20 },
		"The width of her shoulders", "common practice; shoulders by Drillis and Contini, from memory"},
	crossingBound,
	touching(0), touching(1), touching(2),
}

// aside says whether the bound is no limit by itself, but stands for one that is
// not smooth.
func (b bound) aside() bool { return b.key == crossingBound.key || b.key == holdKey }

const browKey = "placement.tape_line_to_rim_mm"

// crossingBound is no limit by itself: see ownSides.
var crossingBound = bound{"hat.sideways_deg", func(p *person, t *trial) float64 { return (p.mostCrossing - t.crossing(p)) / 2 },
	"The elastic, which would slip over to the other side,", "worked out from where the elastic lies"}

// seeing limits the view ahead of one eye along one edge of the window.
func seeing(i int) bound {
	return bound{"view.ahead_deg", func(_ *person, t *trial) float64 { return (t.ahead[i] - clearView).Degrees() / 5 },
		"The view ahead, clear up to 45 degrees,", "upper visual field, 38 CFR 4.76a, Table III"}
}

const (
	clearHead = 5   // mm that the edge of a drooping brim stays from the hair
	wellClear = 100 // the same, for a brim that lifts
)

// crossing is how far in mm the anchor that lies higher up, on the side away from
// the tilt, is past the middle of the head; negative on its own side.
func (t *trial) crossing(p *person) float64 { return t.seat.Anchor(p.anchor, Right).Y }

// doming is the seat's, as it were on a hemisphere where there is no such base.
func (t *trial) doming() Angle {
	half := math.Asin(min(1, t.seat.Radius/t.seat.Rho))
	return degrees(half * half / 2)
}

// exceeded is how far the hat is outside all limits together: zero inside.
func (p *person) exceeded(t *trial) float64 {
	sum := 0.0
	for _, b := range bounds {
		if spare := b.spare(p, t); !(spare >= 0) && !b.aside() {
			sum += spare * spare
		}
	}
	if math.IsNaN(sum) {
		return math.Inf(1)
	}
	return math.Sqrt(sum)
}

// score is the weighted sum of squares of the soft pulls, and what speaks against
// a drooping brim; less is better.
func (p *person) score(t *trial) float64 {
	sum := 0.0
	for _, m := range terms {
		pull := m.pull(p, t)
		sum += m.weight * pull * pull
	}
	if t.slope < 0 {
		sum += p.objected()
	}
	return sum
}

// objected is what any drooping brim scores at least.
func (p *person) objected() float64 {
	sum := 0.0
	for _, o := range objections {
		sum += o.weight(p)
	}
	return sum
}

// gapSamples of the brim's outer edge, all round, and where they are.
const gapSamples = 24

var gapWays = func() (ways [gapSamples]turn) {
	for i := range ways {
		ways[i] = turned(2 * math.Pi / gapSamples * float64(i))
	}
	return ways
}()

// gap is how far in mm the brim's outer edge stays from the head, along the lines
// from the head's middle, where it comes nearest; negative inside the head. To
// 0.01 mm.
func (h Head) gap(b Brim) float64 {
	off := func(d turn) float64 {
		p := b.Outer.at(d)
		return p.Norm() - h.OnSurface(p).Norm()
	}
	at := func(t float64) float64 { return off(turned(t)) }
	step := 2 * math.Pi / gapSamples
	nearest, least := 0.0, math.Inf(1)
	for i, d := range gapWays {
		if g := off(d); g < least {
			nearest, least = step*float64(i), g
		}
	}
	for range 2 { // down to the lowest point of the parabola through three
		before, after := at(nearest-step), at(nearest+step)
		bend := before - 2*least + after
		if !(bend > 0) {
			break
		}
		nearest += step * (before - after) / (2 * bend)
		least, step = at(nearest), step/8
	}
	return least
}
