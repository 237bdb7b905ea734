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
		row := appointmentRow{ID: newID(), CommissionID: c.ID, Kind: kind, Place: place, State: Booked, Version: 1}
		st, err := s.setHour(ctx, &row, start)
		if err != nil {
			return Appointment{}, err
		}
		if err := s.writes(ctx).Create(&row).Error; err != nil {
			return Appointment{}, fmt.Errorf("book for commission %s: %w", c.ID, err)
		}
		if err := s.takeQuarters(ctx, row, st); err != nil {
			return Appointment{}, err
		}
		return s.tellOfHour(ctx, row, "Your %s is booked for %s. Please confirm it, or ask for another time, on your page: {link}")
	})
}

// setHour checks a start and puts it into the row.
func (s *Store) setHour(ctx context.Context, row *appointmentRow, start time.Time) (Studio, error) {
	st, open, err := s.openHours(ctx, row.Kind)
	if err != nil {
		return st, err
	}
	end := start.Add(st.length(row.Kind))
	now := s.now()
	text := ""
	switch {
	case !onGrid(start):
		text = "Appointments begin on the quarter hour."
	case !start.After(now):
		text = "That time has passed. Choose one that is still to come."
	case start.After(now.Add(farthest)):
		text = "That is more than 400 days ahead. Check the year."
	case !open.during(start, end):
		text = fmt.Sprintf("The studio is not open all that time: %s, until %s. Choose another time, or change the opening hours in the settings.",
			inWords(start.In(open.zone)), end.In(open.zone).Format("15:04"))
	}
	if text != "" {
		return st, &Problem{Key: "start", Text: text}
	}
	row.Begins, row.Ends = millis(start), millis(end)
	return st, nil
}

// takeQuarters marks the appointment's quarters and its buffer's; ErrTaken when one is marked.
func (s *Store) takeQuarters(ctx context.Context, row appointmentRow, st Studio) error {
	var rows []quarterRow
	for _, q := range quartersOf(moment(row.Begins), moment(row.Ends).Add(st.buffer())) {
		rows = append(rows, quarterRow{Quarter: q, AppointmentID: row.ID})
	}
	err := s.writes(ctx).Create(&rows).Error
	if taken(err) {
		return ErrTaken
	} else if err != nil {
		return fmt.Errorf("hours of appointment %s: %w", row.ID, err)
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
	zone, err := s.zone(ctx)
	if err != nil {
		return Appointment{}, err
	}
	what := row.Kind
	if row.Place != InPerson {
		what += " " + row.Place
	}
	if _, err := s.Write(ctx, row.CommissionID, fmt.Sprintf(words, what, inWords(moment(row.Begins).In(zone)))); err != nil {
		return Appointment{}, err
	}
	return s.Appointment(ctx, row.ID)
}

func inWords(t time.Time) string { return t.Format("Monday, 2 January 2006, at 15:04") }

// change reads an appointment that stands, lets f change it, and writes it back under a new version.
func (s *Store) change(ctx context.Context, id string, f func(*appointmentRow) error) (appointmentRow, error) {
	row, err := one[appointmentRow](s.reads(ctx).Where("id = ?", id))
	if err == nil && row.State == Cancelled {
		err = &Problem{Key: "start", Text: "This appointment was cancelled. Book a new one."}
	}
	if err == nil {
		err = f(&row)
	}
	if err == nil {
		row.Version++
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
		var st Studio
		row, err := s.change(ctx, id, func(row *appointmentRow) (err error) {
			if err = row.ofVersion(version); err != nil {
				return err
			}
			row.State, row.Wish = Booked, ""
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
		return s.tellOfHour(ctx, row, "Your %s has moved to %s. Please confirm it, or ask for another time, on your page: {link}")
	})
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
		return &Problem{Key: "start", Text: "This appointment has passed. Please write to the studio."}
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
		return Appointment{}, &Problem{Key: "wish", Text: fmt.Sprintf("Say in up to %d letters which days and times would suit you.", longestWish)}
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
		return s.tellOfHour(ctx, row, "Your %s on %s is cancelled.")
	})
}

// cancelComing cancels what is still to come for a commission.
func (s *Store) cancelComing(ctx context.Context, commissionID string) error {
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
