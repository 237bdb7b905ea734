package orders

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"time"
	"unicode/utf8"
)

// A Keeping says for how long this workroom keeps what it was told.
type Keeping struct {
	Months    int // measurements, faces and photographs, after a hat was handed over or given up
	DraftDays int // an enquiry that is never sent in, after its last answer
	Version   int // 0: nobody has said, and the figures are usual ones
}

// usualKeeping is a modelling choice: two seasons in which a hat may come back to be mended or another be
// made, and far longer than anyone pauses between two tapes.
var usualKeeping = Keeping{Months: 24, DraftDays: int(LeftAfter / (24 * time.Hour))}

// Bounds of a Keeping, for whoever reads a form.
const (
	MostKeepMonths = 120
	MostDraftDays  = 365
)

type keepingRow struct {
	ID, Months, DraftDays, Version int
}

func (keepingRow) TableName() string { return "keeping" }

// Keeping reads for how long things are kept; before the milliner has said, usual figures with version 0.
func (s *Store) Keeping(ctx context.Context) (Keeping, error) {
	row, err := one[keepingRow](s.reads(ctx).Where("id = 1"))
	if errors.Is(err, ErrNotFound) {
		return usualKeeping, nil
	} else if err != nil {
		return Keeping{}, fmt.Errorf("keeping: %w", err)
	}
	return Keeping{row.Months, row.DraftDays, row.Version}, nil
}

// SaveKeeping keeps it; ErrConflict when its version is old. A *Problem has the key months or draft_days.
func (s *Store) SaveKeeping(ctx context.Context, k Keeping) error {
	if k.Months < 1 || k.Months > MostKeepMonths {
		return &Problem{Key: "months", Text: fmt.Sprintf("Write whole months, from 1 to %d.", MostKeepMonths)}
	}
	if k.DraftDays < 1 || k.DraftDays > MostDraftDays {
		return &Problem{Key: "draft_days", Text: fmt.Sprintf("Write whole days, from 1 to %d.", MostDraftDays)}
	}
	return s.Together(ctx, func(s *Store) error {
		now, err := s.Keeping(ctx)
		if err != nil {
			return err
		}
		if err := keepOnly(s.writes(ctx), &keepingRow{1, k.Months, k.DraftDays, k.Version + 1}, now.Version, k.Version); err != nil {
			return fmt.Errorf("save keeping: %w", err)
		}
		return nil
	})
}

type keptOnRow struct {
	ID           int
	CommissionID string
	Until        int64
	Why, Who     string
	At           int64
}

func (keptOnRow) TableName() string { return "kept_on" }

func (r keptOnRow) keptOn() KeptOn {
	return KeptOn{moment(r.Until), r.Why, r.Who, moment(r.At)}
}

// A KeptOn is a decision to keep measurements for longer.
type KeptOn struct {
	Until    time.Time
	Why, Who string
	At       time.Time
}

// Held is what there is of a client's body in a commission, and until when it is kept.
type Held struct {
	Cards, Sheets, Photographs int
	Since                      time.Time // when the hat was handed over or given up; zero while it is under way
	Until                      time.Time // when the period is over, or the longer one that was decided on; zero while under way
	Decisions                  []KeptOn  // oldest first
	Erased                     time.Time // when the measurements were erased; zero when they never were
}

// Any says whether anything is left to be erased.
func (h Held) Any() bool { return h.Cards+h.Sheets+h.Photographs > 0 }

// atRest are the stages in which a hat needs its measurements no more.
var atRest = []Stage{HandedOver, Withdrawn, Lapsed}

// PastKeeping lists the commissions whose period has passed and whose measurements are still there, the
// longest first, at most so many; and how many there are in all.
func (s *Store) PastKeeping(ctx context.Context, most int) ([]Commission, int, error) {
	k, err := s.Keeping(ctx)
	if err != nil {
		return nil, 0, err
	}
	left := "coalesce((select max(at) from moves where moves.commission_id = commissions.id and moves.entered = commissions.stage), commissions.made)"
	q := s.named(ctx).Select("commissions.*, clients.name as client_name, drafts.door, count(*) over () as total").
		Where("commissions.stage in ? and "+left+" < ?", atRest, millis(s.now().AddDate(0, -k.Months, 0))).
		Where("not exists (select 1 from kept_on where kept_on.commission_id = commissions.id and kept_on.until > ?)", millis(s.now())).
		Where(`exists (select 1 from measure_cards where measure_cards.commission_id = commissions.id)
			or exists (select 1 from fit_sheets where fit_sheets.commission_id = commissions.id)
			or exists (select 1 from photos where photos.draft_id = commissions.draft_id)
			or exists (select 1 from answers where answers.draft_id = commissions.draft_id and answers.value <> '' and answers.question in ?)`, ofBody()).
		Order(left + ", commissions.running").Limit(most)
	total := 0
	list, err := many(q, func(r waitingRow) Commission { total = r.Total; return r.Named.commission() })
	if err != nil {
		return nil, 0, fmt.Errorf("commissions past keeping: %w", err)
	}
	return list, total, nil
}

