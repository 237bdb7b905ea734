package orders

import (
	"context"
)

// Write puts the milliner's words into the client's letter book: Waiting when she has a chat, else ToCopy.
func (s *Store) Write(ctx context.Context, commissionID, body string) (Letter, error) {
	return Letter{}, errTodo
}
func (s *Store) Letters(ctx context.Context, clientID string) ([]Letter, error) { return nil, errTodo }
func (s *Store) MarkCopied(ctx context.Context, letterID string) error          { return errTodo }

// Tell puts a letter to a chat into the outbox; Hear keeps one that came in.
func (s *Store) Tell(ctx context.Context, l Letter) (Letter, error) { return Letter{}, errTodo }
func (s *Store) Hear(ctx context.Context, l Letter) (Letter, error) { return Letter{}, errTodo }

// Unsent lists waiting letters of a channel, oldest first, each with its chat.
func (s *Store) Unsent(ctx context.Context, channel string, most int) ([]Outgoing, error) {
	return nil, errTodo
}
func (s *Store) MarkSent(ctx context.Context, letterID string) error { return errTodo }
func (s *Store) MarkTried(ctx context.Context, letterID, reason string, final bool) error {
	return errTodo
}

// FillLinks puts the client's address where {link} stands.
func (s *Store) FillLinks(ctx context.Context, l Letter) (string, error) { return "", errTodo }

// An Outgoing is a letter with the chat it goes to and its text with links filled in.
type Outgoing struct {
	Letter Letter
	Chat   Chat
	Text   string
}
