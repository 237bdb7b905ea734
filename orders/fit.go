package orders

import (
	"context"
	"errors"
	"fmt"

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
	if err := f.work(); err != nil {
		return Fitted{}, fmt.Errorf("fit commission %s: %w", c.ID, err)
	}
	return f, nil
}

// work asks the engine for the proposal, and for the hat with her figures.
func (f *Fitted) work() (err error) {
	if f.Proposal, f.settled, f.Refusal, err = propose(f.Input); err != nil {
		return err
	}
	if len(f.Working.Figures) == 0 {
		f.Settled, f.Broken = f.Proposal, f.Refusal
		return nil
	}
	f.Settled, f.settled, f.Broken, err = propose(withFigures(f.Input, f.Working.Figures))
	return err
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
