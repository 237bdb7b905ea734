package orders

import (
	"math"
	"regexp"
	"strings"

	"perchbook/fitting"
)

// continental sizes are the girth in centimetres.
const continental fitting.SizeSystem = "continental"

// hatSystems are the words that name a way of numbering hat sizes, without accents.
var hatSystems = map[string]fitting.SizeSystem{
	"eeuu": fitting.SizeUS, "ee.uu": fitting.SizeUS, "ee.uu.": fitting.SizeUS, "americain": fitting.SizeUS, "americaine": fitting.SizeUS, "americana": fitting.SizeUS, "americano": fitting.SizeUS,
	"anglais": fitting.SizeUK, "anglaise": fitting.SizeUK, "britannique": fitting.SizeUK, "inglesa": fitting.SizeUK, "ingles": fitting.SizeUK, "britanica": fitting.SizeUK, "britanico": fitting.SizeUK,
	"francais": fitting.SizeFrench, "francaise": fitting.SizeFrench, "francesa": fitting.SizeFrench, "frances": fitting.SizeFrench, "francia": fitting.SizeFrench,
	"ue": continental, "europeen": continental, "europeenne": continental, "europea": continental, "europeo": continental,
	"us": fitting.SizeUS, "usa": fitting.SizeUS, "u.s.": fitting.SizeUS, "u.s": fitting.SizeUS, "american": fitting.SizeUS,
	"uk": fitting.SizeUK, "u.k.": fitting.SizeUK, "u.k": fitting.SizeUK, "british": fitting.SizeUK, "english": fitting.SizeUK, "gb": fitting.SizeUK,
	"fr": fitting.SizeFrench, "french": fitting.SizeFrench, "france": fitting.SizeFrench,
	"eu": continental, "european": continental, "continental": continental,
}

var (
	hatWord    = regexp.MustCompile(`^(?:hat|size|hatsize|hat-size|sizes|taille|chapeau|talla|sombrero|de)$`)
	letterSize = regexp.MustCompile(`^(?:x*[sl]|m|x*-?(?:small|large)|medium|petite?|moyenne?|pequena|mediana|grande?)$`)
	glued      = regexp.MustCompile(`^(us|uk|fr|eu)(\d.*)$|^(.*\d)(us|uk|fr|eu)$`)
)

// hatSizeIn finds a hat size, which counts as one only when its system is named: 7 1/8 US, UK 7,
// French 5. It is "false, nil" for everything else.
func (q Question) hatSizeIn(typed string) (mm float64, is bool, p *Problem) {
	var system fitting.SizeSystem
	var rest []string
	for _, word := range hatWords(typed) {
		named, isSystem := hatSystems[word]
		switch {
		case isSystem && system != "":
			return 0, false, q.askLength(Say("I read more than one hat size."))
		case isSystem:
			system = named
		case !hatWord.MatchString(word):
			rest = append(rest, word)
		}
	}
	if len(rest) == 1 && letterSize.MatchString(rest[0]) {
		return 0, false, q.askLength(Say("Letter sizes differ from maker to maker, so I can't tell a length from one."))
	}
	if system == "" {
		return 0, false, nil
	}
	lengths, c := readLength(strings.Join(rest, " "))
	if !c.Empty() {
		return 0, false, q.askLength(c)
	}
	if len(lengths) > 1 || len(lengths[0]) > 1 || lengths[0][0].unit != 0 {
		return 0, false, q.askLength(Say("I read a hat size and something else. Please give what the tape shows, or the hat size alone."))
	}
	girth, err := girthOfSize(system, lengths[0][0].values[0])
	if mm = girth.Millimetres(); err != nil || !(mm >= q.Min && mm <= q.Max) {
		return 0, false, q.askLength(Say("I read %s, and there is no such hat size.", quoted(typed)))
	}
	return mm, true, nil
}

// sizeStep is how many mm lie between the hat size that was typed and the next one; 0 for what names no
// way of numbering them.
func sizeStep(typed string) float64 {
	for _, word := range hatWords(typed) {
		switch system, named := hatSystems[word]; {
		case !named:
			continue
		case system == fitting.SizeUS || system == fitting.SizeUK:
			return (math.Pi / 8 * fitting.Inch).Millimetres()
		}
		return fitting.Centimetre.Millimetres()
	}
	return 0
}

func girthOfSize(system fitting.SizeSystem, size float64) (fitting.Length, error) {
	if system == continental {
		return fitting.Length(size) * fitting.Centimetre, nil
	}
	return fitting.GirthOfSize(system, size)
}

// hatWords are the words of a hat size, US7 taken apart.
func hatWords(typed string) []string {
	var words []string
	for _, word := range strings.Fields(withoutAccents(spelled(typed))) {
		word = strings.Trim(word, "():,")
		if m := glued.FindStringSubmatch(word); m != nil {
			words = append(words, strings.Fields(m[1]+" "+m[2]+" "+m[3]+" "+m[4])...)
			continue
		}
		words = append(words, word)
	}
	return words
}
