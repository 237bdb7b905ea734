package orders

import (
	"context"
	"time"
)

// NewCode makes a one-time code of 128 bits or more; only its hash is stored.
func (s *Store) NewCode(ctx context.Context, purpose, subject string, lasts time.Duration) (string, error) {
	return "", errTodo
}

// UseCode spends a code and returns its subject, or ErrExpired.
func (s *Store) UseCode(ctx context.Context, purpose, code string) (string, error) {
	return "", errTodo
}

// PeekCode says whether a code would be good, without spending it.
func (s *Store) PeekCode(ctx context.Context, purpose, code string) error { return errTodo }
