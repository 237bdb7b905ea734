package orders

import (
	"context"
	"errors"
	"fmt"
	"time"
)

// LeftAfter is how long a draft that was never sent in is kept after its last answer, unless the milliner
// has set another time.
const LeftAfter = 60 * 24 * time.Hour

// What takes records away, in an order that the references between them allow.
var (
	commissionGoes = []string{
		"delete from quarters where appointment_id in (select id from appointments where commission_id = @commission)",
		"delete from quarters where hold_id in (select id from holds where commission_id = @commission)",
		"delete from holds where commission_id = @commission",
		"delete from waits where commission_id = @commission",
		"delete from appointments where commission_id = @commission",
		"delete from letters where commission_id = @commission", // what went with them goes too
		"delete from notes where commission_id = @commission",
		"delete from acceptances where quotation_id in (select id from quotations where commission_id = @commission)",
		"delete from quotation_drafts where commission_id = @commission",
		"delete from quotations where commission_id = @commission",
		"update payments set commission_id = null, payer = '' where commission_id = @commission",               // the books keep the sum
		"update roll_entries set commission_id = null, sheet = 0, note = '' where commission_id = @commission", // the rolls keep the length
		"delete from workings where commission_id = @commission",
		"delete from fitting_notes where commission_id = @commission", // their photographs go too
		"delete from fit_sheets where commission_id = @commission",
		"delete from measure_cards where commission_id = @commission",
		"delete from finishing_ticks where commission_id = @commission", // before the moves that they follow
		"delete from kept_on where commission_id = @commission",
		"delete from measures_erased where commission_id = @commission",
		"delete from moves where commission_id = @commission",
		"delete from commissions where id = @commission",
	}
	// A chat goes with its address, so that the next message from there meets a stranger; it stays
	// while its client has another commission.
	draftGoes = []string{
		"delete from letters where commission_id is null and chat_id in (select id from chats where draft_id = @draft)",
		"delete from chats where draft_id = @draft and client_id is null",
		"update chats set draft_id = null, asking = '', pending = '[]', version = version + 1 where draft_id = @draft",
		"delete from drafts where id = @draft", // answers, amendments and photographs hang on it and go too
	}
	// A chat of hers in which another enquiry has begun meanwhile stays with that one.
	clientGoes = []string{
		"delete from letters where client_id = @client or chat_id in (select id from chats where client_id = @client and draft_id is null)",
		"delete from chats where client_id = @client and draft_id is null",
		"update chats set client_id = null where client_id = @client",
		"delete from clients where id = @client",
	}
)

// An erasureRow says that a commission was erased. The triggers that keep records let go of those
// whose commission has one.
type erasureRow struct {
	Year    int `gorm:"primaryKey"`
	Running int `gorm:"primaryKey"`
	At      int64
	Who     string
}

func (erasureRow) TableName() string { return "erasures" }

// Erase removes a commission for good with everything that was kept because of it, and its client
// unless she has another one. Only the number stays taken, of what was paid the receipts' numbers, days and
// sums, which the law of many places wants kept, and of what was cut the length. A database put back from a
// backup is made to follow. ErrNotFound when there is none.
func (s *Store) Erase(ctx context.Context, commissionID string) error {
	return s.eraseAs(ctx, commissionID, "")
}

// EraseForHer is Erase by the client herself; the milliner is told the number.
func (s *Store) EraseForHer(ctx context.Context, commissionID string) error {
	return s.eraseAs(ctx, commissionID, ByClient)
}

// ErasedByClients lists the numbers of the commissions that their clients have erased since a moment,
// the newest first, each with the moment.
func (s *Store) ErasedByClients(ctx context.Context, since time.Time) ([]Erased, error) {
	q := s.reads(ctx).Where("who = ? and at > ?", ByClient, millis(since)).Order("at desc")
	list, err := many(q, func(r erasureRow) Erased { return Erased{number(r.Year, r.Running), moment(r.At)} })
	if err != nil {
		return nil, fmt.Errorf("commissions erased by clients: %w", err)
	}
	return list, nil
}

// An Erased is all that is known of an erased commission.
type Erased struct {
	Number string
	At     time.Time
}

