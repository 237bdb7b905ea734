package orders

import (
	"fmt"
	"slices"
	"strings"
	"time"
)

const (
	wanted     = 3    // readings of each tape
	mostTaken  = 6    // more only tire her
	wideSpread = 10.0 // mm between readings from which one more is asked for
	strayFrom  = 20.0 // mm from the middle at which a reading is taken for a slip; a modelling choice
)

var laterWords = []string{
	Later, "measure me", "measure me at the consultation", "measure me at the studio", "i couldn't", "i could not",
	"i can't", "i cannot", "couldn't", "can't", "cannot", "not now",
}

// parseReadings takes the readings so far, one an entry or several divided by semicolons or line ends.
func (q Question) parseReadings(said []string, s Said, _ time.Time) (Answer, *Problem) {
	typed := strings.Join(said, "; ")
	single := strings.FieldsFunc(typed, func(r rune) bool { return r == ';' || r == '\n' || r == '；' })
	single = entries(single)
	isLater := func(t string) bool { return slices.Contains(laterWords, folded(t)) }
	switch {
	case len(single) == 0:
		return Answer{}, q.problem(q.missing())
	case isLater(single[len(single)-1]):
		return Answer{Value: Later, Said: typed}, nil
	case len(single) > mostTaken:
		return Answer{}, q.problem("That is %d readings; %d are plenty. Please keep the ones you trust.", len(single), mostTaken)
	}
	var readings []float64
	for i, t := range single {
		mm, p := q.lengthIn(t)
		if p != nil && len(single) > 1 {
			p.Text = fmt.Sprintf("Number %d: %s", i+1, p.Text)
		}
		if p != nil {
			return Answer{}, p
		}
		readings = append(readings, mm)
	}
	return q.weigh(readings, typed, s)
}

// weigh asks for another reading while there are too few or they disagree, then whether an odd value
// is meant.
func (q Question) weigh(readings []float64, typed string, s Said) (Answer, *Problem) {
	n := len(readings)
	if p := q.another(readings); p != nil && !s.Enough {
		return Answer{}, p
	}
	mean, _ := Doubt(readings, ByClient)
	why := q.unlikely(mean)
	if stray, ok := strayIn(readings); ok {
		why = fmt.Sprintf("One of the readings, %s, is far from the others. Please take it out or measure again, or keep it if you are sure.", BothUnits(stray))
	}
	if why != "" && !s.Sure {
		return Answer{}, q.doubted(why)
	}
	values := make([]string, n)
	for i, mm := range readings {
		values[i] = stored(mm)
	}
	return Answer{Value: strings.Join(values, " "), Said: typed, Confirmed: why != ""}, nil
}

func (q Question) another(readings []float64) *Problem {
	n := len(readings)
	apart := slices.Max(readings) - slices.Min(readings)
	var text string
	switch {
	case n == 1:
		text = fmt.Sprintf("Thank you: %s. Take the tape off, lay it again, and give the second number.", BothUnits(readings[0]))
	case n == 2:
		text = fmt.Sprintf("Thank you: %s. Once more, please: the third number.", BothUnits(readings[1]))
	case n == wanted && apart >= wideSpread:
		text = fmt.Sprintf("These are %.1f cm (%s) apart. Please lay the tape once more and give a fourth number.", apart/10, imperial(apart))
	default:
		return nil
	}
	p := q.problem(text)
	p.NeedsMore = true
	return p
}

// strayIn finds a reading far from the middle one, where there are enough to tell.
func strayIn(readings []float64) (float64, bool) {
	if len(readings) < wanted {
		return 0, false
	}
	sorted := slices.Sorted(slices.Values(readings))
	middle := (sorted[(len(sorted)-1)/2] + sorted[len(sorted)/2]) / 2
	for _, r := range []float64{sorted[0], sorted[len(sorted)-1]} {
		if d := r - middle; d >= strayFrom || d <= -strayFrom {
			return r, true
		}
	}
	return 0, false
}
