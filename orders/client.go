package orders

import (
	"context"
)

func (s *Store) Client(ctx context.Context, id string) (Client, error) { return Client{}, errTodo }
