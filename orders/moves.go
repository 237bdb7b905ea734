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
	PassedOver   string // names of guards
	At           int64
}

func (moveRow) TableName() string { return "moves" }

func (r moveRow) move() Move {
	return Move{From: r.CameFrom, To: r.Entered, By: r.Who, Why: r.Why, PassedOver: r.PassedOver, At: moment(r.At)}
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

// A Step is one move as somebody asks for it.
type Step struct {
	Version  int // of the commission that she looked at
	To       Stage
	By, Why  string
	PassOver bool   // the guards that stand against it, for the reason in Why
	Letter   string // to the client, kept together with the move; "" for none
}

// Move takes the usual Step: past no guard and with no letter.
func (s *Store) Move(ctx context.Context, id string, version int, to Stage, by, why string) (Commission, error) {
	return s.Take(ctx, id, Step{Version: version, To: to, By: by, Why: why})
}

// Take enters a stage. A *Problem says why that is not allowed: its key is "stage" when the table of
// moves is against it, "guard" when something is wanted first, "why" when a reason is, and "body" for the
// letter. ErrConflict when the version is old. A commission that is withdrawn or lapses gives its coming
// appointments back, and its cloth goes with every move: see clothFollows.
func (s *Store) Take(ctx context.Context, id string, step Step) (Commission, error) {
	return together(ctx, s, func(s *Store) (Commission, error) {
		c, err := s.Commission(ctx, id)
		if err != nil {
			return c, err
		}
		if c.Version != step.Version {
			return c, fmt.Errorf("move commission %s: %w", id, ErrConflict)
		}
		row := moveRow{CommissionID: id, CameFrom: c.Stage, Entered: step.To, Who: step.By, Why: strings.TrimSpace(step.Why)}
		if row.PassedOver, err = s.mayMove(ctx, c, step, row.Why); err != nil {
			return c, err
		}
		if step.To.Closed() {
			if err := s.cancelComing(ctx, id); err != nil {
				return c, err
			}
		}
		if err := s.clothFollows(ctx, c, step.To, step.By); err != nil {
			return c, err
		}
		if step.Letter != "" {
			if _, err := s.inform(ctx, id, step.Letter); err != nil {
				return c, err
			}
		}
		return s.enterBy(ctx, row)
	})
}

// mayMove checks the table of moves, the reason and the guards; it names those that are passed over.
func (s *Store) mayMove(ctx context.Context, c Commission, step Step, why string) (passed string, err error) {
	switch {
	case !slices.Contains(allowed[c.Stage], step.To):
		return "", &Problem{Key: "stage", Text: fmt.Sprintf("A commission does not go from %q to %q. Choose one of the stages shown.", c.Stage, step.To)}
	case c.Stage.WantsWhy(step.To) && why == "":
		return "", &Problem{Key: "why", Text: "Write a word on why; it is kept in the history."}
	}
	list, err := s.against(ctx, c, step.To)
	switch {
	case err != nil || len(list) == 0:
		return "", err
	case !step.PassOver:
		return "", &Problem{Key: "guard", Text: strings.Join(each(list, func(g guard) string { return g.words }), " ")}
	case why == "":
		return "", &Problem{Key: "why", Text: "Write why it moves on all the same; the history keeps it, and what was passed over."}
	}
	return names(list), nil
}

// enter writes the stage and its line of history.
func (s *Store) enter(ctx context.Context, c Commission, to Stage, by, why string) (Commission, error) {
	return s.enterBy(ctx, moveRow{CommissionID: c.ID, CameFrom: c.Stage, Entered: to, Who: by, Why: why})
}

func (s *Store) enterBy(ctx context.Context, row moveRow) (Commission, error) {
	moved, err := s.edit(ctx, row.CommissionID, func(r *commissionRow) { r.Stage = row.Entered })
	if err != nil {
		return moved, err
	}
	row.At = millis(s.now())
	if err := s.writes(ctx).Create(&row).Error; err != nil {
		return moved, fmt.Errorf("history of commission %s: %w", row.CommissionID, err)
	}
	return moved, nil
}
