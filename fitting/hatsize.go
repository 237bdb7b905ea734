package fitting

import (
	"fmt"
	"math"
)

// SizeSystem is a way of numbering head sizes.
type SizeSystem string

// The systems in use. A continental size is the girth in centimetres and needs
// no system.
const (
	SizeUS     SizeSystem = "US"     // girth in inches over π, in eighths
	SizeUK     SizeSystem = "UK"     // an eighth less than the US size
	SizeFrench SizeSystem = "French" // half the girth in centimetres above 47, in halves
)

// GirthOfSize returns the girth that a hat size stands for: the middle of the
// girths that are given this size. It refuses a size of no adult head, as a girth
// that is wrong, and a system it does not know.
func GirthOfSize(system SizeSystem, size float64) (Length, error) {
	var girth Length
	switch system {
	case SizeUS:
		girth = Length(math.Pi*size) * Inch
	case SizeUK:
		girth = Length(math.Pi*(size+1.0/8)) * Inch
	case SizeFrench:
		girth = Length(2*size+47) * Centimetre
	default:
		return 0, Refusal{"measures.girth_mm", fmt.Sprintf("%.20q is no system of hat sizes known here: say US, UK or French, or the girth itself.", string(system))}
	}
	return girth, within("measures.girth_mm", "The head of that hat size", girth, leastGirth, mostGirth)
}

// SizeOfGirth returns the size that a girth is given, to the nearest step of the
// system; NaN for a system that is not known.
func SizeOfGirth(system SizeSystem, girth Length) float64 {
	nearest := func(x, steps float64) float64 { return math.Round(x*steps) / steps }
	us := nearest(girth.Inches()/math.Pi, 8)
	switch system {
	case SizeUS:
		return us
	case SizeUK:
		return us - 1.0/8
	case SizeFrench:
		return nearest((girth.Centimetres()-47)/2, 2)
	}
	return math.NaN()
}
