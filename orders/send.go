package orders

import (
	"context"
)

// Send turns a draft into a commission with client, measure card, history and a letter to the client.
// Sent twice it returns the same commission. A missing answer is a *Problem with its key.
func (s *Store) Send(ctx context.Context, draftID string) (Commission, error) {
	return Commission{}, errTodo
}
