package server

import (
	"math"
	"strconv"
	"strings"

	"perchbook/fitting"
)

// An amount is one figure for people: rounded, with its unit, and in inches where a tape is near.
type amount struct{ Figure, Inches string }

func (a amount) String() string {
	if a.Inches == "" {
		return a.Figure
	}
	return a.Figure + " (" + a.Inches + ")"
}

const inch = 25.4 // mm, exactly

// tape is a length as it is read off a tape: to 0.1 cm and to an eighth of an inch.
func tape(mm float64) amount {
	return amount{decimal(mm/10, 1) + " cm", fitting.Eighths(math.Round(mm / inch * 8))}
}

// cloth is a length to cut: up to the next 0.5 cm and the next eighth of an inch, since cloth can be
// trimmed and not be made longer.
func cloth(mm float64) amount {
	const hair = 1e-6 // so that a whole number computed a hair too large stays what it is
	return amount{decimal(math.Ceil(mm/5-hair)/2, 1) + " cm", fitting.Eighths(math.Ceil(mm/inch*8 - hair))}
}

func angle(degrees float64) amount { return amount{Figure: decimal(degrees, 0) + "°"} }

// decimal is x with that many places, halves away from nought as people round, with a real minus sign
// and without minus nought.
func decimal(x float64, places int) string {
	scale := math.Pow10(places)
	s := strconv.FormatFloat(math.Round(x*scale)/scale, 'f', places, 64)
	if strings.Trim(s, "-0.") == "" {
		s = strings.TrimPrefix(s, "-")
	}
	return strings.Replace(s, "-", "−", 1)
}

// shortest is x as it would be typed: at most that many places, no trailing noughts.
func shortest(x float64, places int) string {
	scale := math.Pow10(places)
	return strconv.FormatFloat(math.Round(x*scale)/scale, 'f', -1, 64)
}

var hourNames = [...]string{"twelve", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven"}

// clockWords says where on a clock laid on the head the hat points, to the nearest quarter of an
// hour: 12 is the front, 3 the wearer's right.
func clockWords(clock float64) string {
	quarters := int(math.Round(math.Mod(clock, 12)*4)) % 48
	hour, next := hourNames[quarters/4], hourNames[(quarters/4+1)%12]
	return [...]string{hour + " o’clock", "quarter past " + hour, "half past " + hour, "quarter to " + next}[quarters%4]
}

// plainNumber reads a number as people type it, with a comma or a point, full-width digits or a
// real minus sign. It reads no exponents, no hex and no "NaN".
func plainNumber(text string) (float64, bool) {
	t := strings.Map(func(r rune) rune {
		switch {
		case r >= '０' && r <= '９':
			return r - '０' + '0'
		case r == ',' || r == '，' || r == '．':
			return '.'
		case r == '−' || r == '–':
			return '-'
		}
		return r
	}, strings.TrimSpace(text))
	if t == "" || len(t) > 12 || strings.Trim(t, "+-.0123456789") != "" {
		return 0, false
	}
	x, err := strconv.ParseFloat(t, 64)
	return x, err == nil
}
