package orders

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// The words of lengths in the languages that the form speaks. They are looked up in small letters and
// without accents, since many leave those out.

var unitWords = map[string]unit{
	"mm": millimetre, "mms": millimetre, "millimetre": millimetre, "millimetres": millimetre, "millimeter": millimetre, "millimeters": millimetre,
	"milimetro": millimetre, "milimetros": millimetre,
	"cm": centimetre, "cms": centimetre, "centimetre": centimetre, "centimetres": centimetre, "centimeter": centimetre, "centimeters": centimetre,
	"centimetro": centimetre, "centimetros": centimetre,
	"m": metre, "metre": metre, "metres": metre, "meter": metre, "meters": metre, "metro": metre, "metros": metre,
	`"`: inch, "''": inch, "in": inch, "ins": inch, "inch": inch, "inches": inch,
	"pouce": inch, "pouces": inch, "po": inch, "pulgada": inch, "pulgadas": inch, "pulg": inch, "plg": inch,
	"'": foot, "ft": foot, "foot": foot, "feet": foot, "pied": foot, "pieds": foot, "pie": foot, "pies": foot,
}

var otherSigns = byWord(map[pieceKind]string{
	dash:  "- to till",
	apart: "or ou o / = ( ) [ ] , ; | soit decir",
	filler: "about approx approximately around roughly circa ca exactly it is it's its i get got my head round measures measured the tape says shows " +
		"a an of and plus & + hat size hatsize ~ ≈ . : ! " +
		"environ vers mon ma le la les de du des tour tete fait est c'est mesure j'ai un une et exactement taille chapeau ruban " +
		"aproximadamente aprox unos unas mi el cabeza mide es son una y tengo exactamente talla sombrero contorno cinta mas",
})

func byWord(words map[pieceKind]string) map[string]pieceKind {
	all := map[string]pieceKind{}
	for kind, list := range words {
		for _, word := range strings.Fields(list) {
			all[word] = kind
		}
	}
	return all
}

// asSpelled is a length in the spelling that split knows: small letters without accents, figures in
// place of numbers and fractions in words.
func asSpelled(typed string) string {
	text := withoutAccents(spelled(typed))
	for _, p := range phrases {
		text = p.said.ReplaceAllString(text, p.text)
	}
	text = fractionSaid.ReplaceAllStringFunc(text, fractionFigures)
	text = numberSaid.ReplaceAllStringFunc(text, numberFigures)
	return pointSaid.ReplaceAllString(text, "$1.$2")
}

// withoutAccents takes accents off letters, and off nothing else.
func withoutAccents(s string) string {
	var out strings.Builder
	onLetter := false
	for _, r := range norm.NFD.String(s) {
		if accent := r >= '\u0300' && r <= '\u036f'; accent && onLetter {
			continue
		}
		onLetter = unicode.IsLetter(r)
		out.WriteRune(r)
	}
	return out.String()
}

// phrases are said for a sign, or for nothing.
var phrases = []struct {
	said *regexp.Regexp
	text string
}{
	{regexp.MustCompile(`\b(?:more or less|a peu pres|plus ou moins|mas o menos)\b`), " "},
	{regexp.MustCompile(`-(?:and|et|y)-`), " and "},
}

var pointSaid = regexp.MustCompile(`(\d) (?:point|comma|virgule|punto|coma) (\d)`)

// Numerators and denominators of fractions in words.
var (
	above = map[string]int{
		"a": 1, "an": 1, "one": 1, "un": 1, "une": 1, "una": 1, "two": 2, "deux": 2, "dos": 2, "three": 3, "trois": 3, "tres": 3,
		"five": 5, "cinq": 5, "cinco": 5, "seven": 7, "sept": 7, "siete": 7,
	}
	below = map[string]int{
		"half": 2, "demi": 2, "demie": 2, "medio": 2, "media": 2, "third": 3, "tiers": 3, "tercio": 3,
		"quarter": 4, "quart": 4, "cuarto": 4, "fourth": 4, "eighth": 8, "8th": 8, "huitieme": 8, "octavo": 8, "sixteenth": 16, "16th": 16, "seizieme": 16,
	}
	fractionSaid = regexp.MustCompile(`\b(?:(\d{1,2}|` + oneOf(above) + `)[ -]+)?(` + oneOf(below) + `)s?\b`)
)

// fractionFigures is "3/4" for three quarters. A number that stands before a fraction and is none of
// its parts stays: 57 half.
func fractionFigures(said string) string {
	m := fractionSaid.FindStringSubmatch(said)
	number, part := m[1], below[m[2]]
	n, isWord := above[number]
	if !isWord {
		_, _ = fmt.Sscan(number, &n)
	}
	switch {
	case number == "":
		return fmt.Sprintf(" 1/%d ", part)
	case n < part:
		return fmt.Sprintf(" %d/%d ", n, part)
	}
	return fmt.Sprintf(" %d 1/%d ", n, part)
}

// Numbers in words, up to what is found round a head in centimetres and on a person in inches.
var (
	ones = map[string]int{
		"one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9,
		"deux": 2, "trois": 3, "quatre": 4, "cinq": 5, "sept": 7, "huit": 8, "neuf": 9,
		"dos": 2, "tres": 3, "cuatro": 4, "cinco": 5, "seis": 6, "siete": 7, "ocho": 8, "nueve": 9,
	}
	teens = map[string]int{
		"ten": 10, "eleven": 11, "twelve": 12, "thirteen": 13, "fourteen": 14, "fifteen": 15, "sixteen": 16, "seventeen": 17, "eighteen": 18, "nineteen": 19,
		"dix": 10, "onze": 11, "douze": 12, "treize": 13, "quatorze": 14, "quinze": 15, "seize": 16, "dix-sept": 17, "dix-huit": 18, "dix-neuf": 19, "soixante-dix": 70,
		"diez": 10, "once": 11, "doce": 12, "trece": 13, "catorce": 14, "quince": 15, "dieciseis": 16, "diecisiete": 17, "dieciocho": 18, "diecinueve": 19,
		"veintiun": 21, "veintiuno": 21, "veintidos": 22, "veintitres": 23, "veinticuatro": 24, "veinticinco": 25, "veintiseis": 26, "veintisiete": 27, "veintiocho": 28, "veintinueve": 29,
	}
	tens = map[string]int{
		"twenty": 20, "thirty": 30, "forty": 40, "fifty": 50, "sixty": 60, "seventy": 70,
		"vingt": 20, "trente": 30, "quarante": 40, "cinquante": 50, "soixante": 60,
		"veinte": 20, "treinta": 30, "cuarenta": 40, "cincuenta": 50, "sesenta": 60, "setenta": 70,
	}
	numberSaid = regexp.MustCompile(`\b(?:(` + oneOf(teens) + `|` + oneOf(ones) + `)|(` + oneOf(tens) + `)(?:[ -]+(?:(?:et|y)[ -]+)?(` + oneOf(ones) + `|un))?)\b`)
)

func numberFigures(said string) string {
	m := numberSaid.FindStringSubmatch(said)
	n := teens[m[1]] + ones[m[1]] + tens[m[2]] + ones[m[3]]
	if m[3] == "un" { // alone it is no more than an article
		n++
	}
	return fmt.Sprint(n)
}

// oneOf is a pattern for any of the words, the longest first so that no part of a word is taken for it.
func oneOf(words map[string]int) string {
	var list []string
	for word := range words {
		list = append(list, regexp.QuoteMeta(word))
	}
	slices.SortFunc(list, func(a, b string) int { return len(b) - len(a) })
	return strings.Join(list, "|")
}
