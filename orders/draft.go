package orders

import (
	"context"
)

func (s *Store) Begin(ctx context.Context, door string, consent Answer) (Draft, error) {
	return Draft{}, errTodo
}
func (s *Store) Draft(ctx context.Context, id string) (Draft, error)         { return Draft{}, errTodo }
func (s *Store) DraftByLink(ctx context.Context, link string) (Draft, error) { return Draft{}, errTodo }
func (s *Store) Answer(ctx context.Context, draftID, key string, a Answer) (Draft, error) {
	return Draft{}, errTodo
}
