package fitting

import (
	"cmp"
	"errors"
	"math"
	"slices"
)

// search looks for the best hat for a person among the figures from low to high.
// A figure that is given has both ends there.
type search struct {
	person    *person
	low, high figures
	without   string   // key of a term or a limit that is left out
	toward    *figures // to be as near to as may be, in place of the soft pulls; nil without
}

// found is where a search has come to.
type found struct {
	person   *person
	trial    trial
	held     [len(bounds)]float64 // how hard each limit holds the hat back
	exceeded float64              // how far it is outside the limits
	score    float64
	dropped  bool // not followed to the end: it could not be the best
}

// better says whether f is to be preferred: nearer the limits, or among hats as
// near, the one with the better score.
func (f found) better(than found) bool {
	if d := f.exceeded - than.exceeded; math.Abs(d) > 1e-3 || math.IsInf(f.exceeded, 1) != math.IsInf(than.exceeded, 1) {
		return d < 0
	}
	return f.score < than.score
}

// The method of multipliers: a limit enters the sum of squares with a multiplier
// that grows until the limit holds.
const (
	mostRounds   = 14
	firstGrip    = 100.0
	mostGrip     = 1e5
	firstStep    = 1e-3 // ends the first descent, in the search's unit
	insideMargin = 1e-6 // of spare, so that a limit is met and not only approached
	exactly      = 3e-7 // of spare: how well the limits that hold are met in the end
	roughly      = 1e-2 // the same, for what a reason says
)

// from descends from a start to the best hat near it.
func (s search) from(start figures, held [len(bounds)]float64, met float64) found {
	x := start.scaled()
	grip, before, small := firstGrip, math.Inf(1), firstStep
	var t trial
	for range mostRounds {
		x = s.descend(x, held, grip, small)
		t = s.person.try(s.figures(x))
		outside, moved := 0.0, 0.0
		for i, b := range bounds {
			if b.key == s.without {
				continue
			}
			spare := b.spare(s.person, &t) - insideMargin
			next := max(0, held[i]-grip*spare)
			moved = max(moved, math.Abs(next-held[i])/grip)
			outside = max(outside, -spare)
			held[i] = next
		}
		if !(moved >= met) && small <= met {
			break
		}
		if outside > before/4 && grip < mostGrip {
			grip *= 4
		}
		before = outside
		small = max(met, min(small, moved)/30)
	}
	return found{s.person, t, held, s.person.exceeded(&t), s.score(&t), false}
}

// figures are those of x, the base at an end of its range exactly there: the
// event's rule is met to the last digit.
func (s search) figures(x [unknowns]float64) figures {
	f := figuresFrom(x)
	f.base = max(s.low.base, min(f.base, s.high.base))
	return f
}

func (s search) descend(x [unknowns]float64, held [len(bounds)]float64, grip, small float64) [unknowns]float64 {
	f := func(x [unknowns]float64) residuals { return s.residuals(x, held, grip) }
	return descend(f, x, box{s.low.scaled(), s.high.scaled()}, small)
}

// pulls are the soft ones, or how far the hat is from where it is to be.
func (s search) pulls(r *residuals, t *trial) {
	if s.toward != nil {
		to := s.toward.scaled()
		for i, x := range t.figures.scaled() {
			r[i] = x - to[i]
		}
		return
	}
	for i, m := range terms {
		if m.key != s.without {
			r[i] = math.Sqrt(m.weight) * m.pull(s.person, t)
		}
	}
}

// score is what the search makes small of a hat inside the limits.
func (s search) score(t *trial) float64 {
	if s.toward == nil {
		return s.person.score(t)
	}
	var r residuals
	s.pulls(&r, t)
	return r.sum()
}

func (s search) residuals(x [unknowns]float64, held [len(bounds)]float64, grip float64) residuals {
	t := s.person.try(figuresFrom(x))
	var r residuals
	s.pulls(&r, &t)
	for i, b := range bounds {
		if b.key != s.without {
			r[len(terms)+i] = math.Sqrt(grip/2) * max(0, held[i]/grip-b.spare(s.person, &t)+insideMargin)
		}
	}
	return r
}

