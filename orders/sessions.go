package orders

import (
	"time"
)

// Sessions keeps browser sessions for the session library (Find, Commit, Delete).
func (s *Store) Sessions() *Sessions { return &Sessions{} }

type Sessions struct{}

func (s *Sessions) Find(token string) (data []byte, found bool, err error) {
	return nil, false, errTodo
}
func (s *Sessions) Commit(token string, data []byte, expiry time.Time) error { return errTodo }
func (s *Sessions) Delete(token string) error                                { return errTodo }
