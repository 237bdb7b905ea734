package fitting

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

var wide = box{[unknowns]float64{-10, -10, -10, -10, -10}, [unknowns]float64{10, 10, 10, 10, 10}}

// Rosenbrock's valley in the first two unknowns, and a bowl in the rest.
func valley(x [unknowns]float64) (r residuals) {
	r[0], r[1] = 10*(x[1]-x[0]*x[0]), 1-x[0]
	r[2], r[3], r[4] = x[2]-3, 2*(x[3]+4), x[4]
	return r
}

func TestDescendFindsTheLowestPoint(t *testing.T) {
	x := descend(valley, [unknowns]float64{-1.2, 1, 0, 0, 9}, wide, 1e-9)
	for i, want := range [unknowns]float64{1, 1, 3, -4, 0} {
		assert.InDelta(t, want, x[i], 1e-6, "unknown %d", i)
	}
}

// Where the lowest point lies outside the box it comes to rest on the side: at
// x₀ = 0.5 the valley's floor is at x₁ = 0.25.
func TestDescendStaysInTheBox(t *testing.T) {
	b := wide
	b.high[0], b.low[2], b.high[2] = 0.5, 1, 1
	x := descend(valley, [unknowns]float64{-1.2, 1, 0, 0, 9}, b, 1e-9)
	for i, want := range [unknowns]float64{0.5, 0.25, 1, -4, 0} {
		assert.InDelta(t, want, x[i], 1e-6, "unknown %d", i)
	}
}

func TestDescendNeverClimbs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var x [unknowns]float64
		for i := range x {
			x[i] = rapid.Float64Range(-9, 9).Draw(t, "x")
		}
		wavy := func(x [unknowns]float64) (r residuals) {
			for i := range x {
				r[i] = math.Sin(3*x[i]) + 0.3*x[i]
			}
			return r
		}
		before, after := wavy(x), wavy(descend(wavy, x, wide, 1e-6))
		require.LessOrEqual(t, after.sum(), before.sum())
	})
}

// Steps to where the sum is not a number are shortened, and a start there is
// given back.
func TestDescendKeepsOutOfTheUnknown(t *testing.T) {
	f := func(x [unknowns]float64) (r residuals) {
		r[0] = math.Sqrt(x[0]) - 2
		return r
	}
	assert.InDelta(t, 4, descend(f, [unknowns]float64{0.01}, wide, 1e-9)[0], 1e-6)
	assert.Equal(t, -1.0, descend(f, [unknowns]float64{-1}, wide, 1e-9)[0])
}
