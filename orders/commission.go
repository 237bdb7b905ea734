package orders

import (
	"context"
)

func (s *Store) Commissions(ctx context.Context) ([]Commission, error) { return nil, errTodo }
func (s *Store) Commission(ctx context.Context, id string) (Commission, error) {
	return Commission{}, errTodo
}
func (s *Store) CommissionByLink(ctx context.Context, link string) (Commission, error) {
	return Commission{}, errTodo
}
func (s *Store) History(ctx context.Context, commissionID string) ([]Move, error) {
	return nil, errTodo
}

// Move enters a stage; a *Problem says why it is not allowed; ErrConflict when version is old.
func (s *Store) Move(ctx context.Context, id string, version int, to Stage, by, why string) (Commission, error) {
	return Commission{}, errTodo
}

// Revoke ends the client's private links and returns the commission with its new generation.
func (s *Store) Revoke(ctx context.Context, commissionID string) (Commission, error) {
	return Commission{}, errTodo
}
