package fitting

import (
	"cmp"
	"fmt"
	"slices"
)

// quality is something that one proposal has more of than another, and that a
// wearer or her milliner is glad of.
type quality struct {
	of          func(Summary) float64 // more is better
	noticed     float64               // the least difference worth a word
	best, worst func(Summary) string
}

// qualities are all of them, the weightiest first. What is worth a word is our
// choice.
var qualities = [...]quality{
	{func(s Summary) float64 { return -when(s.Fastening != ByElastic, 1) }, 0.5,
		func(Summary) string { return "holds by its elastic alone" },
		func(s Summary) string { return "needs a " + string(s.Fastening) + " besides its elastic" }},
	{func(s Summary) float64 { return -when(!s.ClothFits, 1) }, 0.5,
		func(Summary) string { return "can be cut from the piece of cloth" },
		func(Summary) string { return "needs more cloth than the piece has" }},
	{func(s Summary) float64 { return s.Height.Millimetres() }, 5,
		func(Summary) string { return "adds the most height" },
		func(Summary) string { return "adds the least height" }},
	{func(s Summary) float64 { return min(s.Ahead, clearView+30).Degrees() }, 3,
		func(s Summary) string { return "hides the least of the view ahead (" + s.clear() + ")" },
		func(s Summary) string { return "hides the most of the view ahead (" + s.clear() + ")" }},
	{func(s Summary) float64 { return s.SlipsAt }, 0.5,
		func(s Summary) string { return "bears the most wind (" + s.wind() + ")" },
		func(s Summary) string { return "bears the least wind (" + s.wind() + ")" }},
	{func(s Summary) float64 { return -max(s.Shear, easyShear).Degrees() }, 3,
		func(s Summary) string { return "curves the most easily" },
		func(s Summary) string {
			return fmt.Sprintf("takes the most work to curve (%.0f degrees of shear)", s.Shear.Degrees())
		}},
	{func(s Summary) float64 { return -s.Mass.Grams() }, 10,
		func(s Summary) string { return fmt.Sprintf("is the lightest (%.0f g)", s.Mass.Grams()) },
		func(s Summary) string { return fmt.Sprintf("is the heaviest (%.0f g)", s.Mass.Grams()) }},
}

func (s Summary) clear() string {
	if s.Ahead >= 90 {
		return "all clear"
	}
	return fmt.Sprintf("clear up to %.0f degrees", s.Ahead.Degrees())
}

func (s Summary) wind() string {
	return fmt.Sprintf("%.1f m/s, Beaufort force %d", s.SlipsAt, s.Beaufort)
}

// mostTrades of one kind are worth reading.
const mostTrades = 3

// traded puts beside each proposal what it trades against the others.
func traded(all []Proposal) []Proposal {
	if len(all) < 2 {
		return all
	}
	for i := range all {
		here := all[i].Summary()
		var others []Summary
		for j := range all {
			if j != i {
				others = append(others, all[j].Summary())
			}
		}
		all[i].Trades = here.against(others)
	}
	return all
}

// against says where s is the best and where the worst.
func (s Summary) against(others []Summary) []string {
	var best, worst []string
	for _, q := range qualities {
		than := func(o Summary) float64 { return q.of(s) - q.of(o) }
		least := than(slices.MinFunc(others, func(a, b Summary) int { return cmp.Compare(than(a), than(b)) }))
		most := than(slices.MaxFunc(others, func(a, b Summary) int { return cmp.Compare(than(a), than(b)) }))
		if least >= q.noticed {
			best = append(best, q.best(s))
		}
		if most <= -q.noticed {
			worst = append(worst, q.worst(s))
		}
	}
	says := []string{fmt.Sprintf("%s across, %s above the head.", inCentimetres(s.Across), inCentimetres(s.Height))}
	switch {
	case len(best) > 0:
		says = append(says, "It "+list(best[:min(len(best), mostTrades)], "and")+".")
	case len(worst) == 0:
		says = append(says, fmt.Sprintf("For the rest it lies between the others: the view ahead is %s, and it bears a wind of %s.", s.clear(), s.wind()))
	}
	if len(worst) > 0 {
		says = append(says, "In return it "+list(worst[:min(len(worst), mostTrades)], "and")+".")
	}
	return says
}
