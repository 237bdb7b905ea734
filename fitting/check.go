package fitting

import (
	"fmt"
	"math"
	"slices"
)

// words refuses a word that the contract does not know. An empty one means that
// nothing was said.
func (in Input) words() error {
	for _, w := range []struct {
		field, word string
		known       []string
	}{
		{"measures.taken_by", string(in.Measures.TakenBy), []string{"client", "maker"}},
		{"measures.sex", string(in.Measures.Sex), []string{"female", "male", "unknown"}},
		{"face.shape", string(in.Face.Shape), []string{"oval", "round", "long", "square", "heart", "pear"}},
		{"hair.worn", string(in.Hair.Worn), []string{"up", "down", "short"}},
		{"hair.knot", string(in.Hair.Knot), []string{"none", "nape", "back", "top"}},
		{"hair.parting", string(in.Hair.Parting), []string{"left", "middle", "right", "none"}},
		{"hair.grip", string(in.Hair.Grip), []string{"fine", "usual", "textured"}},
		{"hat.anchor", string(in.Hat.Anchor), []string{"fraction", "ears", "steadiest"}},
		{"hat.layers", string(in.Hat.Layers), []string{"four one way", "three turned", "two turned", "two stiffened"}},
		{"wish.side", string(in.Wish.Side), []string{"left", "right", "middle"}},
		{"wish.presence", string(in.Wish.Presence), []string{"quiet", "balanced", "bold"}},
		{"workroom.side", string(in.Workroom.Side), []string{"left", "right"}},
		{"wish.brim", string(in.Wish.Brim), []string{"up", "down"}},
	} {
		if w.word != "" && !slices.Contains(w.known, w.word) {
			return Refusal{w.field, fmt.Sprintf("%.40q is not known here: say one of %s.", w.word, list(w.known, "or"))}
		}
	}
	return nil
}

// between refuses a number outside the bounds. NaN is outside every bound.
func between(field, what string, x, least, most float64, unit string) error {
	if x >= least && x <= most {
		return nil
	}
	return Refusal{field, fmt.Sprintf("%s should lie between %g and %g%s.", what, least, most, unit)}
}

// within refuses a length outside the bounds, saying which slip of units would
// explain it. NaN is outside every bound.
func within(field, what string, l, least, most Length) error {
	if l >= least && l <= most {
		return nil
	}
	return Refusal{field, fmt.Sprintf("%s should lie between %s and %s.%s Please take it again.",
		what, inCentimetres(least), inCentimetres(most), slip(l, least, most))}
}

// slip names the mistake in units that brings l between least and most.
func slip(l, least, most Length) string {
	slips := []struct {
		factor Length
		says   string
	}{
		{Inch / Centimetre, " It looks as if inches were typed as centimetres: read as inches it is %s."},
		{Centimetre / Inch, " It looks as if centimetres were typed as inches: read as centimetres it is %s."},
		{Centimetre, " It looks as if centimetres were typed as millimetres: read as centimetres it is %s."},
		{Inch, " It looks as if inches were typed as millimetres: read as inches it is %s."},
		{1 / Centimetre, " It looks as if millimetres were typed as centimetres: read as millimetres it is %s."},
	}
	for _, s := range slips {
		if meant := l * s.factor; meant >= least && meant <= most {
			return fmt.Sprintf(s.says, inCentimetres(meant))
		}
	}
	return ""
}

// inCentimetres writes a length for people.
func inCentimetres(l Length) string {
	return fmt.Sprintf("%.1f cm", math.Round(l.Millimetres())/10) // halves up, as every page rounds
}

// list writes words for people: "a, b or c".
func list(words []string, last string) string {
	said := words[0]
	for i, w := range words[1:] {
		if i == len(words)-2 {
			said += " " + last + " " + w
		} else {
			said += ", " + w
		}
	}
	return said
}