func (s *Store) eraseAs(ctx context.Context, commissionID, who string) error {
	err := s.Together(ctx, func(s *Store) error {
		c, err := s.Commission(ctx, commissionID)
		if err != nil {
			return err
		}
		if err := s.eraseCommission(ctx, c.ID, who); err != nil {
			return err
		}
		return errors.Join(s.enlist(ctx, aCommission, c.ID), s.enlist(ctx, aDraft, c.DraftID)) // a backup may hold only the draft
	})
	if err != nil {
		return fmt.Errorf("erase commission %s: %w", commissionID, err)
	}
	_ = s.scrub(ctx) // it is erased; Sweep scrubs again and says why it could not
	return nil
}

func (s *Store) eraseCommission(ctx context.Context, id, who string) error {
	row, err := one[commissionRow](s.reads(ctx).Where("id = ?", id))
	if err != nil {
		return err
	}
	if err := put(s.writes(ctx), &erasureRow{row.Year, row.Running, millis(s.now()), who}); err != nil {
		return err
	}
	if err := s.releaseCloth(ctx, row.ID, ByMaker); err != nil {
		return err
	}
	ids := map[string]any{"commission": row.ID, "draft": row.DraftID, "client": row.ClientID}
	if err := s.all(ctx, commissionGoes, ids); err != nil {
		return err
	}
	if err := s.all(ctx, draftGoes, ids); err != nil {
		return err
	}
	var others int64
	if err := s.reads(ctx).Model(&commissionRow{}).Where("client_id = ?", row.ClientID).Count(&others).Error; err != nil || others > 0 {
		return err
	}
	return s.all(ctx, clientGoes, ids)
}

// EraseDraft removes a draft for good that was not sent in, with its photographs and its chat, also from
// a database put back later. ErrNotFound when there is none; ErrConflict when it was sent in meanwhile.
func (s *Store) EraseDraft(ctx context.Context, draftID string) error {
	err := s.Together(ctx, func(s *Store) error {
		if err := s.eraseDraft(ctx, draftID); err != nil {
			return err
		}
		return s.enlist(ctx, aDraft, draftID)
	})
	if err != nil {
		return fmt.Errorf("erase draft %s: %w", draftID, err)
	}
	_ = s.scrub(ctx)
	return nil
}

func (s *Store) eraseDraft(ctx context.Context, draftID string) error {
	d, err := s.Draft(ctx, draftID)
	switch {
	case err != nil:
		return err
	case d.CommissionID != "":
		return ErrConflict
	}
	return s.all(ctx, draftGoes, map[string]any{"draft": draftID})
}

// Sweep erases the drafts that were not sent in and have not changed for as long as Keeping says, and says
// how many there were. It also rids the file of what is left of anything erased before.
func (s *Store) Sweep(ctx context.Context) (int, error) {
	n, err := together(ctx, s, func(s *Store) (int, error) {
		k, err := s.Keeping(ctx)
		if err != nil {
			return 0, err
		}
		var left []string
		q := s.reads(ctx).Model(&draftRow{}).Where("changed < ? and id not in (select draft_id from commissions)", millis(s.now().AddDate(0, 0, -k.DraftDays)))
		if err := q.Pluck("id", &left).Error; err != nil {
			return 0, err
		}
		for _, id := range left {
			if err := s.eraseDraft(ctx, id); err != nil { // not listed: one put back is swept again
				return 0, fmt.Errorf("draft %s: %w", id, err)
			}
		}
		return len(left), nil
	})
	if err != nil {
		return 0, fmt.Errorf("erase drafts left: %w", err)
	}
	return n, s.scrub(ctx)
}

func (s *Store) all(ctx context.Context, statements []string, ids map[string]any) error {
	for _, statement := range statements {
		if err := s.writes(ctx).Exec(statement, ids).Error; err != nil {
			return err
		}
	}
	return nil
}

// scrub writes the file anew without what was deleted and cuts the log. Deleted rows are overwritten
// at once (secure_delete), but not the copies that SQLite leaves behind where it has moved rows from
// page to page, and the index of words keeps those of a deleted text until it is merged. Inside a transaction there is
// nothing to scrub yet, and old pages that somebody is reading stay for a little while.
func (s *Store) scrub(ctx context.Context) error {
	if s.read == s.write {
		return nil
	}
	ctx = context.WithoutCancel(ctx)
	for _, step := range []string{"insert into words (words) values ('optimize')", "vacuum", "pragma wal_checkpoint(truncate)"} {
		if err := s.writes(ctx).Exec(step).Error; err != nil {
			return fmt.Errorf("scrub the file: %w", err)
		}
	}
	return nil
}
