package orders

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"time"
)

// How long an hour is kept while a client decides. Modelling choices: long enough to read and press,
// and long enough to see a letter.
const (
	HeldFor    = 10 * time.Minute
	OfferedFor = 24 * time.Hour
)

// A Hold keeps an hour for one client until it expires; then it is free again, whether or not anybody
// has swept it away.
type Hold struct {
	ID, CommissionID, Kind, Place string
	Moves                         string // the appointment it would move; "" for a new one
	Offered                       bool   // it fell free and is offered in turn
	Start, End, Expires           time.Time
}

type holdRow struct {
	ID           string
	CommissionID string
	Moves        *string
	Turn         int64
	Kind         string
	Place        string
	Begins, Ends int64
	Expires      int64
}

func (holdRow) TableName() string { return "holds" }

func (r holdRow) hold() Hold {
	return Hold{ID: r.ID, CommissionID: r.CommissionID, Kind: r.Kind, Place: r.Place, Moves: plain(r.Moves), Offered: r.Turn > 0,
		Start: moment(r.Begins), End: moment(r.Ends), Expires: moment(r.Expires)}
}

// Holds lists the hours kept for a commission that have not expired, an offered one first.
func (s *Store) Holds(ctx context.Context, commissionID string) ([]Hold, error) {
	q := s.reads(ctx).Where("commission_id = ? and expires > ?", commissionID, millis(s.now())).Order("turn desc")
	list, err := many(q, holdRow.hold)
	if err != nil {
		return nil, fmt.Errorf("holds of commission %s: %w", commissionID, err)
	}
	return list, nil
}

// Hold keeps an hour that a client has chosen for HeldFor, in place of one she chose before. moves
// names her appointment that would go there, "" for a new one. It fails as Book does, and with a
// *Problem inside the least notice or when she may move that appointment no more.
func (s *Store) Hold(ctx context.Context, commissionID, kind, place, moves string, start time.Time) (Hold, error) {
	return together(ctx, s, func(s *Store) (Hold, error) {
		if err := s.PassOffers(ctx); err != nil {
			return Hold{}, err
		}
		row := holdRow{ID: newID(), CommissionID: commissionID, Moves: orNull(moves), Kind: kind, Place: place, Expires: millis(s.now().Add(HeldFor))}
		st, err := s.mayHold(ctx, &row, start)
		if err != nil {
			return Hold{}, err
		}
		if err := s.dropHolds(ctx, "commission_id = ? and turn = 0", commissionID); err != nil {
			return Hold{}, err
		}
		return s.keepHour(ctx, row, st)
	})
}

// mayHold checks what a client may choose for herself and puts the hour into the row.
func (s *Store) mayHold(ctx context.Context, row *holdRow, start time.Time) (Studio, error) {
	c, err := s.Commission(ctx, row.CommissionID)
	if err != nil {
		return Studio{}, err
	}
	if c.Stage.Closed() {
		return Studio{}, NewProblem("start", "Nothing can be booked for this hat any more. Please write to the studio.")
	}
	if row.Moves != nil {
		a, err := s.hers(ctx, c.ID, *row.Moves)
		if err != nil {
			return Studio{}, err
		}
		row.Kind, row.Place = a.Kind, a.Place
	}
	if may := PlacesOf(row.Kind); !slices.Contains(may, row.Place) {
		return Studio{}, NewProblem("place", "Choose %s or %s.", Phrase{English: may[0]}, Phrase{English: may[1]})
	}
	hour := appointmentRow{Kind: row.Kind}
	st, err := s.setHour(ctx, &hour, start)
	if err != nil {
		return st, err
	}
	row.Begins, row.Ends = hour.Begins, hour.Ends
	if start.Before(s.now().Add(st.notice())) {
		return st, NewProblem("start", "That hour is too near to be booked here. Choose a later one, or write to the studio.")
	}
	return st, nil
}

func (st Studio) notice() time.Duration { return time.Duration(st.NoticeHours) * time.Hour }

// keepHour writes a hold and takes its quarters.
func (s *Store) keepHour(ctx context.Context, row holdRow, st Studio) (Hold, error) {
	if err := s.writes(ctx).Create(&row).Error; err != nil {
		return Hold{}, fmt.Errorf("hold %s: %w", row.ID, err)
	}
	err := s.takeAll(ctx, quartersOf(moment(row.Begins), moment(row.Ends).Add(st.buffer(row.Kind))), quarterRow{HoldID: &row.ID})
	return row.hold(), err
}

// letGo gives a held hour back.
func (s *Store) letGo(ctx context.Context, id string) error {
	if err := s.writes(ctx).Where("hold_id = ?", id).Delete(&quarterRow{}).Error; err != nil {
		return fmt.Errorf("free hours of hold %s: %w", id, err)
	}
	if err := s.writes(ctx).Where("id = ?", id).Delete(&holdRow{}).Error; err != nil {
		return fmt.Errorf("let go of hold %s: %w", id, err)
	}
	return nil
}

