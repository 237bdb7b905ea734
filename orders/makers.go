package orders

import (
	"context"
)

func (s *Store) Makers(ctx context.Context) ([]Maker, error)                 { return nil, errTodo }
func (s *Store) SaveMaker(ctx context.Context, m Maker) (Maker, error)       { return Maker{}, errTodo }
func (s *Store) MakerByName(ctx context.Context, name string) (Maker, error) { return Maker{}, errTodo }
