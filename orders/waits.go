package orders

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"time"
)

// A Wait is a client's place among those who wait for an hour to fall free.
type Wait struct {
	Kind, Place string
	Since       time.Time
}

type waitRow struct {
	Running      int64 `gorm:"primaryKey"`
	CommissionID string
	Kind         string
	Place        string
	Since        int64
}

func (waitRow) TableName() string { return "waits" }

// Waiting is the place of a commission in the list; ErrNotFound when it does not wait.
func (s *Store) Waiting(ctx context.Context, commissionID string) (Wait, error) {
	row, err := one[waitRow](s.reads(ctx).Where("commission_id = ?", commissionID))
	if err != nil {
		return Wait{}, fmt.Errorf("wait of commission %s: %w", commissionID, err)
	}
	return Wait{row.Kind, row.Place, moment(row.Since)}, nil
}

// waitsOf is Waiting as a list of one or none.
func (s *Store) waitsOf(ctx context.Context, commissionID string) ([]Wait, error) {
	w, err := s.Waiting(ctx, commissionID)
	if errors.Is(err, ErrNotFound) {
		return nil, nil
	}
	return []Wait{w}, err
}

// WaitFor puts a commission at the end of the list of those who wait. One that waits already for that kind and place keeps its turn.
func (s *Store) WaitFor(ctx context.Context, commissionID, kind, place string) error {
	return s.Together(ctx, func(s *Store) error {
		c, err := s.Commission(ctx, commissionID)
		if err != nil {
			return err
		}
		if c.Stage.Closed() {
			return NewProblem("start", "Nothing can be booked for this hat any more. Please write to the studio.")
		}
		if _, _, err := s.openHours(ctx, kind); err != nil {
			return err
		}
		if may := PlacesOf(kind); !slices.Contains(may, place) {
			return NewProblem("place", "Choose %s or %s.", Phrase{English: may[0]}, Phrase{English: may[1]})
		}
		now, err := s.Waiting(ctx, c.ID)
		if err == nil && now.Kind == kind && now.Place == place {
			return nil
		} else if err != nil && !errors.Is(err, ErrNotFound) {
			return err
		}
		if err := s.StopWaiting(ctx, c.ID); err != nil {
			return err
		}
		return s.writes(ctx).Create(&waitRow{CommissionID: c.ID, Kind: kind, Place: place, Since: millis(s.now())}).Error
	})
}

// StopWaiting takes a commission off the list; an hour offered to it passes on.
func (s *Store) StopWaiting(ctx context.Context, commissionID string) error {
	return s.Together(ctx, func(s *Store) error {
		if err := s.PassOffers(ctx); err != nil {
			return err
		}
		if err := s.writes(ctx).Where("commission_id = ?", commissionID).Delete(&waitRow{}).Error; err != nil {
			return fmt.Errorf("wait of commission %s: %w", commissionID, err)
		}
		return s.dropHolds(ctx, "commission_id = ? and turn > 0", commissionID)
	})
}

// PassOffers lets go of every hold that has expired and offers what was offered to the next in turn.
// Whatever changes the diary does so first; called now and then it keeps the turns moving.
func (s *Store) PassOffers(ctx context.Context) error {
	return s.Together(ctx, func(s *Store) error {
		var gone []holdRow
		if err := s.reads(ctx).Where("expires <= ?", millis(s.now())).Order("expires, id").Find(&gone).Error; err != nil {
			return fmt.Errorf("expired holds: %w", err)
		}
		for _, h := range gone { // all of them first: one may stand in the way of another's next turn
			if err := s.letGo(ctx, h.ID); err != nil {
				return err
			}
		}
		for _, h := range gone {
			if err := s.passOn(ctx, h); err != nil {
				return err
			}
		}
		return nil
	})
}

func (s *Store) passOn(ctx context.Context, h holdRow) error {
	if err := s.letGo(ctx, h.ID); err != nil || h.Turn == 0 {
		return err
	}
	return s.offerHour(ctx, moment(h.Begins), h.Turn, h.CommissionID)
}

// shortestOffer is the least time to answer in: an hour that is nearer is not offered.
const shortestOffer = time.Hour

// offerHour offers an hour that fell free to the first after turn whom it suits, and writes to her.
// The commission that let it fall is not asked.
func (s *Store) offerHour(ctx context.Context, start time.Time, turn int64, from string) error {
	var line []waitRow
	if err := s.reads(ctx).Where("running > ? and commission_id <> ?", turn, from).Order("running").Find(&line).Error; err != nil {
		return fmt.Errorf("who waits: %w", err)
	}
	for _, w := range line {
		row, st, suits, err := s.suits(ctx, w, start)
		if err != nil {
			return err
		}
		if !suits {
			continue
		}
		if _, err := s.keepHour(ctx, row, st); err != nil {
			return err
		}
		return s.tellOfOffer(ctx, row)
	}
	return nil
}

// suits says whether an hour can be offered to one who waits, and makes the hold of it.
func (s *Store) suits(ctx context.Context, w waitRow, start time.Time) (holdRow, Studio, bool, error) {
	row := holdRow{ID: newID(), CommissionID: w.CommissionID, Turn: w.Running, Kind: w.Kind, Place: w.Place}
	st, open, err := s.openHours(ctx, w.Kind)
	if err != nil {
		return row, st, false, err
	}
	end, now := start.Add(st.length(w.Kind)), s.now()
	expires := start.Add(-st.notice())
	if latest := now.Add(OfferedFor); expires.After(latest) {
		expires = latest
	}
	row.Begins, row.Ends, row.Expires = millis(start), millis(end), millis(expires)
	if expires.Before(now.Add(shortestOffer)) || !open.during(start, end) {
		return row, st, false, nil
	}
	busy, err := s.busy(ctx, start, end.Add(24*time.Hour))
	if err != nil || !clear(busy, quartersOf(start, end.Add(st.buffer(w.Kind)))) {
		return row, st, false, err
	}
	var offered int64
	if err := s.reads(ctx).Model(&holdRow{}).Where("commission_id = ? and turn > 0", w.CommissionID).Count(&offered).Error; err != nil || offered > 0 {
		return row, st, false, err
	}
	all, err := s.Appointments(ctx, w.CommissionID)
	for _, a := range all { // an earlier hour for one she has
		if a.Kind != w.Kind || a.State == Cancelled || !a.Start.After(now) {
			continue
		}
		if !a.Start.After(start) || !a.ChangeableBy(st, now) {
			return row, st, false, err
		}
		row.Moves, row.Place = orNull(a.ID), a.Place
	}
	return row, st, err == nil, err
}

func (s *Store) tellOfOffer(ctx context.Context, row holdRow) error {
	c, err := s.Commission(ctx, row.CommissionID)
	if err != nil {
		return err
	}
	when, err := s.saidTo(ctx, c.ClientID, moment(row.Begins))
	if err != nil {
		return err
	}
	until, err := s.saidTo(ctx, c.ClientID, moment(row.Expires))
	if err != nil {
		return err
	}
	_, err = s.inform(ctx, c.ID, fmt.Sprintf("An hour has fallen free for your %s: %s. It is kept for you until %s; then the next who waits is asked. Take it or leave it on your page: {link}", row.Kind, when, until))
	return err
}
