package orders

import (
	"context"

	"perchbook/fitting"
)

// Fitted is a commission's proposal and what the milliner has made of it so far.
type Fitted struct {
	Card     MeasureCard
	Working  Working
	Input    fitting.Input // without her figures
	Proposal fitting.Solution
	Settled  fitting.Solution // with her figures; equal to Proposal without any
	Refusal  *fitting.Refusal // why there is no proposal
	Broken   *fitting.Refusal // why her figures can't be
	Missing  []string         // what is still needed before a proposal: question keys
	Child    bool
}

func (s *Store) Fitted(ctx context.Context, commissionID string) (Fitted, error) {
	return Fitted{}, errTodo
}
func (s *Store) SaveWorking(ctx context.Context, w Working) (Working, error) {
	return Working{}, errTodo
}