// heldOf reads a hold of a commission that has not expired; a *Problem with key "hold" when it has, or was let go.
func (s *Store) heldOf(ctx context.Context, commissionID, id string) (holdRow, error) {
	row, err := one[holdRow](s.reads(ctx).Where("id = ? and commission_id = ? and expires > ?", id, commissionID, millis(s.now())))
	if errors.Is(err, ErrNotFound) {
		return row, NewProblem("hold", "That hour is no longer kept for you. What is free now stands below; choose again.")
	}
	return row, err
}

// TakeHeld turns a held hour into an appointment that the client has thereby confirmed, or moves her
// appointment there, and tells her. A *Problem with key "hold" when the hold has expired.
func (s *Store) TakeHeld(ctx context.Context, commissionID, holdID string) (Appointment, error) {
	return together(ctx, s, func(s *Store) (Appointment, error) {
		held, err := s.heldOf(ctx, commissionID, holdID)
		if err != nil {
			return Appointment{}, err
		}
		if err := s.PassOffers(ctx); err != nil {
			return Appointment{}, err
		}
		if err := s.letGo(ctx, held.ID); err != nil {
			return Appointment{}, err
		}
		if err := s.writes(ctx).Where("commission_id = ? and kind = ?", commissionID, held.Kind).Delete(&waitRow{}).Error; err != nil {
			return Appointment{}, fmt.Errorf("wait of commission %s: %w", commissionID, err)
		}
		if held.Moves == nil {
			return s.newHour(ctx, appointmentRow{CommissionID: commissionID, Kind: held.Kind, Place: held.Place, State: Confirmed},
				moment(held.Begins), "Your %s is booked for %s. You can see, move or cancel it on your page: {link}")
		}
		a, err := s.hers(ctx, commissionID, *held.Moves)
		if err != nil {
			return Appointment{}, err
		}
		return s.moveHour(ctx, a.ID, a.Version, Confirmed, moment(held.Begins), "Your %s has moved to %s, as you chose. You can see it on your page: {link}")
	})
}

// LeaveHeld gives a held hour back before it expires; an offered one passes on. Giving back what is
// gone changes nothing.
func (s *Store) LeaveHeld(ctx context.Context, commissionID, holdID string) error {
	return s.Together(ctx, func(s *Store) error {
		if err := s.PassOffers(ctx); err != nil {
			return err
		}
		held, err := s.heldOf(ctx, commissionID, holdID)
		if _, gone := err.(*Problem); gone {
			return nil
		} else if err != nil {
			return err
		}
		if err := s.letGo(ctx, held.ID); err != nil || held.Turn == 0 {
			return err
		}
		return s.offerHour(ctx, moment(held.Begins), held.Turn, commissionID)
	})
}

// hers is an appointment of a commission that its client may still move or cancel herself.
func (s *Store) hers(ctx context.Context, commissionID, id string) (Appointment, error) {
	a, err := s.Appointment(ctx, id)
	if err != nil {
		return a, err
	}
	if a.CommissionID != commissionID {
		return a, ErrNotFound
	}
	st, err := s.Studio(ctx)
	if err == nil && !a.ChangeableBy(st, s.now()) {
		err = NewProblem("start", "It is too late to change this here. Please write to the studio.")
	}
	return a, err
}

// ChangeableBy says whether a client may move or cancel the appointment herself at a moment.
func (a Appointment) ChangeableBy(st Studio, now time.Time) bool {
	return a.State != Cancelled && now.Before(st.ChangeUntil(a.Start))
}

// ChangeUntil is the moment until which a client may move or cancel what begins at start.
func (st Studio) ChangeUntil(start time.Time) time.Time {
	return start.Add(-time.Duration(st.Rules.MoveHours) * time.Hour)
}

// CancelHers cancels an appointment as its client wishes, within the rule; else a *Problem.
func (s *Store) CancelHers(ctx context.Context, commissionID, id string) (Appointment, error) {
	return together(ctx, s, func(s *Store) (Appointment, error) {
		a, err := s.hers(ctx, commissionID, id)
		if err != nil {
			return a, err
		}
		return s.Cancel(ctx, id, a.Version)
	})
}

// dropHolds lets go of the holds that a condition finds; offered hours pass on.
func (s *Store) dropHolds(ctx context.Context, which, id string) error {
	var list []holdRow
	if err := s.reads(ctx).Where(which, id).Find(&list).Error; err != nil {
		return fmt.Errorf("holds of %s: %w", id, err)
	}
	for _, h := range list {
		if err := s.passOn(ctx, h); err != nil {
			return err
		}
	}
	return nil
}
