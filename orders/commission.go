package orders

import (
	"context"
	"fmt"
	"regexp"
	"strconv"
)

type commissionRow struct {
	ID         string
	Year       int
	Running    int
	ClientID   string
	DraftID    string
	Kind       string
	Stage      Stage
	Occasion   string
	Day        string
	Generation int
	Version    int
	Made       int64
}

func (commissionRow) TableName() string { return "commissions" }

// namedRow is a commission with what other tables know of it.
type namedRow struct {
	Row        commissionRow `gorm:"embedded"`
	ClientName string
	Door       string
}

func (n namedRow) commission() Commission {
	r := n.Row
	return Commission{
		ID: r.ID, Number: number(r.Year, r.Running), ClientID: r.ClientID, ClientName: n.ClientName,
		DraftID: r.DraftID, Kind: r.Kind, Stage: r.Stage, Door: n.Door, Occasion: r.Occasion, Day: r.Day,
		Version: r.Version, Generation: r.Generation, Made: moment(r.Made),
	}
}

// named is the query of commissions with the client's name and the door.
func (s *Store) named(ctx context.Context) *query {
	return s.reads(ctx).Table("commissions").Select("commissions.*, clients.name as client_name, drafts.door").
		Joins("join clients on clients.id = commissions.client_id").
		Joins("join drafts on drafts.id = commissions.draft_id")
}

// Commissions lists all commissions by the day of wearing, those without a fixed day last; within a
// day the earlier enquiry first.
func (s *Store) Commissions(ctx context.Context) ([]Commission, error) {
	list, err := many(s.named(ctx).Order("commissions.day, commissions.year, commissions.running"), namedRow.commission)
	if err != nil {
		return nil, fmt.Errorf("list commissions: %w", err)
	}
	return list, nil
}

// Commission reads one; ErrNotFound when there is none.
func (s *Store) Commission(ctx context.Context, id string) (Commission, error) {
	row, err := one[namedRow](s.named(ctx).Where("commissions.id = ?", id))
	if err != nil {
		return Commission{}, fmt.Errorf("commission %s: %w", id, err)
	}
	return row.commission(), nil
}

// edit changes the row of a commission and raises its version.
func (s *Store) edit(ctx context.Context, id string, change func(*commissionRow)) (Commission, error) {
	row, err := one[commissionRow](s.reads(ctx).Where("id = ?", id))
	if err != nil {
		return Commission{}, fmt.Errorf("commission %s: %w", id, err)
	}
	change(&row)
	row.Version++
	if err := replace(s.writes(ctx), &row, id, row.Version-1); err != nil {
		return Commission{}, fmt.Errorf("change commission %s: %w", id, err)
	}
	return s.Commission(ctx, id)
}

// Revoke ends the client's private links, to her page and to her draft, and returns the commission
// from which new ones are made.
func (s *Store) Revoke(ctx context.Context, commissionID string) (Commission, error) {
	return together(ctx, s, func(s *Store) (Commission, error) {
		c, err := s.edit(ctx, commissionID, func(r *commissionRow) { r.Generation++ })
		if err != nil {
			return c, err
		}
		raise := map[string]any{"generation": expression("generation + 1")}
		if err := s.writes(ctx).Model(&draftRow{}).Where("id = ?", c.DraftID).Updates(raise).Error; err != nil {
			return c, fmt.Errorf("revoke links of draft %s: %w", c.DraftID, err)
		}
		return c, nil
	})
}

// number is a commission's name as it is said aloud: "26-014".
func number(year, running int) string { return fmt.Sprintf("%02d-%03d", year%100, running) }

// numberShape is a commission's number as it is said: two digits of the year and the running number.
var numberShape = regexp.MustCompile(`^(\d\d)-(\d{3,6})$`)

// Numbered reads the commission of that number; ErrNotFound when there is none. Of two in different
// centuries it is the later.
func (s *Store) Numbered(ctx context.Context, said string) (Commission, error) {
	parts := numberShape.FindStringSubmatch(said)
	if parts == nil {
		return Commission{}, fmt.Errorf("commission by number: %w", ErrNotFound)
	}
	year, _ := strconv.Atoi(parts[1])
	running, _ := strconv.Atoi(parts[2])
	row, err := one[namedRow](s.named(ctx).Where("commissions.year % 100 = ? and commissions.running = ?", year, running).Order("commissions.year desc").Limit(1))
	if err != nil {
		return Commission{}, fmt.Errorf("commission by number: %w", err)
	}
	return row.commission(), nil
}

// OthersOf lists a client's other commissions, the newest first.
func (s *Store) OthersOf(ctx context.Context, c Commission) ([]Commission, error) {
	list, err := many(s.named(ctx).Where("commissions.client_id = ? and commissions.id <> ?", c.ClientID, c.ID).Order("commissions.made desc"), namedRow.commission)
	if err != nil {
		return nil, fmt.Errorf("other commissions of client %s: %w", c.ClientID, err)
	}
	return list, nil
}