// What is searched: our choices. A brim that is nearly flat goes neither up nor
// down, and is left alone.
const (
	smallestBase, largestBase   = 60, 220
	farthestBack, farthestFront = -30, 60
	leastAside, mostAside       = 5, 60
	narrowest, widest           = 20, 200
	flattest, steepest          = 15, 80
)

// starts are where each search begins; figures that are given come instead. A
// drooping brim has more places to come to rest between head, eyes and cloth.
func (p *person) starts(d Direction) []figures {
	tilt, width := p.face.tilt().Degrees(), p.presence.width
	if d == Down {
		return []figures{
			{110, 16, tilt, 0.85 * width, -30}, {110, 17, tilt, 0.72 * width, -16}, {105, 5, tilt / 2, 0.7 * width, -20},
			{110, 8, 22, 0.75 * width, -45}, {112, 13, 5, 0.7 * width, -50}, {125, 18, tilt, width, -65},
		}
	}
	return []figures{{usualBase, usualForward, tilt, width, 55}, {100, 5, tilt / 2, 0.7 * width, 30}}
}

// lead is where a first descent from a start has come to.
type lead struct {
	x   [unknowns]float64
	sum float64 // with the limits not in full force yet: no more than the score of what it leads to
}

// best is the best hat with the brim going one way, with the elastic on its own
// sides. Leads that cannot beat a score, or come to the same place, are not
// followed; when none is, the best of them stands for what was dropped.
func (s search) best(d Direction, beat float64) found {
	leads := s.leads(d)
	best := found{person: s.person, trial: s.person.try(figuresFrom(leads[0].x)), exceeded: math.Inf(1), score: math.Inf(1), dropped: true}
	for i, l := range leads {
		if best.exceeded == 0 {
			beat = min(beat, best.score)
		}
		if l.sum >= beat {
			break
		}
		if i > 0 && !farther(l.x, leads[i-1].x, 10*firstStep) {
			continue
		}
		if f := s.from(figuresFrom(l.x), [len(bounds)]float64{}, exactly); best.dropped || f.better(best) {
			best = f
		}
	}
	if best.dropped {
		return best
	}
	return s.ownSides(best)
}

// leads are in the order of their promise.
func (s search) leads(d Direction) []lead {
	var leads []lead
	for _, start := range s.person.starts(d) {
		x := s.descend(start.scaled(), [len(bounds)]float64{}, firstGrip, firstStep)
		r := s.residuals(x, [len(bounds)]float64{}, firstGrip)
		sum := r.sum()
		if d == Down {
			sum += s.person.objected()
		}
		leads = append(leads, lead{x, sum})
	}
	slices.SortStableFunc(leads, func(l, m lead) int { return cmp.Compare(l.sum, m.sum) })
	return leads
}

const (
	halvings  = 6   // of the crossing that an elastic is found to bear
	wellOnOwn = -20 // mm of crossing with which it surely keeps to its own side
)

// ownSides returns f when both sides of its elastic come down where they belong.
// Else it returns the hat whose anchor has crossed the middle as far as it just
// may: inside the limits, or else too near the brow, for such a hat can be worn
// and one without a way for its elastic cannot. It returns f when there is none.
func (s search) ownSides(f found) found {
	if math.IsInf(f.exceeded, 1) || f.runsDown() {
		return f
	}
	if g := s.crossingLess(f); g.runsDown() && g.exceeded <= f.exceeded {
		return g
	}
	s.without = browKey
	return s.crossingLess(f)
}

// crossingLess halves in on the least change of f that its elastic bears.
func (s search) crossingLess(f found) found {
	least, most := float64(wellOnOwn), f.trial.crossing(s.person)
	best := f
	for range halvings {
		p := *s.person
		p.mostCrossing = (least + most) / 2
		there := search{&p, s.low, s.high, s.without, s.toward}.from(f.trial.figures, f.held, exactly)
		if there.runsDown() {
			best, least = there, p.mostCrossing
		} else {
			most = p.mostCrossing
		}
	}
	return best
}

// runsDown says whether the elastic keeps to its own sides. What else may be
// wrong with it is not the search's business.
func (f found) runsDown() bool {
	_, err := NewElastic(f.person.head, f.trial.seat, f.person.hair, f.person.anchor)
	var refused Refusal
	return !(errors.As(err, &refused) && refused.Field == "hat.sideways_deg")
}
