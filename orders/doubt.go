package orders

import (
	"math"
	"strconv"
	"strings"
)

// Doubt returns the mean of readings of one tape in mm and the standard deviation of its error in mm:
// sqrt(bias² + repeat² / n), bias shared by all readings and repeat each reading's own. For the
// client bias is 6 and repeat 3, for the maker 2 and 1.5: modelling choices, near the 7 mm for one
// self-taken reading implied by Sullivan et al. 2014, Molecular Autism 5:2. Both are NaN without readings.
func Doubt(readings []float64, takenBy string) (mean, sd float64) {
	bias, repeat := 6.0, 3.0
	if takenBy == ByMaker {
		bias, repeat = 2, 1.5
	}
	n := float64(len(readings))
	if n == 0 {
		return math.NaN(), math.NaN()
	}
	for _, r := range readings {
		mean += r / n
	}
	return mean, math.Sqrt(bias*bias + repeat*repeat/n)
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
