package orders

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"
	"unicode/utf8"
)

// Book writes an appointment and a letter to the client in one transaction. ErrTaken when something
// else is there, buffers included; a *Problem for a start in the past, off the quarter hour or
// outside opening hours. The least notice binds only what Free offers: the milliner may be quicker.
func (s *Store) Book(ctx context.Context, commissionID, kind, place string, start time.Time) (Appointment, error) {
	return together(ctx, s, func(s *Store) (Appointment, error) {
		c, err := s.Commission(ctx, commissionID)
		if err != nil {
			return Appointment{}, err
		}
		if c.Stage.Closed() {
			return Appointment{}, &Problem{Key: "start", Text: "This commission is " + string(c.Stage) + ". Open it again before booking."}
		}
		if may := PlacesOf(kind); !slices.Contains(may, place) {
			return Appointment{}, &Problem{Key: "place", Text: "Choose " + strings.Join(may, " or ") + "."}
		}
		if err := s.PassOffers(ctx); err != nil {
			return Appointment{}, err
		}
		return s.newHour(ctx, appointmentRow{CommissionID: c.ID, Kind: kind, Place: place, State: Booked}, start,
			"Your %s is booked for %s. Please confirm it, or ask for another time, on your page: {link}")
	})
}

// newHour writes a new appointment, takes its quarters and tells the client.
func (s *Store) newHour(ctx context.Context, row appointmentRow, start time.Time, words string) (Appointment, error) {
	row.ID, row.Version, row.Changed = newID(), 1, millis(s.now())
	st, err := s.setHour(ctx, &row, start)
	if err != nil {
		return Appointment{}, err
	}
	if err := s.writes(ctx).Create(&row).Error; err != nil {
		return Appointment{}, fmt.Errorf("book for commission %s: %w", row.CommissionID, err)
	}
	if err := s.takeQuarters(ctx, row, st); err != nil {
		return Appointment{}, err
	}
	return s.tellOfHour(ctx, row, words)
}

// setHour checks a start and puts it into the row.
func (s *Store) setHour(ctx context.Context, row *appointmentRow, start time.Time) (Studio, error) {
	st, open, err := s.openHours(ctx, row.Kind)
	if err != nil {
		return st, err
	}
	end := start.Add(st.length(row.Kind))
	now := s.now()
	var why Phrase
	switch {
	case !onGrid(start):
		why = Say("Appointments begin on the quarter hour.")
	case !start.After(now):
		why = Say("That time has passed. Choose one that is still to come.")
	case start.After(now.Add(farthest)):
		why = Say("That is more than 400 days ahead. Check the year.")
	case !open.during(start, end):
		why = Say("The studio is not open all that time: %s, until %s. Choose another time, or change the opening hours in the settings.",
			SayHour(start.In(open.zone)), end.In(open.zone).Format("15:04"))
	}
	if !why.Empty() {
		return st, why.beside("start")
	}
	row.Begins, row.Ends = millis(start), millis(end)
	return st, nil
}

// takeQuarters marks the appointment's quarters and its buffer's; ErrTaken when one is marked.
func (s *Store) takeQuarters(ctx context.Context, row appointmentRow, st Studio) error {
	return s.takeAll(ctx, quartersOf(moment(row.Begins), moment(row.Ends).Add(st.buffer(row.Kind))), quarterRow{AppointmentID: &row.ID})
}

// takeAll marks quarters as whose says; ErrTaken when one is marked already.
func (s *Store) takeAll(ctx context.Context, quarters []int64, whose quarterRow) error {
	rows := make([]quarterRow, len(quarters))
	for i, q := range quarters {
		rows[i] = quarterRow{q, whose.AppointmentID, whose.HoldID}
	}
	err := s.writes(ctx).Create(&rows).Error
	if taken(err) {
		return ErrTaken
	} else if err != nil {
		return fmt.Errorf("take hours: %w", err)
	}
	return nil
}

func (s *Store) freeQuarters(ctx context.Context, id string) error {
	if err := s.writes(ctx).Where("appointment_id = ?", id).Delete(&quarterRow{}).Error; err != nil {
		return fmt.Errorf("free hours of appointment %s: %w", id, err)
	}
	return nil
}

