package fitting

import "math"

// A Tape is one of the four that are laid over a head.
type Tape int

// The tapes in the order in which they are asked for.
const (
	GirthTape Tape = iota // round the head
	NapeTape              // nape to crown
	EarTape               // ear to ear over the crown
	BrowTape              // brow to nape over the crown
)

// tapesOfHeads are the tapes of adult heads, women and men counting the same, in mm: means, standard
// deviations and correlations. Of the table derived from ANSUR II and NIOSH 2003, testdata/fitting/tapes.csv,
// which says how.
var tapesOfHeads = struct {
	mean, sd [4]float64
	together [4][4]float64
}{
	mean: [4]float64{567.71, 227.16, 345.57, 375.43},
	sd:   [4]float64{18.95, 13.65, 14.96, 21.00},
	together: [4][4]float64{
		{1, 0.5555, 0.4619, 0.6029},
		{0.5555, 1, 0.6157, 0.9112},
		{0.4619, 0.6157, 1, 0.6310},
		{0.6029, 0.9112, 0.6310, 1},
	},
}

// rarelyOff is what one tape in a hundred is off by, in standard deviations of a normal spread, either way.
const rarelyOff = 2.5758

// Between is what all but one in a hundred lie between.
type Between struct{ Least, Most Length }

// Holds says whether l lies there; NaN does not.
func (b Between) Holds(l Length) bool { return l >= b.Least && l <= b.Most }

// Far is how far l lies from the middle, where either end is 1. NaN for NaN.
func (b Between) Far(l Length) float64 {
	return math.Abs(float64((2*l - b.Least - b.Most) / (b.Most - b.Least)))
}

func betweenOf(mean, sd float64) Between {
	return Between{Length(mean - rarelyOff*sd), Length(mean + rarelyOff*sd)}
}

// Usual is what a tape shows on adult heads, its own error having the standard deviation given. Nape to
// crown and brow to nape were taped by no survey; they are those of the engine's head, with the girth, calipers
// and height of each surveyed head and a spread of their own.
func (t Tape) Usual(doubt Length) Between {
	h := tapesOfHeads
	return betweenOf(h.mean[t], math.Hypot(h.sd[t], doubt.Millimetres()))
}

// UsualWith is what it shows on the heads on which another tape shows l, each with its own error: about the
// regression of the one on the other. Far from the surveys' heads it is what their line says there.
func (t Tape) UsualWith(other Tape, l, doubt, otherDoubt Length) Between {
	h, r := tapesOfHeads, tapesOfHeads.together[t][other]
	slope := r * h.sd[t] / h.sd[other]
	about := h.sd[t] * math.Sqrt(max(0, 1-r*r))
	return betweenOf(h.mean[t]+slope*(l.Millimetres()-h.mean[other]),
		math.Hypot(about, math.Hypot(doubt.Millimetres(), slope*otherDoubt.Millimetres())))
}
