package orders

import (
	"context"
	"crypto/rand"
	"crypto/sha256"
	"fmt"
	"strings"
	"time"
)

// hashOf is what is kept of a code. Codes are random, so one pass of a fast hash is enough.
func hashOf(purpose, code string) []byte {
	h := sha256.Sum256([]byte(purpose + "\x00" + code))
	return h[:]
}

// NewCode makes a one-time code of 130 random bits in letters and digits; only its hash is stored.
// subject is what UseCode gives back.
func (s *Store) NewCode(ctx context.Context, purpose, subject string, lasts time.Duration) (string, error) {
	code := strings.ToLower(rand.Text())
	row := codeRow{Hash: hashOf(purpose, code), Subject: subject, Expires: millis(s.now().Add(lasts))}
	err := s.Together(ctx, func(s *Store) error {
		if err := s.writes(ctx).Where("expires <= ?", millis(s.now())).Delete(&codeRow{}).Error; err != nil {
			return err
		}
		return s.writes(ctx).Create(&row).Error
	})
	if err != nil {
		return "", fmt.Errorf("make %s code: %w", purpose, err)
	}
	return code, nil
}

// UseCode spends a code and returns its subject, or ErrExpired.
func (s *Store) UseCode(ctx context.Context, purpose, code string) (string, error) {
	return together(ctx, s, func(s *Store) (string, error) {
		row, err := s.code(ctx, purpose, code)
		if err != nil {
			return "", err
		}
		if err := s.writes(ctx).Where("hash = ?", row.Hash).Delete(&codeRow{}).Error; err != nil {
			return "", fmt.Errorf("spend %s code: %w", purpose, err)
		}
		return row.Subject, nil
	})
}

// PeekCode says whether a code would be good, without spending it; ErrExpired when not.
func (s *Store) PeekCode(ctx context.Context, purpose, code string) error {
	_, err := s.code(ctx, purpose, code)
	return err
}

func (s *Store) code(ctx context.Context, purpose, code string) (codeRow, error) {
	rows, err := many(s.reads(ctx).Where("hash = ? and expires > ?", hashOf(purpose, code), millis(s.now())),
		func(r codeRow) codeRow { return r })
	switch {
	case err != nil:
		return codeRow{}, fmt.Errorf("%s code: %w", purpose, err)
	case len(rows) == 0:
		return codeRow{}, fmt.Errorf("%s code: %w", purpose, ErrExpired)
	}
	return rows[0], nil
}