// tellOfHour writes to the client about an appointment; the words have a place for its kind and one
// for its time.
func (s *Store) tellOfHour(ctx context.Context, row appointmentRow, words string) (Appointment, error) {
	c, err := s.Commission(ctx, row.CommissionID)
	if err != nil {
		return Appointment{}, err
	}
	when, err := s.saidTo(ctx, c.ClientID, moment(row.Begins))
	if err != nil {
		return Appointment{}, err
	}
	what := row.Kind
	if row.Place != InPerson {
		what += " " + row.Place
	}
	if _, err := s.inform(ctx, row.CommissionID, fmt.Sprintf(words, what, when)); err != nil {
		return Appointment{}, err
	}
	return s.Appointment(ctx, row.ID)
}

// saidTo is a moment in the studio's time and, where her clock shows another, in the client's.
func (s *Store) saidTo(ctx context.Context, clientID string, t time.Time) (string, error) {
	zone, err := s.zone(ctx)
	if err != nil {
		return "", err
	}
	c, err := s.Client(ctx, clientID)
	if err != nil {
		return "", err
	}
	words := inWords(t.In(zone))
	if hers, err := time.LoadLocation(c.Zone); err == nil && c.Zone != "" && inWords(t.In(hers)) != words {
		words += " in the studio’s time, which is " + inWords(t.In(hers)) + " in yours (" + c.Zone + ")"
	}
	return words, nil
}

func inWords(t time.Time) string { return t.Format("Monday, 2 January 2006, at 15:04") }

// change reads an appointment that stands, lets f change it, and writes it back under a new version.
func (s *Store) change(ctx context.Context, id string, f func(*appointmentRow) error) (appointmentRow, error) {
	row, err := one[appointmentRow](s.reads(ctx).Where("id = ?", id))
	if err == nil && row.State == Cancelled {
		err = NewProblem("start", "This appointment was cancelled. Book a new one.")
	}
	if err == nil {
		err = f(&row)
	}
	if err == nil {
		row.Version++
		row.Changed = millis(s.now())
		err = replace(s.writes(ctx), &row, id, row.Version-1)
	}
	if err != nil {
		return row, fmt.Errorf("appointment %s: %w", id, err)
	}
	return row, nil
}

// ofVersion refuses a row that has changed since it was read.
func (r appointmentRow) ofVersion(version int) error {
	if r.Version != version {
		return ErrConflict
	}
	return nil
}

// Rebook moves an appointment to another start and tells the client, who has to confirm again. It
// fails as Book does, and with ErrConflict when version is old.
func (s *Store) Rebook(ctx context.Context, id string, version int, start time.Time) (Appointment, error) {
	return together(ctx, s, func(s *Store) (Appointment, error) {
		if err := s.PassOffers(ctx); err != nil {
			return Appointment{}, err
		}
		return s.moveHour(ctx, id, version, Booked, start, "Your %s has moved to %s. Please confirm it, or ask for another time, on your page: {link}")
	})
}

// moveHour moves an appointment, tells the client and offers the hour it leaves to who waits.
func (s *Store) moveHour(ctx context.Context, id string, version int, state string, start time.Time, words string) (Appointment, error) {
	var st Studio
	var left time.Time
	row, err := s.change(ctx, id, func(row *appointmentRow) (err error) {
		if err = row.ofVersion(version); err != nil {
			return err
		}
		left = moment(row.Begins)
		row.State, row.Wish, row.Missed = state, "", false
		row.Sequence++
		st, err = s.setHour(ctx, row, start)
		return err
	})
	if err != nil {
		return Appointment{}, err
	}
	if err := s.freeQuarters(ctx, id); err != nil {
		return Appointment{}, err
	}
	if err := s.takeQuarters(ctx, row, st); err != nil {
		return Appointment{}, err
	}
	if err := s.offerHour(ctx, left, 0, row.CommissionID); err != nil {
		return Appointment{}, err
	}
	return s.tellOfHour(ctx, row, words)
}

// Confirm notes that the client will come. Confirming again changes nothing; a *Problem when the hour
// is past or cancelled.
func (s *Store) Confirm(ctx context.Context, id string) (Appointment, error) {
	return together(ctx, s, func(s *Store) (Appointment, error) {
		a, err := s.Appointment(ctx, id)
		if err != nil || a.State == Confirmed {
			return a, err
		}
		row, err := s.change(ctx, id, func(row *appointmentRow) error {
			row.State, row.Wish = Confirmed, ""
			return s.stillToCome(*row)
		})
		if err != nil {
			return Appointment{}, err
		}
		return s.tellOfHour(ctx, row, "Thank you. Your %s on %s is confirmed.")
	})
}

