package orders

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"perchbook/fitting"
)

// Fitted is a commission's proposal and what the milliner has made of it so far.
type Fitted struct {
	Card     MeasureCard // the tapes in force: the maker's newest, else the client's
	Working  Working
	Input    fitting.Input    // without her figures
	Proposal fitting.Solution // worked out by the engine alone
	Settled  fitting.Solution // with her figures; equal to Proposal without any
	Refusal  *fitting.Refusal // why there is no proposal
	Broken   *fitting.Refusal // why nothing can be settled: her figures, or the head
	Missing  []string         // what is still needed before a proposal: question keys
	Child    bool             // the engine knows adult heads only: nothing is proposed

	settled fitting.Input // with every figure of the hat
}

// Fitted works out a commission's proposal from the tapes, answers and figures that are there now.
// What keeps it from a proposal is in the result; the error is for what cannot be read.
func (s *Store) Fitted(ctx context.Context, commissionID string) (Fitted, error) {
	c, err := s.Commission(ctx, commissionID)
	if err != nil {
		return Fitted{}, err
	}
	d, err := s.Draft(ctx, c.DraftID)
	if err != nil {
		return Fitted{}, err
	}
	st, err := s.Studio(ctx)
	if err != nil {
		return Fitted{}, err
	}
	f := Fitted{Child: d.Answers["wearer"].Value == "child"}
	if f.Card, err = s.cardInForce(ctx, c.ID); err != nil {
		return Fitted{}, err
	}
	if f.Working, err = s.working(ctx, c.ID); err != nil {
		return Fitted{}, err
	}
	if f.Missing = f.Card.missing(); f.Child {
		f.Missing = nil
	}
	if f.Child || len(f.Missing) > 0 {
		return f, nil
	}
	f.Input = inputOf(d.Answers, f.Card, st)
	if err := f.work(st.Blocks); err != nil {
		return Fitted{}, fmt.Errorf("fit commission %s: %w", c.ID, err)
	}
	return f, nil
}

// work asks the engine for the proposal, and for the hat with her figures.
func (f *Fitted) work(blocks []float64) (err error) {
	if f.Proposal, f.settled, f.Refusal, err = land(f.Input, blocks); err != nil {
		return err
	}
	if len(f.Working.Figures) == 0 {
		f.Settled, f.Broken = f.Proposal, f.Refusal
		return nil
	}
	f.Settled, f.settled, f.Broken, err = land(withFigures(f.Input, f.Working.Figures), blocks)
	return err
}

// land lets a proposal's base land on one of the blocks that she owns, the nearest on which the hat
// has nothing more against it. Otherwise it stays freehand.
func land(in fitting.Input, blocks []float64) (fitting.Solution, fitting.Input, *fitting.Refusal, error) {
	free, full, refusal, err := propose(in)
	if err != nil || refusal != nil || in.Hat.Base != nil {
		return free, full, refusal, err
	}
	wanted := free.Result.Base.Diameter.Millimetres()
	for _, block := range nearest(blocks, wanted, in.Occasion.LeastBase) {
		in.Hat.Base = millimetres(block)
		landed, filled, refusal, err := propose(in)
		if err != nil {
			return free, full, nil, err
		}
		if refusal == nil && len(landed.Result.Cautions) <= len(free.Result.Cautions) {
			landed.Result.Reasons = append([]fitting.Note{onBlock(block, wanted)}, landed.Result.Reasons...)
			return landed, filled, nil, nil
		}
	}
	return free, full, nil, nil
}

// blocksTried is how many blocks may be tried before a hat stays freehand.
const blocksTried = 3

// nearest are the blocks nearest to the wanted width, of those that are not under the least.
func nearest(blocks []float64, wanted float64, least *fitting.Length) []float64 {
	var list []float64
	for _, b := range blocks {
		if least == nil || b >= least.Millimetres() {
			list = append(list, b)
		}
	}
	slices.SortStableFunc(list, func(a, b float64) int { return cmp.Compare(math.Abs(a-wanted), math.Abs(b-wanted)) })
	return list[:min(len(list), blocksTried)]
}

func onBlock(block, wanted float64) fitting.Note {
	return fitting.Note{
		Field: "hat.base_mm", Value: block, Source: "the workroom's own blocks",
		Says: fmt.Sprintf("The base is %.1f cm across, a block that you own; freehand it would be %.1f cm.", block/10, wanted/10),
	}
}

// propose is the engine's answer as geometry, and the input with all the figures that it chose. A
// refusal is no error.
func propose(in fitting.Input) (fitting.Solution, fitting.Input, *fitting.Refusal, error) {
	result, err := fitting.Fit(in)
	full := in
	var solution fitting.Solution
	if err == nil {
		full.Hat = whole(in.Hat, result)
		solution, err = fitting.Solve(full)
		solution.Result = result
	}
	var refusal fitting.Refusal
	if errors.As(err, &refusal) {
		return fitting.Solution{}, in, &refusal, nil
	}
	return solution, full, nil, err
}

// whole is the hat with the figures that were advised.
func whole(h fitting.Hat, r fitting.Result) fitting.Hat {
	h.Base, h.Forward, h.Sideways = &r.Base.Diameter, &r.Placement.Forward, &r.Placement.Sideways
	h.BrimWidth, h.BrimSlope = &r.Brim.Width, &r.Brim.Slope
	return h
}
