package orders

import (
	"context"
	"fmt"
	"slices"
	"time"
)

// A FinishingItem is one thing to look for before a hat is ready.
type FinishingItem struct{ Key, Words string }

// FinishingItems are the finishing check (common practice; the first three keep the wearer from harm).
var FinishingItems = []FinishingItem{
	{"pins", "No pin or needle is left in"},
	{"wire", "The wire’s ends are covered"},
	{"knots", "The elastic’s knots are tight"},
	{"label", "The label sits at the centre back"},
}

// A Tick says who found one thing right, and when.
type Tick struct {
	Item, By string
	At       time.Time
}

type tickRow struct {
	ID           int
	CommissionID string
	AfterMove    int
	Item         string
	Ticked       bool
	Who          string
	At           int64
}

func (tickRow) TableName() string { return "finishing_ticks" }

// benchMove is the move by which a hat came to the bench last: any but into Ready or out of the door.
func (s *Store) benchMove(ctx context.Context, commissionID string) (int, error) {
	row, err := one[moveRow](s.reads(ctx).Where("commission_id = ? and entered not in ?", commissionID, []Stage{Ready, HandedOver}).Order("id desc").Limit(1))
	if err != nil {
		return 0, fmt.Errorf("last move to the bench of commission %s: %w", commissionID, err)
	}
	return row.ID, nil
}

// FinishingCheck reads what is ticked off now, in the order of FinishingItems. What was ticked before
// the hat came to the bench again counts no longer.
func (s *Store) FinishingCheck(ctx context.Context, commissionID string) ([]Tick, error) {
	since, err := s.benchMove(ctx, commissionID)
	if err != nil {
		return nil, err
	}
	rows, err := many(s.reads(ctx).Where("commission_id = ? and after_move = ?", commissionID, since).Order("id"), func(r tickRow) tickRow { return r })
	if err != nil {
		return nil, fmt.Errorf("finishing check of commission %s: %w", commissionID, err)
	}
	last := map[string]tickRow{}
	for _, r := range rows {
		last[r.Item] = r
	}
	var check []Tick
	for _, item := range FinishingItems {
		if r := last[item.Key]; r.Ticked {
			check = append(check, Tick{r.Item, r.Who, moment(r.At)})
		}
	}
	return check, nil
}

// TickOff makes these items, and no others, the ones that are ticked off; an item that was ticked
// already keeps who and when. A *Problem says that the hat is not at a stage to be checked.
func (s *Store) TickOff(ctx context.Context, commissionID string, items []string, by string) error {
	return s.Together(ctx, func(s *Store) error {
		c, err := s.Commission(ctx, commissionID)
		if err != nil {
			return err
		}
		if !c.Stage.Checked() {
			return &Problem{Key: "finishing", Text: fmt.Sprintf("The hat is %q; the check is made when it is finished.", c.Stage)}
		}
		now, err := s.FinishingCheck(ctx, c.ID)
		if err != nil {
			return err
		}
		since, err := s.benchMove(ctx, c.ID)
		if err != nil {
			return err
		}
		for _, item := range FinishingItems {
			was := slices.ContainsFunc(now, func(t Tick) bool { return t.Item == item.Key })
			is := slices.Contains(items, item.Key)
			if was == is {
				continue
			}
			row := tickRow{CommissionID: c.ID, AfterMove: since, Item: item.Key, Ticked: is, Who: by, At: millis(s.now())}
			if err := s.writes(ctx).Create(&row).Error; err != nil {
				return fmt.Errorf("finishing check of commission %s: %w", c.ID, err)
			}
		}
		return nil
	})
}
