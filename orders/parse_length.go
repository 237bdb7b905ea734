package orders

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"time"
)

// mostLength is more than anyone writes for one length.
const mostLength = 120

// Two ways of saying one length agree when they are no further apart than rounding to half a centimetre.
const sameLength = 5.0

// A sized is one thing a typed length can mean.
type sized struct {
	mm   float64
	unit unit
}

func (q Question) parseLength(said []string, _ Said, _ time.Time) (Answer, *Problem) {
	typed := strings.Join(said, " ")
	mm, p := q.lengthIn(typed)
	if p != nil {
		return Answer{}, p
	}
	return Answer{Value: stored(mm), Said: typed}, nil
}

// lengthIn reads one length. A number without a unit is taken in the only unit in which it is
// possible here; where none or several would do it asks.
func (q Question) lengthIn(typed string) (float64, *Problem) {
	if letters(typed) > mostLength {
		return 0, q.askLength(Say("That is longer than a length is."))
	}
	lengths, c := readLength(typed)
	if c.Empty() && len(lengths) > 2 {
		c = Say("I read more than one length in %s. Please give one at a time.", quoted(typed))
	}
	if !c.Empty() {
		return 0, q.askLength(c)
	}
	var meanings [][]sized
	for _, amounts := range lengths {
		all, c := combine(amounts)
		if !c.Empty() {
			return 0, q.askLength(c)
		}
		slack := 0.0
		if len(lengths) == 2 { // what is rounded in the one unit may just miss a bound in the other
			slack = sameLength
		}
		possible := q.possible(all, slack)
		if len(possible) == 0 {
			return 0, q.outside(typed, amounts)
		}
		meanings = append(meanings, possible)
	}
	if len(meanings) == 2 {
		mm, p := q.sameTwice(meanings[0], meanings[1])
		if p == nil && !(mm >= q.Min && mm <= q.Max) {
			p = q.outside(typed, lengths[0])
		}
		return mm, p
	}
	if len(meanings[0]) > 1 {
		return 0, q.problem("%s could be %s or %s. Please write it again with its unit.", quoted(typed),
			BothUnits(meanings[0][0].mm), BothUnits(meanings[0][1].mm))
	}
	return meanings[0][0].mm, nil
}

func (q Question) askLength(c Phrase) *Problem {
	return q.problem("%s A length is a number with its unit, such as %s.", c, q.example())
}

// example is a length in the middle of what is possible, as it would be typed.
func (q Question) example() Phrase {
	mm := math.Round((q.Min+q.Max)/20) * 10
	return Say("%.0f cm or %s", mm/10, imperial(mm))
}

// combine adds up the amounts of one length for each unit that they can be in.
func combine(amounts []amount) ([]sized, Phrase) {
	first, units := amounts[0], []unit{millimetre, centimetre, inch, metre}
	switch {
	case first.unit != 0:
		units = []unit{first.unit}
	case len(amounts) > 1:
		return nil, Say("I read more than one number and can't tell how they belong together.")
	case first.part: // nobody means half a metre by 1/2
		units = units[:3]
	}
	var all []sized
	for _, u := range units {
		for _, v := range first.values {
			all = append(all, sized{v * float64(u), u})
		}
	}
	above := first.unit
	for _, a := range amounts[1:] {
		below := a.within(above)
		if below == 0 {
			return nil, Say("I read more than one number and can't tell how they belong together.")
		}
		if a.values[0]*float64(below) >= float64(above) {
			return nil, Say("The second number is too large to go with the first.")
		}
		for i := range all {
			all[i].mm += a.values[0] * float64(below)
		}
		above = below
	}
	return all, Phrase{}
}

// within is the unit of an amount that follows one in unit above: said, or understood as in
// 5 ft 6, 1 m 68 and 22" 1/2. It is 0 when the two do not go together.
func (a amount) within(above unit) unit {
	below := a.unit
	switch {
	case below == 0 && a.part:
		below = above
	case below == 0 && above == foot:
		below = inch
	case below == 0 && above == metre:
		below = centimetre
	}
	if below.imperial() != above.imperial() || below > above || below == above && !a.part {
		return 0
	}
	return below
}

// possible are the meanings that lie within the question's bounds or so close to them, each length once.
func (q Question) possible(all []sized, slack float64) []sized {
	var in []sized
	for _, s := range all {
		near := func(o sized) bool { return math.Abs(o.mm-s.mm) < 0.05 }
		if s.mm >= q.Min-slack && s.mm <= q.Max+slack && !slices.ContainsFunc(in, near) {
			in = append(in, s)
		}
	}
	return in
}

// sameTwice takes a length said in two units, 57 cm / 22 1/2 in, by the first of them.
func (q Question) sameTwice(a, b []sized) (float64, *Problem) {
	for _, x := range a {
		for _, y := range b {
			if x.unit.imperial() != y.unit.imperial() && math.Abs(x.mm-y.mm) <= sameLength {
				return x.mm, nil
			}
		}
	}
	if a[0].unit.imperial() == b[0].unit.imperial() {
		return 0, q.problem("I read two lengths, %s and %s. Please give one at a time.", BothUnits(a[0].mm), BothUnits(b[0].mm))
	}
	return 0, q.problem("You wrote %s and also %s, which is not the same. Please say which of them the tape shows.", BothUnits(a[0].mm), BothUnits(b[0].mm))
}

// outside says that a length can't be, and which unit would make it one that can.
func (q Question) outside(typed string, amounts []amount) *Problem {
	limits := Say("Here it lies between %s and %s.", BothUnits(q.Min), BothUnits(q.Max))
	v, said := amounts[0].values[0], amounts[0].unit
	if q.HatSizes && said == 0 && v >= 5 && v < 10 {
		return q.problem("%s is too small for a length here. If it is a hat size, please say which kind, with the letters US, UK or FR.", quoted(typed))
	}
	if said != 0 && len(amounts) == 1 {
		for _, meant := range []struct {
			unit unit
			name Phrase
		}{{inch, Say("inches")}, {centimetre, Say("centimetres")}, {millimetre, Say("millimetres")}} {
			if mm := v * float64(meant.unit); mm >= q.Min && mm <= q.Max {
				return q.problem("I read %s, and that can't be right here. Did you mean %s, so %s? Then please write it with that unit. %s",
					quoted(typed), meant.name, BothUnits(mm), limits)
			}
		}
	}
	return q.problem("I read %s, and that can't be right in centimetres or in inches. %s Please look again.", quoted(typed), limits)
}

// stored is a length as an answer keeps it.
func stored(mm float64) string { return strconv.FormatFloat(mm, 'f', 1, 64) }
