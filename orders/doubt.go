package orders

import (
	"math"
	"strconv"
	"strings"

	"perchbook/fitting"
)

// Doubt returns the mean of readings of one tape in mm and the standard deviation of its error in mm, as
// the engine has it by who took them and how many there are. Both are NaN without readings.
func Doubt(readings []float64, takenBy string) (mean, sd float64) {
	n := len(readings)
	if n == 0 {
		return math.NaN(), math.NaN()
	}
	for _, r := range readings {
		mean += r / float64(n)
	}
	m := fitting.Measures{TakenBy: fitting.Taker(takenBy), Readings: n}
	return mean, m.TapeDoubt().Millimetres()
}

// Millimetres are the lengths in an answer to Readings or Length; nil when it was skipped or left for later.
func (a Answer) Millimetres() []float64 {
	var mm []float64
	for _, field := range strings.Fields(a.Value) {
		if v, err := strconv.ParseFloat(field, 64); err == nil {
			mm = append(mm, v)
		}
	}
	return mm
}
