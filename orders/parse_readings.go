package orders

import (
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
	Later, "a l'atelier", "au rendez-vous", "a la consultation", "je ne peux pas", "impossible", "plus tard", "en el taller", "en la consulta", "no puedo", "mas tarde",
	"measure me", "measure me at the consultation", "measure me at the studio", "i couldn't", "i could not",
	"i can't", "i cannot", "couldn't", "can't", "cannot", "not now", "i can't measure", "i cannot measure", "can't measure", "cannot measure",
	"no tape", "i have no tape", "at the consultation", "consultation", "at the studio", "the studio",
}

// parseReadings takes the readings so far, one an entry or several divided by semicolons or line ends.
func (q Question) parseReadings(said []string, s Said, _ time.Time) (Answer, *Problem) {
	typed := strings.Join(said, "; ")
	single := strings.FieldsFunc(typed, func(r rune) bool { return r == ';' || r == '\n' || r == '；' })
	single = entries(single)
	isLater := func(t string) bool { return slices.Contains(laterWords, withoutAccents(folded(t))) }
	switch {
	case len(single) == 0:
		return Answer{}, q.missing().beside(q.Key)
	case isLater(single[len(single)-1]):
		return Answer{Value: Later, Said: typed}, nil
	case len(single) > mostTaken:
		return Answer{}, q.problem("That is %d readings; %d are plenty. Please keep the ones you trust.", len(single), mostTaken)
	}
	tapes, hats, p := q.readingsIn(single)
	switch {
	case p != nil:
		return Answer{}, p
	case len(tapes) > 0:
		return q.weigh(tapes, typed, s)
	case s.Enough:
		a, p := q.weigh(hats[len(hats)-1:], typed, s)
		if p == nil {
			a.Source = hatSizeSource(sizeStep(single[len(single)-1]))
		}
		return a, p
	}
	p = q.problem("That hat size is about %s. Hat sizes are coarser than a tape: one is nearly a centimetre from the next, and hats stretch. "+
		"If you can, give three readings of a tape; they replace the hat size. If not, say that this is all you have.", BothUnits(hats[len(hats)-1]))
	p.NeedsMore = true
	return Answer{}, p
}

// readingsIn reads each entry, what the tape shows apart from hat sizes.
func (q Question) readingsIn(single []string) (tapes, hats []float64, p *Problem) {
	for i, text := range single {
		mm, isHat, p := 0.0, false, (*Problem)(nil)
		if q.HatSizes {
			mm, isHat, p = q.hatSizeIn(text)
		}
		if p == nil && !isHat {
			mm, p = q.lengthIn(text)
		}
		switch {
		case p != nil && len(single) > 1:
			return nil, nil, q.problem("Reading %d: %s", i+1, p.phrase)
		case p != nil:
			return nil, nil, p
		case isHat:
			hats = append(hats, mm)
		default:
			tapes = append(tapes, mm)
		}
	}
	return tapes, hats, nil
}

// weigh asks for another reading while there are too few or they disagree, then whether an odd value
// is meant.
func (q Question) weigh(readings []float64, typed string, s Said) (Answer, *Problem) {
	n := len(readings)
	if p := q.another(readings); p != nil && !s.Enough {
		return Answer{}, p
	}
	why := q.unlikely(Doubt(readings, ByClient))
	if stray, ok := strayIn(readings); ok {
		why = Say("One of the readings, %s, is far from the others. Please take it out or measure again, or keep it if you are sure.", BothUnits(stray))
	}
	if !why.Empty() && !s.Sure {
		return Answer{}, q.doubted(why)
	}
	values := make([]string, n)
	for i, mm := range readings {
		values[i] = stored(mm)
	}
	return Answer{Value: strings.Join(values, " "), Said: typed, Confirmed: !why.Empty()}, nil
}

func (q Question) another(readings []float64) *Problem {
	n := len(readings)
	apart := slices.Max(readings) - slices.Min(readings)
	var text Phrase
	switch {
	case n == 1:
		text = Say("Thank you: %s. Take the tape off, lay it again, and give the second reading.", BothUnits(readings[0]))
	case n == 2:
		text = Say("Thank you: %s. Once more, please: the third reading.", BothUnits(readings[1]))
	case n == wanted && apart >= wideSpread:
		text = Say("These are %.1f cm (%s) apart. Please lay the tape once more and give a fourth reading.", apart/10, imperial(apart))
	default:
		return nil
	}
	p := text.beside(q.Key)
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
