package orders

import (
	"context"
	"errors"
	"fmt"
	"time"
)

// FeedPath is where the milliner's calendar feed stands; FeedLink follows.
const FeedPath = "/calendar/"

const feedKind = "feed"

// A Feed is the address under which her calendar program reads the diary.
type Feed struct {
	Open  bool
	Names bool // clients are named in it; else commission numbers only
	Link  string
}

type feedRow struct {
	ID         int
	Generation int
	Open       bool
	Names      bool
}

func (feedRow) TableName() string { return "feed" }

// Feed reads whether the feed is open and what it shows.
func (s *Store) Feed(ctx context.Context) (Feed, error) {
	row, err := s.feedRow(ctx)
	if err != nil {
		return Feed{}, err
	}
	return Feed{row.Open, row.Names, s.link(feedKind, "diary", row.Generation)}, nil
}

// OpenFeed opens the feed under a new address; an earlier address opens nothing any more.
func (s *Store) OpenFeed(ctx context.Context, names bool) error { return s.setFeed(ctx, true, names) }

// ShutFeed revokes the feed's address.
func (s *Store) ShutFeed(ctx context.Context) error { return s.setFeed(ctx, false, false) }

func (s *Store) setFeed(ctx context.Context, open, names bool) error {
	return s.Together(ctx, func(s *Store) error {
		row, err := s.feedRow(ctx)
		if err != nil {
			return err
		}
		row.Generation, row.Open, row.Names = row.Generation+1, open, names
		if err := put(s.writes(ctx), &row); err != nil {
			return fmt.Errorf("feed: %w", err)
		}
		return nil
	})
}

// feedRow is shut until she opens it for the first time.
func (s *Store) feedRow(ctx context.Context) (feedRow, error) {
	row, err := one[feedRow](s.reads(ctx).Where("id = 1"))
	if errors.Is(err, ErrNotFound) {
		return feedRow{ID: 1}, nil
	} else if err != nil {
		return row, fmt.Errorf("feed: %w", err)
	}
	return row, nil
}

// FeedByLink is the feed that a link opens; ErrNotFound when it was revoked or never was one.
func (s *Store) FeedByLink(ctx context.Context, link string) (Feed, error) {
	row, err := s.feedRow(ctx)
	if err != nil {
		return Feed{}, err
	}
	if !s.opens(link, feedKind, "diary", row.Generation) || !row.Open {
		return Feed{}, ErrNotFound
	}
	return Feed{row.Open, row.Names, link}, nil
}

// How far the feed reaches back; ahead it shows all that can be booked.
const feedPast = 60 * 24 * time.Hour

// FeedAppointments lists what the feed shows, cancelled ones too, in time order.
func (s *Store) FeedAppointments(ctx context.Context) ([]Appointment, error) {
	list, err := many(s.hours(ctx).Where("appointments.begins > ?", millis(s.now().Add(-feedPast))), hourRow.appointment)
	if err != nil {
		return nil, fmt.Errorf("feed: %w", err)
	}
	return list, nil
}
