package fitting

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// rows of the linear programmes here: six for balance and one for how hard the
// head is pressed.
const rows = 7

// column is what one variable of a programme adds to each row.
type column [rows]float64

func (c column) times(k float64) column {
	for i := range c {
		c[i] *= k
	}
	return c
}

// take subtracts k times d. Written out, this and dot are nearly all the time of
// a programme.
func (c *column) take(k float64, d *column) {
	c[0] -= k * d[0]
	c[1] -= k * d[1]
	c[2] -= k * d[2]
	c[3] -= k * d[3]
	c[4] -= k * d[4]
	c[5] -= k * d[5]
	c[6] -= k * d[6]
}

func (c *column) dot(d *column) float64 {
	return c[0]*d[0] + c[1]*d[1] + c[2]*d[2] + c[3]*d[3] + c[4]*d[4] + c[5]*d[5] + c[6]*d[6]
}

// tableau is a linear programme, columns·x = right with x >= 0, at one of its
// corners: the simplex method on the full tableau, column by column. Entries of
// about one are assumed.
type tableau struct {
	columns []column
	right   column
	given   []column  // as at first; its last is the right side
	basic   [rows]int // the variable that is basic in each row, or made up
	open    int       // only columns before it may enter
	pivots  int
}

const (
	madeUp     = -1    // basic in a row before any variable is; zero once the balance is met
	leastPivot = 1e-12 // a smaller entry counts as zero
	leastGain  = 1e-11 // of what is pushed, for each unit of the variable that enters
	unmet      = 1e-11 // sum of what made-up variables may keep
	mostPivots = 400   // of one push: 12 to 40 are met
	hurried    = 100   // pivots after which the rule is Bland's, which never cycles
)

// newTableau finds a corner of the programme using the first open columns only.
// It reports false when there is none.
func newTableau(columns []column, right column, open int) (*tableau, bool) {
	given := append(slices.Clone(columns), right)
	columns = slices.Clone(columns)
	t := &tableau{columns: columns, right: right, given: given, open: open}
	for i := range t.basic {
		t.basic[i] = madeUp
		if right[i] < 0 {
			t.right[i] = -right[i]
			for j := range columns {
				columns[j][i] = -columns[j][i]
			}
		}
	}
	for t.pivots < mostPivots {
		rest, made := t.wanting()
		if rest <= unmet {
			t.clear()
			t.settle()
			return t, true
		}
		j := t.enter(made, madeUp)
		if j < 0 {
			return t, false
		}
		t.pivot(t.leave(j, false), j)
	}
	return t, false
}

// wanting is how much of the right side the made-up variables still carry, and
// the rows in which they do.
func (t *tableau) wanting() (rest float64, made column) {
	for i, k := range t.basic {
		if k == madeUp {
			rest += t.right[i]
			made[i] = 1
		}
	}
	return rest, made
}

// clear makes some variable basic where a made-up one is left at zero. A row
// without any says nothing of the open columns and keeps it.
func (t *tableau) clear() {
	for i, k := range t.basic {
		if k != madeUp {
			continue
		}
		t.right[i] = 0
		best, size := -1, leastPivot
		for j := range t.columns[:t.open] {
			if a := math.Abs(t.columns[j][i]); a > size {
				best, size = j, a
			}
		}
		if best >= 0 {
			t.pivot(i, best)
		}
	}
}

// enter picks the open column with the greatest gain, which is its entries times
// worth, or, in a hurry, the first with any; -1 when there is none. One column,
// that of the variable pushed, is left out.
func (t *tableau) enter(worth column, but int) int {
	best, most := -1, leastGain
	for j := range t.columns[:t.open] {
		if g := t.columns[j].dot(&worth); g > most && j != but {
			if t.pivots > hurried {
				return j
			}
			best, most = j, g
		}
	}
	return best
}

