package orders

import (
	"slices"
	"strconv"
	"strings"
	"time"
)

func (q Question) parseChoice(said []string, _ Said, _ time.Time) (Answer, *Problem) {
	typed := strings.Join(said, " ")
	o, ok := q.option(typed)
	if !ok {
		return Answer{}, q.unknown(typed)
	}
	return Answer{Value: o.Value, Said: typed}, nil
}

func (q Question) parseChoices(said []string, _ Said, _ time.Time) (Answer, *Problem) {
	chosen := map[string]bool{}
	for _, typed := range said {
		for _, part := range q.parts(typed) {
			o, ok := q.option(part)
			if !ok {
				return Answer{}, q.unknown(part)
			}
			chosen[o.Value] = true
		}
	}
	if len(chosen) == 0 {
		return Answer{}, q.unknown(strings.Join(said, ", "))
	}
	var values []string
	for _, o := range q.Options {
		if chosen[o.Value] {
			values = append(values, o.Value)
		}
	}
	if chosen[None] && len(values) > 1 {
		return Answer{}, q.problem("You chose “%s” together with something else. Please choose one or the other.", q.label(None))
	}
	return Answer{Value: strings.Join(values, " "), Said: strings.Join(said, ", ")}, nil
}

// parts splits what was typed into single options: "flowers, a veil", "1 and 3", "1 3".
func (q Question) parts(typed string) []string {
	if _, ok := q.option(typed); ok {
		return []string{typed}
	}
	apart := strings.NewReplacer(" and ", ",", "&", ",", "+", ",", ";", ",", "\n", ",", " or ", ",").Replace(spelled(typed))
	parts := strings.FieldsFunc(apart, func(r rune) bool { return r == ',' })
	if words := strings.Fields(apart); len(parts) == 1 && len(words) > 1 {
		single := func(w string) bool { _, ok := q.option(w); return ok }
		if !slices.ContainsFunc(words, func(w string) bool { return !single(w) }) {
			return words
		}
	}
	return slices.DeleteFunc(parts, func(p string) bool { return strings.TrimSpace(p) == "" })
}

// option finds what was said: an option's value, its label, or its number in the list.
func (q Question) option(typed string) (Option, bool) {
	said := folded(typed)
	for i, o := range q.Options {
		if said != "" && (said == folded(o.Value) || said == folded(o.Label) || said == strconv.Itoa(i+1)) {
			return o, true
		}
	}
	return Option{}, false
}

func (q Question) unknown(typed string) *Problem {
	return q.problem("I read %s, which is not one of the answers here. You can say: %s.", quoted(typed), q.choicesInWords())
}

func (q Question) choicesInWords() Phrase {
	said := make([]Phrase, len(q.Options))
	for i, o := range q.Options {
		said[i] = Say("%d. %s", i+1, Phrase{English: o.Label})
	}
	return Joined("; ", said)
}

func (q Question) label(value string) Phrase {
	for _, o := range q.Options {
		if o.Value == value {
			return Phrase{English: o.Label}
		}
	}
	return asTyped(value)
}
