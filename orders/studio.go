package orders

import (
	"context"
)

func (s *Store) Studio(ctx context.Context) (Studio, error)                { return Studio{}, errTodo }
func (s *Store) SaveStudio(ctx context.Context, st Studio) (Studio, error) { return Studio{}, errTodo }
