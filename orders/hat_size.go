package orders

import (
	"math"
	"regexp"
	"slices"
	"strings"
)

// A hatSystem is a way of numbering hat sizes, with the words that name it.
type hatSystem struct {
	words []string
	girth func(size float64) float64 // mm; NaN for no such size
}

var hatSystems = []hatSystem{
	{[]string{"us", "usa", "u.s.", "u.s", "american", "america"}, func(s float64) float64 { return s * math.Pi * 25.4 }},
	{[]string{"uk", "u.k.", "u.k", "british", "english", "gb"}, func(s float64) float64 { return (s + 0.125) * math.Pi * 25.4 }},
	{[]string{"fr", "french", "france"}, func(s float64) float64 { return 10 * (2*s + 47) }},
	{[]string{"eu", "european", "metric"}, func(s float64) float64 { return 10 * s }},
}

var (
	hatWord    = regexp.MustCompile(`^(?:hat|size|hatsize|hat-size|sizes)$`)
	letterSize = regexp.MustCompile(`^(?:x*[sl]|m|x*-?(?:small|large)|medium)$`)
	glued      = regexp.MustCompile(`^(us|uk|fr|eu)(\d.*)$|^(.*\d)(us|uk|fr|eu)$`)
)

// hatSizeIn finds a hat size, which counts as one only when its system is named: 7 1/8 US, UK 7,
// French 5. It is "false, nil" for everything else.
func (q Question) hatSizeIn(typed string) (mm float64, is bool, p *Problem) {
	var system *hatSystem
	var rest []string
	for _, word := range hatWords(typed) {
		i := slices.IndexFunc(hatSystems, func(s hatSystem) bool { return slices.Contains(s.words, word) })
		switch {
		case i >= 0 && system != nil:
			return 0, false, q.askLength("I read more than one hat size.")
		case i >= 0:
			system = &hatSystems[i]
		case !hatWord.MatchString(word):
			rest = append(rest, word)
		}
	}
	if len(rest) == 1 && letterSize.MatchString(rest[0]) {
		return 0, false, q.askLength("Letter sizes differ from maker to maker, so I can't tell a length from one.")
	}
	if system == nil {
		return 0, false, nil
	}
	lengths, c := readLength(strings.Join(rest, " "))
	if c != "" {
		return 0, false, q.askLength(c)
	}
	if len(lengths) > 1 || len(lengths[0]) > 1 || lengths[0][0].unit != 0 {
		return 0, false, q.askLength("I read a hat size and something else. Please give what the tape shows, or the hat size alone.")
	}
	mm = system.girth(lengths[0][0].values[0])
	if !(mm >= q.Min && mm <= q.Max) {
		return 0, false, q.askLength(complaint("I read " + quoted(typed) + ", and there is no such hat size."))
	}
	return mm, true, nil
}

// hatWords are the words of a hat size, US7 taken apart.
func hatWords(typed string) []string {
	var words []string
	for _, word := range strings.Fields(spelled(typed)) {
		word = strings.Trim(word, "():,")
		if m := glued.FindStringSubmatch(word); m != nil {
			words = append(words, strings.Fields(m[1]+" "+m[2]+" "+m[3]+" "+m[4])...)
			continue
		}
		words = append(words, word)
	}
	return words
}
