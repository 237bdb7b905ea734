package orders

import (
	"context"
	"errors"
	"fmt"
	"time"
)

// Sessions keeps browser sessions for the session library, which hands over tokens hashed already.
type Sessions struct{ store *Store }

// Sessions is where browser sessions are kept.
func (s *Store) Sessions() *Sessions { return &Sessions{s} }

// Find returns a session that has not expired.
func (b *Sessions) Find(token string) (data []byte, found bool, err error) {
	s := b.store
	row, err := one[sessionRow](s.reads(context.Background()).Where("token = ? and expires > ?", token, millis(s.now())))
	if errors.Is(err, ErrNotFound) {
		return nil, false, nil
	} else if err != nil {
		return nil, false, fmt.Errorf("find session: %w", err)
	}
	return row.Data, true, nil
}

// Commit keeps a session until expiry, and removes those that have expired.
func (b *Sessions) Commit(token string, data []byte, expiry time.Time) error {
	ctx := context.Background()
	err := b.store.Together(ctx, func(s *Store) error {
		if err := s.writes(ctx).Where("expires <= ?", millis(s.now())).Delete(&sessionRow{}).Error; err != nil {
			return err
		}
		return put(s.writes(ctx), &sessionRow{Token: token, Data: data, Expires: millis(expiry)})
	})
	if err != nil {
		return fmt.Errorf("keep session: %w", err)
	}
	return nil
}

// Delete ends a session; one that is not there is ended already.
func (b *Sessions) Delete(token string) error {
	err := b.store.writes(context.Background()).Where("token = ?", token).Delete(&sessionRow{}).Error
	if err != nil {
		return fmt.Errorf("end session: %w", err)
	}
	return nil
}