// leave picks the row whose variable first falls to zero as column j enters; -1
// when none does. held says that made-up variables must stay at zero.
func (t *tableau) leave(j int, held bool) int {
	best, least := -1, math.Inf(1)
	for i, a := range t.columns[j] {
		if held && t.basic[i] == madeUp && math.Abs(a) > leastPivot {
			return i
		}
		if a <= leastPivot {
			continue
		}
		ratio := max(t.right[i], 0) / a
		if ratio < least || ratio == least && t.before(i, best, j) {
			best, least = i, ratio
		}
	}
	return best
}

// before breaks a tie: the larger pivot is the more exact, Bland's rule wants the
// variable of the lower number.
func (t *tableau) before(i, best, j int) bool {
	if t.pivots > hurried {
		return t.basic[i] < t.basic[best]
	}
	return t.columns[j][i] > t.columns[j][best]
}

// pivot makes variable j basic in row i.
func (t *tableau) pivot(i, j int) {
	t.pivots++
	by := t.columns[j].times(1 / t.columns[j][i])
	by[i] = 1 - 1/t.columns[j][i] // so that the row itself comes out divided
	for k := range t.columns {
		t.columns[k].take(t.columns[k][i], &by)
	}
	t.right.take(t.right[i], &by)
	t.basic[i] = j
}

// rowOf is the row in which variable k is basic, or -1.
func (t *tableau) rowOf(k int) int {
	for i, b := range t.basic {
		if b == k {
			return i
		}
	}
	return -1
}

// value is that of variable k at this corner.
func (t *tableau) value(k int) float64 {
	if i := t.rowOf(k); i >= 0 {
		return t.right[i]
	}
	return 0
}

// least goes to the corner where variable k is least and returns it.
func (t *tableau) least(k int) float64 { return t.settled(k, t.push(k, 1, 0)) }

// most goes to the corner where variable k is greatest and returns it: +Inf when
// it has no upper end.
func (t *tableau) most(k int) float64 { return t.settled(k, t.raise(k, math.Inf(1))) }

func (t *tableau) settled(k int, x float64) float64 {
	if math.IsInf(x, 0) || math.IsNaN(x) {
		return x
	}
	t.settle()
	return t.value(k)
}

// raise is most as the pivots leave it, or as soon as it is past enough.
func (t *tableau) raise(k int, enough float64) float64 {
	if t.rowOf(k) < 0 {
		i := t.leave(k, true)
		if i < 0 {
			return math.Inf(1)
		}
		t.pivot(i, k)
	}
	return t.push(k, -1, enough)
}

// push changes a basic variable, down for sign 1 and up for -1, as far as it
// goes, or until it passes enough. NaN says that it did not come to rest.
func (t *tableau) push(k int, sign, enough float64) float64 {
	for end := t.pivots + mostPivots; t.pivots < end; {
		row, j := t.rowOf(k), -1
		if row >= 0 && -sign*t.right[row] <= -sign*enough {
			var worth column
			worth[row] = sign
			j = t.enter(worth, k)
		}
		if j < 0 {
			return t.value(k)
		}
		i := t.leave(j, true)
		if i < 0 {
			return math.Inf(1)
		}
		t.pivot(i, j)
	}
	return math.NaN()
}

// settle works out the values at this corner once more from the programme as it
// was given, so that what the pivots have lost comes back.
func (t *tableau) settle() {
	basis := mat.NewDense(rows, rows, nil)
	for k, j := range t.basic {
		if j == madeUp {
			basis.Set(k, k, 1)
		} else {
			basis.SetCol(k, t.given[j][:])
		}
	}
	right := t.given[len(t.given)-1]
	var x mat.VecDense
	if x.SolveVec(basis, mat.NewVecDense(rows, right[:])) == nil {
		copy(t.right[:], x.RawVector().Data)
	}
}

// copyTo puts another tableau at the same corner, to go its own way.
func (t *tableau) copyTo(other *tableau) {
	columns := append(other.columns[:0], t.columns...)
	*other = *t
	other.columns = columns
}
