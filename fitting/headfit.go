package fitting

import "math"

// clue is one thing known of a head: the model's figure should be the taken one,
// within a standard deviation. A tape has its field in the contract and its name
// for people; what is known of all heads has neither.
type clue struct {
	field, what string
	model       func(Head) float64
	taken, sd   float64
}

func (c clue) miss(h Head) float64 { return (c.model(h) - c.taken) / c.sd }

// build is a head by what is solved for: A and C in mm and, unless calipers
// settle it, the index B/A.
type build [3]float64

func (b build) head() Head { return Head{Length(b[0]), Length(b[0] * b[2]), Length(b[1])} }

// possible says whether heads are as tall and as broad as that. NaN is not.
func (b build) possible() bool {
	h := b.head()
	return h.C >= leastHeight*h.A && h.C <= mostHeight*h.A && b[2] >= leastIndex && b[2] <= mostIndex
}

// probes are what the build is changed by for a derivative.
var probes = build{1e-4, 1e-4, 1e-6}

// likeliest is the head that makes the sum of the clues' squared misses least.
type likeliest struct {
	head  Head
	moves [3]Head   // its doubt: changes of one standard deviation, independent of each other
	off   []float64 // each clue against what the others make of it, in standard deviations; 0 where they leave it open
	other []float64 // what the others make of it, in the clue's unit
}

const (
	mostCorrections = 30
	settledWithin   = 1e-9 // of a step, in mm and of the index
)

// likeliestHead solves the clues from a start near the solution, by Gauss and
// Newton's method; free is how many figures of the build may move. With no more
// clues than that they are met exactly and the start has to be the solution. Where
// the clues contradict each other so much that no head is found it returns false,
// and how far each is off at the start.
func likeliestHead(clues []clue, start build, free int) (likeliest, bool) {
	first := equationsOf(clues, start, free)
	if len(clues) == free {
		return first.likeliest(clues), true
	}
	e := first
	for range mostCorrections {
		next, step := e.at, e.step()
		for i := range next {
			next[i] += step[i]
		}
		if !next.possible() {
			break
		}
		e = equationsOf(clues, next, free)
		if math.Abs(step[0])+math.Abs(step[1])+math.Abs(step[2]) < settledWithin {
			return e.likeliest(clues), true
		}
	}
	return first.likeliest(clues), false
}

// equations are the clues, straightened at one build.
type equations struct {
	at     build
	misses []float64
	slopes []build // of each miss
	root   [3]build
}

func equationsOf(clues []clue, at build, free int) equations {
	e := equations{at: at, misses: make([]float64, len(clues)), slopes: make([]build, len(clues))}
	for k, c := range clues {
		e.misses[k] = c.miss(at.head())
		for i := range free {
			more, less := at, at
			more[i] += probes[i]
			less[i] -= probes[i]
			e.slopes[k][i] = (c.miss(more.head()) - c.miss(less.head())) / (2 * probes[i])
		}
	}
	e.root = e.covarianceRoot(free)
	return e
}

// covarianceRoot is R with RᵀR the inverse of the slopes' squares: the inverse of
// their lower Cholesky factor. What is not free has rows of 0.
func (e equations) covarianceRoot(free int) (r [3]build) {
	var l [3]build
	for i := range free {
		for j := range i + 1 {
			sum := 0.0
			for _, s := range e.slopes {
				sum += s[i] * s[j]
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
		r[i][i] = 1 / l[i][i]
		for j := range i {
			sum := 0.0
			for k := j; k < i; k++ {
				sum += l[i][k] * r[k][j]
			}
			r[i][j] = -sum / l[i][i]
		}
	}
	return r
}

// step leads to the least sum of squares of the straightened clues.
func (e equations) step() (step build) {
	for _, row := range e.root {
		along := 0.0
		for k, s := range e.slopes {
			along -= s.dot(row) * e.misses[k]
		}
		for i := range step {
			step[i] += along * row[i]
		}
	}
	return step
}

// redundant is the least part of a clue that the others must say for it to be
// held against them.
const redundant = 1e-6

func (e equations) likeliest(clues []clue) likeliest {
	l := likeliest{head: e.at.head(), off: make([]float64, len(clues)), other: make([]float64, len(clues))}
	for i, row := range e.root {
		l.moves[i] = Head{Length(row[0]), Length(row[0]*e.at[2] + e.at[0]*row[2]), Length(row[1])}
	}
	for k, c := range clues {
		rest := 1.0 // the part that the clue itself does not decide
		for _, row := range e.root {
			said := e.slopes[k].dot(row)
			rest -= said * said
		}
		if rest > redundant {
			l.off[k], l.other[k] = e.misses[k]/math.Sqrt(rest), c.taken+c.sd*e.misses[k]/rest
		}
	}
	return l
}

func (b build) dot(c build) float64 { return b[0]*c[0] + b[1]*c[1] + b[2]*c[2] }
