package orders

import (
	"context"
	"errors"
	"fmt"
	"slices"
)

// A Listing is one page of the list of commissions.
type Listing struct {
	Commissions []Commission
	Before      string // the page before this one ends at this commission; "" on the first
	After       string // the next page begins after this one; "" on the last
}

// isOpen is written as in the index of open commissions, or the index is not used.
const isOpen = "commissions.stage not in ('handed over', 'withdrawn', 'lapsed')"

// List reads at most so many commissions at one stage, or the open ones when stage is "": by the day of
// wearing, those without one last, and where nothing is to be done any more the latest day first. The page
// begins after the commission with that id, or ends before it when back is set; at the beginning when there
// is none. However many commissions there are, it takes two queries and reads no more than a page.
func (s *Store) List(ctx context.Context, stage Stage, from string, back bool, most int) (Listing, error) {
	at, err := one[commissionRow](s.reads(ctx).Where("id = ?", from))
	switch {
	case errors.Is(err, ErrNotFound):
		from, back = "", false
	case err != nil:
		return Listing{}, fmt.Errorf("place of commission %s in the list: %w", from, err)
	}
	list, err := many(s.listed(ctx, stage, at, back).Limit(most+1), namedRow.commission)
	if err != nil {
		return Listing{}, fmt.Errorf("list commissions: %w", err)
	}
	return paged(list, from != "", back, most), nil
}

// listed is the query of the list from one commission on, or from the beginning where that one is empty.
func (s *Store) listed(ctx context.Context, stage Stage, at commissionRow, back bool) *query {
	q := s.named(ctx).Where(isOpen)
	if stage != "" {
		q = s.named(ctx).Where("commissions.stage = ?", stage)
	}
	falling := stage == HandedOver || stage.Closed()
	way, beyond := "", ">"
	if falling != back {
		way, beyond = " desc", "<"
	}
	if at.ID != "" {
		q = q.Where("(commissions.day, commissions.year, commissions.running) "+beyond+" (?, ?, ?)", at.Day, at.Year, at.Running)
	}
	return q.Order(fmt.Sprintf("commissions.day%[1]s, commissions.year%[1]s, commissions.running%[1]s", way))
}

// paged turns what was read, one more than a page where there is more, into the page.
func paged(list []Commission, begun, back bool, most int) Listing {
	more := len(list) > most
	list = list[:min(most, len(list))]
	if back {
		slices.Reverse(list)
	}
	page := Listing{Commissions: list}
	if len(list) == 0 {
		return page
	}
	if begun && !back || back && more {
		page.Before = list[0].ID
	}
	if back || more {
		page.After = list[len(list)-1].ID
	}
	return page
}

type standingRow struct {
	Stage Stage `gorm:"primaryKey"`
	N     int
}

func (standingRow) TableName() string { return "standing" }

// Standing says how many commissions stand at each stage where there is one. The database keeps count, so
// that this takes as long however many there are.
func (s *Store) Standing(ctx context.Context) (map[Stage]int, error) {
	rows, err := many(s.reads(ctx).Where("n > 0"), func(r standingRow) standingRow { return r })
	if err != nil {
		return nil, fmt.Errorf("commissions at each stage: %w", err)
	}
	count := map[Stage]int{}
	for _, r := range rows {
		count[r.Stage] = r.N
	}
	return count, nil
}
