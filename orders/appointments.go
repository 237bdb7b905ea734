package orders

import (
	"context"
	"fmt"
	"time"
)

type appointmentRow struct {
	ID           string
	CommissionID string
	Kind         string
	Place        string
	State        string
	Wish         string
	Begins, Ends int64
	Sequence     int
	Version      int
	Changed      int64
	Missed       bool
}

func (appointmentRow) TableName() string { return "appointments" }

// hourRow is an appointment with what other tables know of it.
type hourRow struct {
	Row        appointmentRow `gorm:"embedded"`
	Year       int
	Running    int
	ClientName string
}

func (h hourRow) appointment() Appointment {
	r := h.Row
	return Appointment{
		ID: r.ID, CommissionID: r.CommissionID, CommissionNumber: number(h.Year, h.Running), ClientName: h.ClientName,
		Kind: r.Kind, Place: r.Place, State: r.State, Wish: r.Wish, Start: moment(r.Begins), End: moment(r.Ends),
		Sequence: r.Sequence, Changed: moment(r.Changed), Missed: r.Missed, Version: r.Version,
	}
}

type quarterRow struct {
	Quarter       int64 `gorm:"primaryKey;autoIncrement:false"`
	AppointmentID *string
	HoldID        *string
}

func (quarterRow) TableName() string { return "quarters" }

// hours is the query of appointments with commission and client, in time order.
func (s *Store) hours(ctx context.Context) *query {
	return s.reads(ctx).Table("appointments").
		Select("appointments.*, commissions.year, commissions.running, clients.name as client_name").
		Joins("join commissions on commissions.id = appointments.commission_id").
		Joins("join clients on clients.id = commissions.client_id").Order("appointments.begins, appointments.id")
}

// Appointment reads one; ErrNotFound when there is none.
func (s *Store) Appointment(ctx context.Context, id string) (Appointment, error) {
	row, err := one[hourRow](s.hours(ctx).Where("appointments.id = ?", id))
	if err != nil {
		return Appointment{}, fmt.Errorf("appointment %s: %w", id, err)
	}
	return row.appointment(), nil
}

// Appointments lists those of a commission, cancelled ones too, in time order.
func (s *Store) Appointments(ctx context.Context, commissionID string) ([]Appointment, error) {
	list, err := many(s.hours(ctx).Where("appointments.commission_id = ?", commissionID), hourRow.appointment)
	if err != nil {
		return nil, fmt.Errorf("appointments of commission %s: %w", commissionID, err)
	}
	return list, nil
}

// Diary lists the appointments that overlap the time from from to to, cancelled ones not.
func (s *Store) Diary(ctx context.Context, from, to time.Time) ([]Appointment, error) {
	q := s.hours(ctx).Where("appointments.state <> ? and appointments.begins < ? and appointments.ends > ?", Cancelled, millis(to), millis(from))
	list, err := many(q, hourRow.appointment)
	if err != nil {
		return nil, fmt.Errorf("diary: %w", err)
	}
	return list, nil
}

// farthest is how far ahead Free looks.
const farthest = 400 * 24 * time.Hour

// Free lists starts of free appointments of a kind from from to to, in time order, not before the
// least notice and at most 400 days ahead. A *Problem says that there is no such kind.
func (s *Store) Free(ctx context.Context, kind string, from, to time.Time) ([]time.Time, error) {
	st, open, err := s.openHours(ctx, kind)
	if err != nil {
		return nil, err
	}
	first, last := later(from, s.now().Add(time.Duration(st.NoticeHours)*time.Hour)), s.now().Add(farthest)
	if to.Before(last) {
		last = to
	}
	if start := first.Truncate(quarter); start.Before(first) {
		first = start.Add(quarter)
	}
	busy, err := s.busy(ctx, first, last.Add(24*time.Hour))
	if err != nil {
		return nil, err
	}
	var free []time.Time
	for t := first; t.Before(last); t = t.Add(quarter) {
		end := t.Add(st.length(kind))
		if open.during(t, end) && clear(busy, quartersOf(t, end.Add(st.buffer(kind)))) {
			free = append(free, t.UTC())
		}
	}
	return free, nil
}

// openHours are the settings that a booking of that kind depends on.
func (s *Store) openHours(ctx context.Context, kind string) (Studio, opening, error) {
	st, err := s.Studio(ctx)
	if err != nil {
		return st, opening{}, err
	}
	if st.Minutes[kind] == 0 {
		return st, opening{}, NewProblem("kind", "Choose a consultation, a fitting or a collection.")
	}
	open, err := st.opening()
	if err != nil {
		return st, open, fmt.Errorf("studio's time zone: %w", err)
	}
	return st, open, nil
}

// busy is the set of quarters that are taken between two moments. Those of a hold that has expired are not.
func (s *Store) busy(ctx context.Context, from, to time.Time) (map[int64]bool, error) {
	const seconds = int64(quarter / time.Second)
	var taken []int64
	err := s.reads(ctx).Model(&quarterRow{}).Where("quarter between ? and ?", from.Unix()/seconds, to.Unix()/seconds).
		Where("hold_id is null or hold_id in (select id from holds where expires > ?)", millis(s.now())).Pluck("quarter", &taken).Error
	if err != nil {
		return nil, fmt.Errorf("quarters taken: %w", err)
	}
	busy := make(map[int64]bool, len(taken))
	for _, q := range taken {
		busy[q] = true
	}
	return busy, nil
}

func clear(busy map[int64]bool, quarters []int64) bool {
	for _, q := range quarters {
		if busy[q] {
			return false
		}
	}
	return true
}

func later(a, b time.Time) time.Time {
	if a.After(b) {
		return a
	}
	return b
}
