package fitting

import (
	"fmt"
	"math"
)

// ToMark writes a length to cut for the bench: up to the next half centimetre and the
// next eighth of an inch, since cloth can be trimmed and not be made longer.
func ToMark(l Length) string {
	half := math.Ceil(float64((l - edgeSlack) / 5))
	return fmt.Sprintf("%g cm (%s)", half/2, Eighths(math.Ceil(float64((l-edgeSlack)*8/Inch))))
}

// toTape writes a length as a tape is read: to a tenth of a centimetre and an eighth
// of an inch.
func toTape(l Length) string {
	return fmt.Sprintf("%s (%s)", inCentimetres(l), Eighths(math.Round(float64(l*8/Inch))))
}

// Eighths says a whole number of eighths of an inch as a tape is read: "22 1/2 in".
func Eighths(n float64) string {
	sign := ""
	if n < 0 {
		sign, n = "−", -n
	}
	whole, part := int(n)/8, [...]string{"", "1/8", "1/4", "3/8", "1/2", "5/8", "3/4", "7/8"}[int(n)%8]
	switch {
	case part == "":
		return fmt.Sprintf("%s%d in", sign, whole)
	case whole == 0:
		return sign + part + " in"
	}
	return fmt.Sprintf("%s%d %s in", sign, whole, part)
}
