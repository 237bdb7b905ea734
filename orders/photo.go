package orders

import (
	"context"
)

func (s *Store) AddPhoto(ctx context.Context, draftID, key string, upload []byte) (Photo, error) {
	return Photo{}, errTodo
}
func (s *Store) RemovePhoto(ctx context.Context, draftID, key, photoID string) error { return errTodo }
func (s *Store) Photo(ctx context.Context, draftID, photoID string) (Photo, error) {
	return Photo{}, errTodo
}
