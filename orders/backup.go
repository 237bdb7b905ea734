package orders

import (
	"context"
)

func (s *Store) Backup(ctx context.Context, file string) error { return errTodo }
