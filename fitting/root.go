package fitting

import "math"

// rising finds where the rising function f, of values about one, is zero between
// lo and hi, to 1e-13 in f, by regula falsi in the Illinois form. It returns NaN
// when f has no change of sign there, is NaN, or does not settle.
func rising(f func(float64) float64, lo, hi float64) float64 {
	flo, fhi := f(lo), f(hi)
	if !(flo <= 0 && fhi >= 0) {
		return math.NaN()
	}
	for range 100 {
		x := hi - fhi*(hi-lo)/(fhi-flo)
		fx := f(x)
		if math.Abs(fx) <= 1e-13 {
			return x
		}
		if (fx > 0) == (fhi > 0) {
			flo /= 2 // the end that stays loses weight, or it would stay for ever
		} else {
			lo, flo = hi, fhi
		}
		hi, fhi = x, fx
	}
	return math.NaN()
}
