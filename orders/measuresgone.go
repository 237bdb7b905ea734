package orders

import (
	"context"
	"fmt"
	"slices"
)

// aMeasure is the kind under which erased measurements stand on the list of erasures.
const aMeasure = "measures"

// OfBody says whether an answer tells of the wearer's body, and so goes when measurements are erased:
// tapes, face and height, photographs, and what stands under a consent of its own.
func (q Question) OfBody() bool {
	return q.Kind == Readings || q.Kind == Length || q.Kind == Photograph || q.Part == "Your head" || q.Private() ||
		slices.Contains([]string{"hair_measured", "mirrored"}, q.Key)
}

func ofBody() []string {
	var keys []string
	for _, q := range Questions {
		if q.OfBody() {
			keys = append(keys, q.Key)
		}
	}
	return keys
}

// What goes with a client's measurements. What she typed in an intake chat holds them too. The hat's own
// figures go with the sheets; what a fitting taught of the hat stays, without pictures.
var measuresGo = []string{
	"delete from searched where commission_id = @commission and (kind = 'sheet' or kind = 'card' and subject in (select id from measure_cards where commission_id = @commission))",
	"delete from workings where commission_id = @commission",
	"delete from fit_sheets where commission_id = @commission",
	"delete from measure_cards where commission_id = @commission",
	"delete from photos where draft_id = @draft",
	"delete from letter_photos where letter_id in (select id from letters where commission_id = @commission)",
	"delete from fitting_photos where note_id in (select id from fitting_notes where commission_id = @commission)",
	"delete from letters where kind = 'intake' and (commission_id = @commission or chat_id in (select id from chats where draft_id = @draft))",
	"update chats set pending = '[]' where draft_id = @draft",
	"delete from amendments where draft_id = @draft and question in @body",
	"delete from answers where draft_id = @draft and question in @body",
}

type measuresErasedRow struct {
	CommissionID string `gorm:"primaryKey"`
	At           int64
}

func (measuresErasedRow) TableName() string { return "measures_erased" }

// EraseMeasures removes for good what a commission holds of the wearer's body, and leaves its history, its
// letters and its books. ErrNotFound when there is none; ErrConflict while the hat is under way.
func (s *Store) EraseMeasures(ctx context.Context, commissionID string) error {
	err := s.Together(ctx, func(s *Store) error {
		c, err := s.Commission(ctx, commissionID)
		switch {
		case err != nil:
			return err
		case !c.Stage.done():
			return ErrConflict
		}
		if err := s.eraseMeasures(ctx, c.ID); err != nil {
			return err
		}
		return s.enlist(ctx, aMeasure, c.ID)
	})
	if err != nil {
		return fmt.Errorf("erase the measurements of commission %s: %w", commissionID, err)
	}
	_ = s.scrub(ctx)
	return nil
}

func (s *Store) eraseMeasures(ctx context.Context, id string) error {
	c, err := s.Commission(ctx, id)
	if err != nil {
		return err
	}
	if err := put(s.writes(ctx), &measuresErasedRow{c.ID, millis(s.now())}); err != nil {
		return err
	}
	return s.all(ctx, measuresGo, map[string]any{"commission": c.ID, "draft": c.DraftID, "body": ofBody()})
}

// done says whether a hat needs its measurements no more.
func (st Stage) done() bool { return slices.Contains(atRest, st) }
