package fitting

import "math"

// unknowns is how many figures the advice may choose.
const unknowns = 5

// residuals are what a search makes small: the sum of their squares. There is
// one for each soft term and one for each hard limit.
type residuals [len(terms) + len(bounds)]float64

func (r *residuals) sum() float64 {
	sum := 0.0
	for _, x := range r {
		sum += x * x
	}
	return sum
}

// box holds what the unknowns may be. Where low is high the unknown is fixed.
type box struct{ low, high [unknowns]float64 }

func (b box) clamp(x [unknowns]float64) [unknowns]float64 {
	for i := range x {
		x[i] = max(b.low[i], min(x[i], b.high[i]))
	}
	return x
}

const (
	mostSteps    = 40 // of one descent
	mostRefusals = 12 // of a step, each time shortened
	leastDamping = 1e-6
	probe        = 1e-5 // for a derivative, in the unknowns' own unit
)

// descend makes the sum of squares of f smaller, from x, inside the box, by
// Levenberg and Marquardt's method. f must be smooth where it is not NaN; a
// step to where it is NaN is shortened. It ends with a step below small in every
// unknown. The same input takes the same steps.
func descend(f func([unknowns]float64) residuals, x [unknowns]float64, b box, small float64) [unknowns]float64 {
	x = b.clamp(x)
	r := f(x)
	least := r.sum()
	damping := 1e-3
	for range mostSteps {
		n := normalEquations(f, x, r, b)
		moved := false
		for range mostRefusals {
			step := n.solve(damping)
			next := x
			for i := range next {
				next[i] += step[i]
			}
			next = b.clamp(next)
			rNext := f(next)
			if sum := rNext.sum(); sum <= least { // false for NaN
				moved = farther(x, next, small)
				x, r, least, damping = next, rNext, sum, max(damping/8, leastDamping)
				break
			}
			damping *= 8
		}
		if !moved {
			break
		}
	}
	return x
}

func farther(x, y [unknowns]float64, than float64) bool {
	for i := range x {
		if math.Abs(x[i]-y[i]) > than {
			return true
		}
	}
	return false
}

// normal holds the normal equations of one step: (JᵀJ) step = -Jᵀr.
type normal struct {
	matrix [unknowns][unknowns]float64
	right  [unknowns]float64
}

// normalEquations leaves out the unknowns that are fixed, and those that lie at
// an end of the box and want to go beyond.
func normalEquations(f func([unknowns]float64) residuals, x [unknowns]float64, r residuals, b box) normal {
	var columns [unknowns]residuals
	for i := range x {
		if b.low[i] == b.high[i] {
			continue
		}
		h := probe
		if x[i]+h > b.high[i] {
			h = -probe
		}
		there := x
		there[i] += h
		moved := f(there)
		for k := range r {
			columns[i][k] = (moved[k] - r[k]) / h
		}
	}
	var n normal
	for i := range columns {
		n.right[i] = -columns[i].dot(&r)
		if x[i] == b.low[i] && n.right[i] <= 0 || x[i] == b.high[i] && n.right[i] >= 0 {
			columns[i], n.right[i] = residuals{}, 0
		}
	}
	for i := range columns {
		for j := range i + 1 {
			n.matrix[i][j] = columns[i].dot(&columns[j])
			n.matrix[j][i] = n.matrix[i][j]
		}
	}
	return n
}

func (r *residuals) dot(s *residuals) float64 {
	sum := 0.0
	for k := range r {
		sum += r[k] * s[k]
	}
	return sum
}

// solve returns the damped step by Cholesky's method. An unknown that nothing
// depends on stays.
func (n normal) solve(damping float64) [unknowns]float64 {
	var l [unknowns][unknowns]float64
	var y [unknowns]float64
	for i := range l {
		for j := range i + 1 {
			sum := n.matrix[i][j]
			if i == j {
				sum = sum*(1+damping) + 1e-12
			}
			for k := range j {
				sum -= l[i][k] * l[j][k]
			}
			if i == j {
				l[i][i] = math.Sqrt(sum)
			} else {
				l[i][j] = sum / l[j][j]
			}
		}
		y[i] = n.right[i]
		for k := range i {
			y[i] -= l[i][k] * y[k]
		}
		y[i] /= l[i][i]
	}
	for i := unknowns - 1; i >= 0; i-- {
		for k := i + 1; k < unknowns; k++ {
			y[i] -= l[k][i] * y[k]
		}
		y[i] /= l[i][i]
	}
	return y
}
