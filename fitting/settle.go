package fitting

import (
	"cmp"
	"math"
	"slices"
)

// settled is the hat that is advised.
type settled struct {
	found
	holds    bool    // by its elastic alone
	tried    found   // where it does not: the last hat that was to
	freehand float64 // where it landed on a block: the base that it would have without one, mm
}

// settle chooses a hat, makes it one that its elastic holds, and lets its base
// land on one of the workroom's blocks: as far as there is such a hat inside the
// limits.
func (k task) settle() (chosen settled, other found) {
	free, other := k.choose()
	if free.exceeded > 0 {
		return settled{found: free, tried: free}, other
	}
	s := k.going(directionOf(free.trial.slope))
	chosen = s.steadied(free)
	if k.in.Hat.Base == nil {
		chosen = k.landed(s, chosen)
	}
	return chosen, other
}

func (s search) steadied(f found) settled {
	s.person = f.person
	g, holds := s.steady(f)
	if !holds {
		return settled{found: f, tried: g}
	}
	return settled{found: g, holds: true, tried: g}
}

// landed lets the base land on a block near the one it would have: the best of
// the hats there that are held as well as this one.
func (k task) landed(s search, free settled) settled {
	best := free
	for _, block := range k.in.Workroom.near(free.trial.base, s.low.base) {
		s.low.base, s.high.base, s.person = block, block, k.search.person
		f := s.from(free.trial.figures, [len(bounds)]float64{}, exactly)
		if f = s.ownSides(f); f.exceeded > 0 {
			continue
		}
		there := s.steadied(f)
		there.freehand = free.trial.base
		if (there.holds || !free.holds) && (best.freehand == 0 || there.better(best.found)) {
			best = there
		}
	}
	return best
}

// freehandSays is why the base is no block's.
func (k task) freehandSays() string {
	if len(k.in.Workroom.Blocks) == 0 {
		return ""
	}
	return ", freehand: on no block near it does the hat keep every limit"
}

// unheld says that nothing is gained by another place for the hat.
func (s settled) unheld() Note {
	most := s.person.hold.most
	says := "The elastic alone does not hold this hat, nor one near it."
	if b := s.tried.tightest(); b.room(s.tried) < roughly {
		says += " " + b.who + " stands in the way."
	}
	return Note{"hold.tension_n", s.person.hold.light, &most, byBalance, says}
}

// Workroom is what the maker has, and how she works.
type Workroom struct {
	Blocks []Length `json:"blocks_mm,omitempty"` // across, of the round blocks that she owns
	Side   Side     `json:"side,omitempty"`      // that she tilts to where neither a wish nor a parting says; default Right
}

// What a block can be: our choices, wide of what bases are shaped on.
const leastBlock, mostBlock = 20 * Millimetre, 400 * Millimetre

// A base lands on one of so many nearest blocks, none farther from what it would
// be than that: our choices.
const (
	blocksTried   = 3
	farthestBlock = 25.0 // mm
	sameBlock     = 0.05 // mm
)

func (w Workroom) check() error {
	for _, b := range w.Blocks {
		if err := within("workroom.blocks_mm", "A block", b, leastBlock, mostBlock); err != nil {
			return err
		}
	}
	return nil
}

// near are the blocks to try for a base, in mm, none under the least.
func (w Workroom) near(base, least float64) []float64 {
	off := func(b float64) float64 { return math.Abs(b - base) }
	var list []float64
	for _, b := range w.Blocks {
		if mm := b.Millimetres(); mm >= least && mm <= largestBase && off(mm) <= farthestBlock {
			list = append(list, mm)
		}
	}
	slices.SortStableFunc(list, func(a, b float64) int { return cmp.Compare(off(a), off(b)) })
	return list[:min(len(list), blocksTried)]
}

// block is the one that a base is shaped on, nil without one of its size.
func (w Workroom) block(base Length) *Length {
	for _, b := range w.Blocks {
		if math.Abs(float64(b-base)) <= sameBlock {
			return &b
		}
	}
	return nil
}