func (s *Store) stillToCome(row appointmentRow) error {
	if row.Begins <= millis(s.now()) {
		return NewProblem("start", "This appointment has passed. Please write to the studio.")
	}
	return nil
}

// longestWish bounds what a client may write when she asks for another time.
const longestWish = 600

// AskToMove notes that the client wishes for another time, in her words. The hour stays hers until
// the milliner moves it.
func (s *Store) AskToMove(ctx context.Context, id, wish string) (Appointment, error) {
	wish = strings.TrimSpace(wish)
	if n := utf8.RuneCountInString(wish); n == 0 || n > longestWish {
		return Appointment{}, NewProblem("wish", "Say in up to %d letters which days and times would suit you.", longestWish)
	}
	return together(ctx, s, func(s *Store) (Appointment, error) {
		row, err := s.change(ctx, id, func(row *appointmentRow) error {
			row.State, row.Wish = MoveAsked, wish
			return s.stillToCome(*row)
		})
		if err != nil {
			return Appointment{}, err
		}
		c, err := s.Commission(ctx, row.CommissionID)
		if err != nil {
			return Appointment{}, err
		}
		if _, err := s.keep(ctx, Letter{ClientID: c.ClientID, CommissionID: c.ID, Body: wish, State: Received}); err != nil {
			return Appointment{}, err
		}
		return s.tellOfHour(ctx, row, "We have your wish for another time. Until you hear from us, your %s stays on %s.")
	})
}

// Cancel gives the hour back and tells the client; ErrConflict when version is old.
func (s *Store) Cancel(ctx context.Context, id string, version int) (Appointment, error) {
	return together(ctx, s, func(s *Store) (Appointment, error) {
		if err := s.PassOffers(ctx); err != nil {
			return Appointment{}, err
		}
		row, err := s.change(ctx, id, func(row *appointmentRow) error {
			row.State = Cancelled
			row.Sequence++
			return row.ofVersion(version)
		})
		if err != nil {
			return Appointment{}, err
		}
		if err := s.freeQuarters(ctx, id); err != nil {
			return Appointment{}, err
		}
		if err := s.dropHolds(ctx, "moves = ?", id); err != nil {
			return Appointment{}, err
		}
		if err := s.offerHour(ctx, moment(row.Begins), 0, row.CommissionID); err != nil {
			return Appointment{}, err
		}
		return s.tellOfHour(ctx, row, "Your %s on %s is cancelled.")
	})
}

// MarkMissed notes that the client did not come, or takes that back; nothing is written to her. A
// *Problem while the appointment has not begun or when it was cancelled; ErrConflict when version is old.
func (s *Store) MarkMissed(ctx context.Context, id string, version int, missed bool) (Appointment, error) {
	return together(ctx, s, func(s *Store) (Appointment, error) {
		_, err := s.change(ctx, id, func(row *appointmentRow) error {
			if moment(row.Begins).After(s.now()) {
				return NewProblem("start", "This appointment has not begun yet.")
			}
			row.Missed = missed
			return row.ofVersion(version)
		})
		if err != nil {
			return Appointment{}, err
		}
		return s.Appointment(ctx, id)
	})
}

// MissedBy counts the appointments to which a client did not come, over all her commissions.
func (s *Store) MissedBy(ctx context.Context, commissionID string) (int, error) {
	var n int64
	err := s.reads(ctx).Table("appointments").Joins("join commissions on commissions.id = appointments.commission_id").
		Where("missed = 1 and state <> ? and client_id = (select client_id from commissions where id = ?)", Cancelled, commissionID).Count(&n).Error
	if err != nil {
		return 0, fmt.Errorf("missed by the client of commission %s: %w", commissionID, err)
	}
	return int(n), nil
}

// cancelComing cancels what is still to come for a commission.
func (s *Store) cancelComing(ctx context.Context, commissionID string) error {
	if err := s.StopWaiting(ctx, commissionID); err != nil {
		return err
	}
	if err := s.dropHolds(ctx, "commission_id = ?", commissionID); err != nil {
		return err
	}
	all, err := s.Appointments(ctx, commissionID)
	for _, a := range all {
		if err == nil && a.State != Cancelled && a.Start.After(s.now()) {
			_, err = s.Cancel(ctx, a.ID, a.Version)
		}
	}
	return err
}

// PlacesOf lists where an appointment of a kind may be.
func PlacesOf(kind string) []string {
	if kind == Collection {
		return []string{InPerson, ByPost}
	}
	return []string{InPerson, ByVideo}
}