// KeepOn keeps a commission's measurements for another period. A *Problem with the key why wants a reason.
func (s *Store) KeepOn(ctx context.Context, commissionID, why, who string) error {
	if why = strings.TrimSpace(why); why == "" {
		return &Problem{Key: "why", Text: "Write why they are still needed, such as “a second hat in spring”. Without a reason they should go."}
	}
	if utf8.RuneCountInString(why) > 300 {
		return &Problem{Key: "why", Text: "Say it in at most 300 letters."}
	}
	return s.Together(ctx, func(s *Store) error {
		if _, err := s.Commission(ctx, commissionID); err != nil {
			return err
		}
		k, err := s.Keeping(ctx)
		if err != nil {
			return err
		}
		row := keptOnRow{CommissionID: commissionID, Until: millis(s.now().AddDate(0, k.Months, 0)), Why: why, Who: who, At: millis(s.now())}
		if err := s.writes(ctx).Create(&row).Error; err != nil {
			return fmt.Errorf("keep measurements of commission %s: %w", commissionID, err)
		}
		return nil
	})
}

// Held says what is kept of a client's body in a commission; ErrNotFound when there is none.
func (s *Store) Held(ctx context.Context, commissionID string) (Held, error) {
	c, err := s.Commission(ctx, commissionID)
	if err != nil {
		return Held{}, err
	}
	var n struct{ Cards, Sheets, Photographs int }
	counts := "select (select count(*) from measure_cards where commission_id = @c) as cards, (select count(*) from fit_sheets where commission_id = @c) as sheets, " +
		"(select count(*) from photos where draft_id = @d) + (select count(*) from letter_photos p join letters l on l.id = p.letter_id where l.commission_id = @c) + " +
		"(select count(*) from fitting_photos p join fitting_notes n on n.id = p.note_id where n.commission_id = @c) as photographs"
	if err := s.reads(ctx).Raw(counts, map[string]any{"c": c.ID, "d": c.DraftID}).Scan(&n).Error; err != nil {
		return Held{}, fmt.Errorf("what is held of commission %s: %w", c.ID, err)
	}
	h := Held{Cards: n.Cards, Sheets: n.Sheets, Photographs: n.Photographs}
	if h.Decisions, err = s.keptOn(ctx, c.ID); err != nil {
		return Held{}, err
	}
	if h.Erased, err = s.measuresErased(ctx, c.ID); err != nil {
		return Held{}, err
	}
	if !c.Stage.done() {
		return h, nil
	}
	var since int64
	if err := s.reads(ctx).Raw("select coalesce(max(at), ?) from moves where commission_id = ? and entered = ?", millis(c.Made), c.ID, c.Stage).Scan(&since).Error; err != nil {
		return Held{}, err
	}
	k, err := s.Keeping(ctx)
	h.Since = moment(since)
	h.Until = h.Since.AddDate(0, k.Months, 0)
	if n := len(h.Decisions); n > 0 && h.Decisions[n-1].Until.After(h.Until) {
		h.Until = h.Decisions[n-1].Until
	}
	return h, err
}

func (s *Store) measuresErased(ctx context.Context, commissionID string) (time.Time, error) {
	var at int64
	err := s.reads(ctx).Raw("select at from measures_erased where commission_id = ?", commissionID).Scan(&at).Error
	return moment(at), err
}

func (s *Store) keptOn(ctx context.Context, commissionID string) ([]KeptOn, error) {
	list, err := many(s.reads(ctx).Where("commission_id = ?", commissionID).Order("id"), keptOnRow.keptOn)
	if err != nil {
		return nil, fmt.Errorf("decisions about commission %s: %w", commissionID, err)
	}
	return list, nil
}
