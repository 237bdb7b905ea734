package draw

import (
	"math"

	"perchbook/fitting"
)

// The trimming is no design: a ball holds its place, as large as its mass lets
// expect. Our choice: 20 g of ribbon or feather fill a ball of 40 mm.
const (
	ballOf     = 20.0 // g
	ballRadius = 20.0 // mm
)

func (v *view) trimmed() bool { return v.Result.Trim.Mass > 0 }

// ball is the outline of the trimming's ball; nil without a trimming.
func ball(s fitting.Solution, from Camera) []fitting.Vec {
	t := s.Result.Trim
	if !(t.Mass > 0) {
		return nil
	}
	middle := s.Seat.Centre.Plus(s.Seat.Normal.Times(t.Height.Millimetres()))
	return ring(fitting.Circle{Centre: middle, Forward: from.up, Left: from.right, Radius: ballRadius * math.Cbrt(t.Mass.Grams()/ballOf)})
}

// drawTrimming draws the ball's outline where it is seen, dotted.
func (v *view) drawTrimming() {
	v.drawSplit(held, none, "place", v.solids.behind, ball(v.Solution, v.from))
}

// nameTrimming says what the ball is.
func (v *view) nameTrimming() {
	for _, s := range v.strokes {
		if s.pen == held {
			v.say(longest(s.lines).parts(), "trimming")
			return
		}
	}
}
