package fitting

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize/convex/lp"
	"pgregory.net/rapid"
)

// otherSimplex is the slow twin: the least of variable k, or with sign -1 the
// greatest, by gonum's simplex method, which shares nothing with ours.
func otherSimplex(columns []column, right column, k int, sign float64) (float64, error) {
	a := mat.NewDense(rows, len(columns), nil)
	for j, c := range columns {
		for i, x := range c {
			a.Set(i, j, x)
		}
	}
	cost := make([]float64, len(columns))
	cost[k] = sign
	value, _, err := lp.Simplex(cost, a, right[:], 1e-10, nil)
	return sign * value, err
}

// gaveUp says that the other method broke down, which it does where a hat sits
// level without friction.
func gaveUp(err error) bool {
	return err != nil && !errors.Is(err, lp.ErrInfeasible) && !errors.Is(err, lp.ErrUnbounded)
}

func TestSimplexAgreesWithAnother(t *testing.T) {
	feasible := 0
	rapid.Check(t, func(t *rapid.T) {
		b := anyBearing(t)
		columns := append(b.cones(anyFriction(t)), b.tension())
		right, k := b.still(), len(columns)-1
		ours, ok := newTableau(columns, right, len(columns))
		least, err := otherSimplex(columns, right, k, 1)
		if gaveUp(err) {
			return
		}
		require.Equal(t, err == nil, ok, "one finds a balance and the other none: %v", err)
		if !ok {
			return
		}
		feasible++
		if rapid.Bool().Draw(t, "by Bland's rule") {
			ours.pivots = hurried + 1
		}
		require.InDelta(t, least, ours.least(k), 1e-8, "least")
		most, err := otherSimplex(columns, right, k, -1)
		if gaveUp(err) {
			return
		} else if err != nil {
			most = math.Inf(1)
		}
		if got := ours.most(k); math.IsInf(most, 1) {
			require.Equal(t, most, got, "no upper end")
		} else {
			require.InDelta(t, most, got, 1e-8*max(1, most), "most")
		}
	})
	require.Positive(t, feasible, "no programme had a solution")
}

// programme is one of few variables, the rows that are not used left empty.
func programme(right []float64, columns ...[]float64) ([]column, column) {
	var all []column
	for _, c := range columns {
		var wide column
		copy(wide[:], c)
		all = append(all, wide)
	}
	var r column
	copy(r[:], right)
	return all, r
}

func TestSimplexOnSmallProgrammes(t *testing.T) {
	// x + y + s = 4, x - y = 1: x from 1 to 2.5
	columns, right := programme([]float64{4, 1}, []float64{1, 1}, []float64{1, -1}, []float64{1, 0})
	s, ok := newTableau(columns, right, 3)
	require.True(t, ok)
	assert.InDelta(t, 1, s.least(0), 1e-12)
	assert.InDelta(t, 2.5, s.most(0), 1e-12)
	assert.InDelta(t, 1.5, s.value(1), 1e-12)
	assert.InDelta(t, 1, s.least(0), 1e-12, "and back")

	// x = -1 has no x >= 0
	columns, right = programme([]float64{-1}, []float64{1})
	_, ok = newTableau(columns, right, 1)
	assert.False(t, ok)

	// x - y = 1 has no upper end
	columns, right = programme([]float64{1}, []float64{1}, []float64{-1})
	s, ok = newTableau(columns, right, 2)
	require.True(t, ok)
	assert.Equal(t, math.Inf(1), s.most(1))

	// a row that says nothing of the open columns still binds the one that is pushed
	columns, right = programme([]float64{1, 0}, []float64{1, 0}, []float64{-1, -1})
	s, ok = newTableau(columns, right, 1)
	require.True(t, ok)
	assert.Zero(t, s.most(1))

	// a variable that must be zero takes its row from the made-up one
	columns, right = programme([]float64{1, 1}, []float64{1, 1}, []float64{1, -1}, []float64{1, 1})
	s, ok = newTableau(columns, right, 3)
	require.True(t, ok)
	assert.NotContains(t, s.basic[:2], madeUp)
	assert.Zero(t, s.most(1))
}

// Beale's programme of 1955, on which the plain method goes round in circles for
// ever, its objective as a row.
func TestSimplexOnBealesProgramme(t *testing.T) {
	columns, right := programme([]float64{0, 0, 1, 0},
		[]float64{0.25, 0.5, 0, -0.75}, []float64{-60, -90, 0, 150}, []float64{-0.04, -0.02, 1, -0.02}, []float64{9, 3, 0, 6},
		[]float64{1, 0, 0, 0}, []float64{0, 1, 0, 0}, []float64{0, 0, 1, 0}, []float64{0, 0, 0, 1})
	s, ok := newTableau(columns, right, len(columns))
	require.True(t, ok)
	assert.InDelta(t, 0.05, s.most(7), 1e-12)
}
