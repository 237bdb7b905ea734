package orders

import (
	"context"
)

// SignOff freezes the working into the next numbered fit sheet, moves the commission to Proposed and writes to the client.
func (s *Store) SignOff(ctx context.Context, commissionID string, version int, by string) (FitSheet, error) {
	return FitSheet{}, errTodo
}
func (s *Store) Sheets(ctx context.Context, commissionID string) ([]FitSheet, error) {
	return nil, errTodo
}
