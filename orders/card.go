package orders

import (
	"context"
)

func (s *Store) Cards(ctx context.Context, commissionID string) ([]MeasureCard, error) {
	return nil, errTodo
}
func (s *Store) AddCard(ctx context.Context, card MeasureCard) (MeasureCard, error) {
	return MeasureCard{}, errTodo
}
