package orders

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// A unit is its length in millimetres; 0 when none was said.
type unit float64

const (
	millimetre unit = 1
	centimetre unit = 10
	metre      unit = 1000
	inch       unit = 25.4
	foot       unit = 304.8
)

func (u unit) imperial() bool { return u == inch || u == foot }

type pieceKind int

const (
	filler pieceKind = iota // changes nothing: "about", "and"
	figure
	fraction
	unitWord
	dash  // a minus, a range, or the hyphen of 22-1/2
	apart // between two ways of saying one length
)

// A piece is one sign or word of a length as typed.
type piece struct {
	kind   pieceKind
	values []float64 // what the figures can stand for: "1,680" is 1.68 or 1680
	unit   unit
}

// An amount is one number with the unit said beside it.
type amount struct {
	values []float64
	part   bool // a fraction by itself, as the 1/2 of 22" 1/2
	unit   unit
}

// readLength finds the lengths that were typed: usually one, two when it was said in two ways; else it
// says why there are none.
func readLength(typed string) ([][]amount, Phrase) {
	pieces, c := split(asSpelled(typed))
	var lengths [][]amount
	for _, one := range sections(pieces) {
		var amounts []amount
		if c.Empty() {
			amounts, c = gather(one)
		}
		lengths = append(lengths, amounts)
	}
	if c.Empty() && len(lengths) == 0 {
		c = Say("I found no number in %s.", quoted(typed))
	}
	return lengths, c
}

var (
	figures = regexp.MustCompile(`^[.,]?\d+(?:[.,]\d+)*`)
	over    = regexp.MustCompile(`^ ?/ ?(\d{1,2})(?:$|[^\d.,]|[.,](?:$|\D))`)
	words   = regexp.MustCompile(`(?s)^(?:\p{L}+(?:'\p{L}+)*|''|.)`)
)

// split cuts text into pieces.
func split(text string) ([]piece, Phrase) {
	var pieces []piece
	for text = strings.TrimSpace(text); text != ""; text = strings.TrimSpace(text) {
		sign := figures.FindString(text)
		if sign == "" {
			sign = words.FindString(text)
			text = text[len(sign):]
			p, known := meaning(sign)
			if !known {
				return nil, Say("I don't understand %s there.", quoted(sign))
			}
			pieces = append(pieces, p)
			continue
		}
		text = text[len(sign):]
		if below := over.FindStringSubmatchIndex(text); below != nil {
			if value, ok := fractionOf(sign, text[below[2]:below[3]]); ok {
				text = text[below[3]:]
				pieces = append(pieces, piece{kind: fraction, values: []float64{value}})
				continue
			}
		}
		values := figuresMean(sign)
		if values == nil {
			return nil, Say("I can't read the figures %s.", quoted(sign))
		}
		pieces = append(pieces, piece{kind: figure, values: values})
	}
	return pieces, Phrase{}
}

func meaning(sign string) (piece, bool) {
	if u, ok := unitWords[sign]; ok {
		return piece{kind: unitWord, unit: u}, true
	}
	kind, ok := otherSigns[sign]
	return piece{kind: kind}, ok
}

// fractionOf takes the fractions that are on a ruler; any other stroke divides two lengths.
func fractionOf(above, below string) (float64, bool) {
	a, errA := strconv.Atoi(above)
	b, errB := strconv.Atoi(below)
	onRuler := slices.Contains([]int{2, 3, 4, 5, 6, 8, 10, 12, 16, 32, 64}, b)
	if errA != nil || errB != nil || !onRuler || a >= b || a == 0 {
		return 0, false
	}
	return float64(a) / float64(b), true
}

// figuresMean returns what figures with points and commas can stand for; nil when they are no number.
func figuresMean(s string) []float64 {
	groups := strings.FieldsFunc(s, func(r rune) bool { return r == '.' || r == ',' })
	signs := strings.Map(func(r rune) rune {
		if r == '.' || r == ',' {
			return r
		}
		return -1
	}, s)
	whole, last := strings.Join(groups, ""), groups[len(groups)-1]
	if len(whole) > 12 {
		return nil
	}
	decimal := parsed(strings.TrimSuffix(whole, last) + "." + last)
	thousands := inThousands(groups)
	switch {
	case signs == "":
		return []float64{parsed(whole)}
	case len(groups) == 1: // ".5"
		return []float64{decimal}
	case len(groups) != len(signs)+1: // ",5,5"
		return nil
	case len(signs) == 1 && thousands && groups[0] != "0":
		return []float64{decimal, parsed(whole)}
	case len(signs) == 1:
		return []float64{decimal}
	case strings.Count(signs, signs[:1]) == len(signs) && thousands:
		return []float64{parsed(whole)}
	case strings.Count(signs, signs[:1]) == len(signs)-1 && signs[len(signs)-1] != signs[0] && inThousands(groups[:len(groups)-1]):
		return []float64{decimal}
	}
	return nil
}

func inThousands(groups []string) bool {
	for _, g := range groups[1:] {
		if len(g) != 3 {
			return false
		}
	}
	return true
}

// parsed reads plain figures with at most one point, which can't fail.
func parsed(figures string) float64 {
	v, _ := strconv.ParseFloat(figures, 64)
	return v
}

// sections divides pieces at the signs that stand between two lengths.
func sections(pieces []piece) [][]piece {
	var all [][]piece
	var one []piece
	for _, p := range append(pieces, piece{kind: apart}) {
		switch {
		case p.kind == filler:
		case p.kind != apart:
			one = append(one, p)
		case len(one) > 0:
			all, one = append(all, one), nil
		}
	}
	return all
}

// gather joins whole numbers, fractions and units into amounts.
func gather(pieces []piece) ([]amount, Phrase) {
	var amounts []amount
	kindAt := func(i int) pieceKind {
		if i < len(pieces) {
			return pieces[i].kind
		}
		return filler
	}
	for i := 0; i < len(pieces); i++ {
		p := pieces[i]
		switch {
		case p.kind == dash && len(amounts) == 0:
			return nil, Say("A length can't be less than nothing. Please leave out the minus sign.")
		case p.kind == dash:
			return nil, Say("That is a range. Please give the one length that the tape shows.")
		case p.kind == unitWord:
			return nil, Say("There is a unit without a number before it.")
		}
		a := amount{values: p.values, part: p.kind == fraction}
		if p.kind == figure && kindAt(i+1) == dash && kindAt(i+2) == fraction {
			i++
		}
		if p.kind == figure && kindAt(i+1) == fraction {
			i++
			a.values = sums(a.values, pieces[i].values)
		}
		if kindAt(i+1) == dash && kindAt(i+2) == unitWord {
			i++
		}
		if kindAt(i+1) == unitWord {
			i++
			a.unit = pieces[i].unit
		}
		amounts = append(amounts, a)
	}
	return amounts, Phrase{}
}

func sums(a, b []float64) []float64 {
	var all []float64
	for _, x := range a {
		for _, y := range b {
			all = append(all, x+y)
		}
	}
	return all
}
