package orders

import (
	"context"
)

// Chat returns the conversation at an address of a channel, made if new.
func (s *Store) Chat(ctx context.Context, channel, address string) (Chat, error) {
	return Chat{}, errTodo
}
func (s *Store) SaveChat(ctx context.Context, c Chat) (Chat, error) { return Chat{}, errTodo }
func (s *Store) ChatLetters(ctx context.Context, chatID string) ([]Letter, error) {
	return nil, errTodo
}
