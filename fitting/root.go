package fitting

import "math"

// rising finds where the rising function f is zero between lo and hi, by regula
// falsi in the Illinois form, to the last few digits. It returns NaN when f does
// not change its sign there, or is itself NaN.
func rising(f func(float64) float64, lo, hi float64) float64 {
	flo, fhi := f(lo), f(hi)
	if !(flo <= 0 && fhi >= 0) {
		return math.NaN()
	}
	last := 0
	for range 100 {
		x := hi - fhi*(hi-lo)/(fhi-flo)
		fx := f(x)
		if fx == 0 || hi-lo < 1e-15*math.Abs(hi) {
			return x
		}
		switch {
		case fx < 0:
			lo, flo = x, fx
			if last < 0 {
				fhi /= 2
			}
			last = -1
		default:
			hi, fhi = x, fx
			if last > 0 {
				flo /= 2
			}
			last = 1
		}
		if math.Abs(fx) < 1e-15 {
			return x
		}
	}
	return (lo + hi) / 2
}
