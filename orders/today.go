package orders

import (
	"context"
	"fmt"
	"time"
)

// An InBook is a commission whose letter book wants something of the milliner.
type InBook struct {
	Commission
	Body string // of the letter to answer
	N    int    // letters to copy
}

type waitingRow struct {
	Named namedRow `gorm:"embedded"`
	Body  string
	N     int
	Total int
}

// ToAnswer lists the commissions whose clients are owed an answer, who has waited longest first, at most so
// many, each with what she wrote last; and how many there are in all. A client stands there once, with the
// commission that she wrote about, or else her newest.
func (s *Store) ToAnswer(ctx context.Context, most int) ([]InBook, int, error) {
	q := s.named(ctx).Select("commissions.*, clients.name as client_name, drafts.door, coalesce(said.body, '') as body, count(*) over () as total").
		Joins("left join letters said on said.running = (select max(running) from letters where letters.client_id = clients.id and letters.kind = 'talk' and letters.outgoing = 0)").
		Where(`clients.owed > 0 and commissions.id = coalesce(said.commission_id,
			(select id from commissions c where c.client_id = clients.id order by c.made desc, c.running desc limit 1))`).
		Order("clients.owed, said.running").Limit(most)
	return waiting(q, "letters to answer")
}

// ToCopyOut lists the open commissions with letters that the milliner has to send her own way, also since a
// chat would not have them, as ToAnswer does.
func (s *Store) ToCopyOut(ctx context.Context, most int) ([]InBook, int, error) {
	q := s.named(ctx).Select("commissions.*, clients.name as client_name, drafts.door, count(*) as n, count(*) over () as total").
		Joins("join letters on letters.commission_id = commissions.id and letters.kind = 'talk' and letters.state in ('to copy', 'failed')").
		Where("commissions.stage in ?", unfinished).Group("commissions.id").Order("min(letters.running)").Limit(most)
	return waiting(q, "letters to copy")
}

func waiting(q *query, what string) ([]InBook, int, error) {
	total := 0
	list, err := many(q, func(r waitingRow) InBook {
		total = r.Total
		return InBook{r.Named.commission(), r.Body, r.N}
	})
	if err != nil {
		return nil, 0, fmt.Errorf("%s: %w", what, err)
	}
	return list, total, nil
}

// Coming lists the appointments that end after a moment, cancelled ones not, in time order; at most so many.
func (s *Store) Coming(ctx context.Context, after time.Time, most int) ([]Appointment, error) {
	// an appointment takes less than a day, so that the index of beginnings is enough
	q := s.hours(ctx).Where("appointments.state <> ? and appointments.begins > ? and appointments.ends > ?", Cancelled, millis(after.Add(-24*time.Hour)), millis(after)).Limit(most)
	list, err := many(q, hourRow.appointment)
	if err != nil {
		return nil, fmt.Errorf("coming appointments: %w", err)
	}
	return list, nil
}

// MovesAsked lists the appointments to come that a client has asked to move, in time order, at most so
// many; and how many there are in all.
func (s *Store) MovesAsked(ctx context.Context, most int) ([]Appointment, int, error) {
	total := 0
	q := s.hours(ctx).Select("appointments.*, commissions.year, commissions.running, clients.name as client_name, count(*) over () as total").
		Where("appointments.state = ? and appointments.begins > ?", MoveAsked, millis(s.now())).Limit(most)
	list, err := many(q, func(r countedHour) Appointment { total = r.Total; return r.Hour.appointment() })
	if err != nil {
		return nil, 0, fmt.Errorf("appointments to move: %w", err)
	}
	return list, total, nil
}

type countedHour struct {
	Hour  hourRow `gorm:"embedded"`
	Total int
}

// Begun says whether there is any commission.
func (s *Store) Begun(ctx context.Context) (bool, error) {
	var begun bool
	if err := s.reads(ctx).Raw("select exists (select 1 from commissions)").Scan(&begun).Error; err != nil {
		return false, fmt.Errorf("look for commissions: %w", err)
	}
	return begun, nil
}
