package orders

import (
	"context"
	"fmt"
	"slices"
	"strings"
)

type moveRow struct {
	ID           int
	CommissionID string
	CameFrom     Stage
	Entered      Stage
	Who, Why     string
	At           int64
}

func (moveRow) TableName() string { return "moves" }

func (r moveRow) move() Move {
	return Move{From: r.CameFrom, To: r.Entered, By: r.Who, Why: r.Why, At: moment(r.At)}
}

// History lists the stages that a commission has entered, oldest first. A move to the stage where
// it stood already is a newer fit sheet.
func (s *Store) History(ctx context.Context, commissionID string) ([]Move, error) {
	list, err := many(s.reads(ctx).Where("commission_id = ?", commissionID).Order("id"), moveRow.move)
	if err != nil {
		return nil, fmt.Errorf("history of commission %s: %w", commissionID, err)
	}
	return list, nil
}

// Move enters a stage. A *Problem says why that is not allowed; ErrConflict when version is old.
// A commission that is withdrawn or lapses gives its coming appointments back.
func (s *Store) Move(ctx context.Context, id string, version int, to Stage, by, why string) (Commission, error) {
	return together(ctx, s, func(s *Store) (Commission, error) {
		c, err := s.Commission(ctx, id)
		if err != nil {
			return c, err
		}
		if c.Version != version {
			return c, fmt.Errorf("move commission %s: %w", id, ErrConflict)
		}
		why = strings.TrimSpace(why)
		if err := s.mayMove(ctx, c, to, why); err != nil {
			return c, err
		}
		if to.Closed() {
			if err := s.cancelComing(ctx, id); err != nil {
				return c, err
			}
		}
		return s.enter(ctx, c, to, by, why)
	})
}

// mayMove checks the table of moves, the reason, and what must be there before a stage is entered.
func (s *Store) mayMove(ctx context.Context, c Commission, to Stage, why string) error {
	switch {
	case !slices.Contains(allowed[c.Stage], to):
		return &Problem{Key: "stage", Text: fmt.Sprintf("A commission does not go from %q to %q. Choose one of the stages shown.", c.Stage, to)}
	case c.Stage.WantsWhy(to) && why == "":
		return &Problem{Key: "why", Text: "Write a word on why; it is kept in the history."}
	}
	switch to {
	case Measured:
		return s.wantTapes(ctx, c.ID)
	case Enquiry, Withdrawn, Lapsed:
		return nil
	default:
		return s.wantSheet(ctx, c.ID)
	}
}

func (s *Store) wantTapes(ctx context.Context, id string) error {
	card, err := s.cardInForce(ctx, id)
	if err == nil && len(card.missing()) > 0 {
		err = &Problem{Key: "stage", Text: "Both tapes, round the head and nape to crown, are needed first."}
	}
	return err
}

func (s *Store) wantSheet(ctx context.Context, id string) error {
	sheets, err := s.Sheets(ctx, id)
	if err == nil && len(sheets) == 0 {
		err = &Problem{Key: "stage", Text: "Sign off a fit sheet first."}
	}
	return err
}

// enter writes the stage and its line of history.
func (s *Store) enter(ctx context.Context, c Commission, to Stage, by, why string) (Commission, error) {
	moved, err := s.edit(ctx, c.ID, func(r *commissionRow) { r.Stage = to })
	if err != nil {
		return c, err
	}
	row := moveRow{CommissionID: c.ID, CameFrom: c.Stage, Entered: to, Who: by, Why: why, At: millis(s.now())}
	if err := s.writes(ctx).Create(&row).Error; err != nil {
		return c, fmt.Errorf("history of commission %s: %w", c.ID, err)
	}
	return moved, nil
}
