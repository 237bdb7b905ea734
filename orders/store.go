package orders

import (
	"context"
	"errors"
	"time"
)

var errTodo = errors.New("not written yet")

type Store struct{}

type Settings struct {
	Now    func() time.Time // nil: time.Now
	Origin string           // public address put into links, "http://localhost:8017"
}

// Open opens or makes the database in folder dir and brings its schema up to date.
func Open(ctx context.Context, dir string, set Settings) (*Store, error) { return nil, errTodo }
func (s *Store) Close() error                                            { return nil }
func (s *Store) Ping(ctx context.Context) error                          { return errTodo }

// Once runs f in one transaction, only if nothing from source was handled before, else ErrSeen.
func (s *Store) Once(ctx context.Context, source string, f func(*Store) error) error { return errTodo }

// Together runs f in one transaction.
func (s *Store) Together(ctx context.Context, f func(*Store) error) error { return errTodo }
