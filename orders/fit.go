package orders

import (
	"context"
	"errors"
	"fmt"

	"perchbook/fitting"
)

// Fitted is a commission's proposal and what the milliner has made of it so far.
type Fitted struct {
	Card      MeasureCard // the tapes in force: the maker's newest, else the client's
	Working   Working
	Input     fitting.Input      // without her figures
	Proposal  fitting.Solution   // worked out by the engine alone
	Proposals []fitting.Proposal // that one among its like: quiet, balanced, bold
	Settled   fitting.Solution   // with her figures; equal to Proposal without any
	Refusal   *fitting.Refusal   // why there is no proposal
	Broken    *fitting.Refusal   // why nothing can be settled: her figures, or the head
	Missing   []string           // what is still needed before a proposal: question keys
	Materials Materials          // of the workroom
	Rolls     []Roll             // that the hat may be cut from, and those that it was ever signed for
	Child     bool               // the engine knows adult heads only: nothing is proposed

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
	f.Input, f.Materials = inputOf(d.Answers, f.Card, st), st.Materials
	if f.Rolls, err = s.rollsFor(ctx, f.Working); err != nil {
		return Fitted{}, err
	}
	if err := s.teach(ctx, &f.Input.Learned); err != nil {
		return Fitted{}, err
	}
	if err := f.work(); err != nil {
		return Fitted{}, fmt.Errorf("fit commission %s: %w", c.ID, err)
	}
	return f, nil
}

// work asks the engine for the proposals, and for the hat with her figures.
func (f *Fitted) work() error {
	p, err := propose(f.Input)
	if err != nil {
		return err
	}
	f.Proposals, f.Proposal, f.Refusal = p.all, p.chosen, p.refusal
	f.Settled, f.settled, f.Broken = p.chosen, p.full, p.refusal
	if len(f.Working.Figures) > 0 {
		f.Settled, f.settled, f.Broken, err = settled(f.with(f.Working.Figures))
	}
	return err
}

// with is the input with figures of hers, and of the roll and on the reel that she chose.
func (f Fitted) with(figures map[string]float64) fitting.Input {
	in := withFigures(f.Input, figures)
	if r, there := roll(f.Rolls, figures[RollFigure]); there {
		r.Made.into(&in)
	}
	if r, there := f.Materials.Reel(figures[ReelFigure]); there {
		r.into(&in)
	}
	return in
}

// With is the same with other figures of hers, and keeps nothing.
func (f Fitted) With(figures map[string]float64) (Fitted, error) {
	f.Working.Figures = figures
	var err error
	f.Settled, f.settled, f.Broken, err = settled(f.with(figures))
	return f, err
}

// settled is the one hat that an input asks for, and the input with every figure of it. A refusal is no
// error.
func settled(in fitting.Input) (fitting.Solution, fitting.Input, *fitting.Refusal, error) {
	advice, err := fitting.Advise(in)
	var hat fitting.Solution
	if err == nil {
		in.Hat = advice.Hat
		hat, err = fitting.Solve(in)
	}
	var refusal fitting.Refusal
	if errors.As(err, &refusal) {
		return fitting.Solution{}, in, &refusal, nil
	}
	hat.Result.Reasons, hat.Result.Cautions = append(advice.Reasons, hat.Result.Reasons...), append(advice.Cautions, hat.Result.Cautions...)
	return hat, in, nil, err
}

// proposed is the engine's answer to an input.
type proposed struct {
	all     []fitting.Proposal
	chosen  fitting.Solution // of them, its result with the others in short
	full    fitting.Input    // with every figure of its hat
	refusal *fitting.Refusal // instead
}

// propose asks the engine. A refusal is no error.
func propose(in fitting.Input) (proposed, error) {
	all, err := fitting.Proposals(in)
	p := proposed{all: all, full: in}
	var refusal fitting.Refusal
	if errors.As(err, &refusal) {
		p.refusal = &refusal
		return p, nil
	}
	for _, one := range all {
		if one.Chosen {
			p.chosen, p.full.Hat = one.Solution, one.Hat
		}
	}
	p.chosen.Result = fitting.FitOf(all)
	return p, err
}
