package orders

import (
	"context"
	"time"
)

// Free lists starts of free appointments of a kind from from to to, in time order.
func (s *Store) Free(ctx context.Context, kind string, from, to time.Time) ([]time.Time, error) {
	return nil, errTodo
}

// Book writes an appointment and a letter to the client in one transaction; ErrTaken, or a *Problem (past, outside hours).
func (s *Store) Book(ctx context.Context, commissionID, kind, place string, start time.Time) (Appointment, error) {
	return Appointment{}, errTodo
}
func (s *Store) Rebook(ctx context.Context, id string, version int, start time.Time) (Appointment, error) {
	return Appointment{}, errTodo
}
func (s *Store) Confirm(ctx context.Context, id string) (Appointment, error) {
	return Appointment{}, errTodo
}
func (s *Store) AskToMove(ctx context.Context, id, wish string) (Appointment, error) {
	return Appointment{}, errTodo
}
func (s *Store) Cancel(ctx context.Context, id string, version int) (Appointment, error) {
	return Appointment{}, errTodo
}
func (s *Store) Appointment(ctx context.Context, id string) (Appointment, error) {
	return Appointment{}, errTodo
}
func (s *Store) Appointments(ctx context.Context, commissionID string) ([]Appointment, error) {
	return nil, errTodo
}
func (s *Store) Diary(ctx context.Context, from, to time.Time) ([]Appointment, error) {
	return nil, errTodo
}
