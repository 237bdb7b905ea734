package orders

import (
	"context"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"

	"perchbook/fitting"
)

// A HeldCloth is what a hat has reserved of a roll, or has been cut from it.
type HeldCloth struct {
	Entry
	Of   Roll
	Open bool // reserved, and neither cut nor let go
}

// Length that is reserved or was cut, mm.
func (h HeldCloth) Length() int {
	if h.Kind == Reserved {
		return -h.FreeBy
	}
	return -h.LeftBy
}

type clothRow struct {
	Entry    entryRow `gorm:"embedded"`
	Reel     *int
	Body     RollCloth `gorm:"serializer:json"`
	RollLeft int
	RollFree int
	Ended    bool
}

func (r clothRow) held() HeldCloth {
	h := HeldCloth{Entry: r.Entry.entry(), Open: r.Entry.Kind == Reserved && !r.Ended, Of: Roll{Number: r.Entry.Roll, Made: r.Body, Left: r.RollLeft, Free: r.RollFree}}
	if r.Reel != nil {
		h.Of.Reel = *r.Reel
	}
	return h
}

const isEnded = "exists (select 1 from roll_entries x where x.ends = e.running)"

func (s *Store) clothRows(ctx context.Context, commissionID string) ([]clothRow, error) {
	rows, err := many(s.reads(ctx).Table("roll_entries e").Joins("join rolls on rolls.number = e.roll").Joins(newestEntry).
		Select("e.*, rolls.reel, rolls.body, newest.left_after as roll_left, newest.free_after as roll_free, "+isEnded+" as ended").
		Where("e.commission_id = ? and e.kind in ?", commissionID, []EntryKind{Reserved, Used}).Order("e.running"), func(r clothRow) clothRow { return r })
	if err != nil {
		return nil, fmt.Errorf("cloth of commission %s: %w", commissionID, err)
	}
	return rows, nil
}

// HeldCloth lists what a commission's hat has reserved and has been cut from, oldest first; what was let go or
// has been cut since is listed by its reservation too.
func (s *Store) HeldCloth(ctx context.Context, commissionID string) ([]HeldCloth, error) {
	rows, err := s.clothRows(ctx, commissionID)
	return each(rows, clothRow.held), err
}

// A want is what a fit sheet needs of a roll.
type want struct {
	of     Roll
	length int
}

// wants are what a sheet needs: of the roll that was chosen for it, and of its reel where a length is kept.
func (s *Store) wants(ctx context.Context, sheet FitSheet) ([]want, fitting.Result, error) {
	in, out, err := sheet.Read()
	if err != nil {
		return nil, out, err
	}
	var list []want
	if number, chosen := sheet.Figures[RollFigure]; chosen {
		r, err := s.Roll(ctx, int(number))
		if err != nil {
			return nil, out, err
		}
		list = append(list, want{r, ToCut(out.Cloth.Takes.Length)})
	}
	elastics, err := s.Elastics(ctx)
	if err != nil {
		return nil, out, err
	}
	for _, r := range elastics {
		if r.Made.Colour == in.Learned.Reel {
			list = append(list, want{r, ToCut(out.Elastic.Cut)})
		}
	}
	return slices.DeleteFunc(list, func(w want) bool { return !w.of.PutAway.IsZero() || w.length == 0 }), out, nil
}

// ToCut is a length as it is cut: up to the next half centimetre, in mm, as the sheet says it.
func ToCut(l fitting.Length) int {
	const hair = 1e-6 // a whole number computed a hair too large stays what it is
	return int(5 * math.Ceil(l.Millimetres()/5-hair))
}

// reserve keeps what the newest sheet needs, in place of what an earlier one had reserved. What has been cut
// already for the same pieces is not wanted again. A *Problem says what is short, with the figure by which
// the roll is chosen as its key, unless she has been told.
func (s *Store) reserve(ctx context.Context, sheet FitSheet, by string, told bool) error {
	if err := s.releaseCloth(ctx, sheet.CommissionID, by); err != nil {
		return err
	}
	wants, _, err := s.toReserve(ctx, sheet)
	if err != nil {
		return err
	}
	if p := short(wants); p != nil && !told {
		return p
	}
	for _, w := range wants {
		row := entryRow{Roll: w.of.Number, Kind: Reserved, FreeBy: -w.length, CommissionID: &sheet.CommissionID, Sheet: sheet.Number, Who: by}
		if _, err := s.writeEntry(ctx, row); err != nil {
			return err
		}
	}
	return nil
}

// toReserve are the wants of a sheet but for what is cut already.
func (s *Store) toReserve(ctx context.Context, sheet FitSheet) ([]want, fitting.Result, error) {
	wants, out, err := s.wants(ctx, sheet)
	if err != nil || len(wants) == 0 {
		return nil, out, err
	}
	cut, err := s.clothRows(ctx, sheet.CommissionID)
	if err != nil {
		return nil, out, err
	}
	sheets, err := s.Sheets(ctx, sheet.CommissionID)
	if err != nil {
		return nil, out, err
	}
	for _, c := range cut {
		if c.Entry.Kind != Used {
			continue
		}
		_, was, err := sheets[c.Entry.Sheet-1].Read()
		if err != nil {
			return nil, out, err
		}
		wants = slices.DeleteFunc(wants, func(w want) bool {
			same := reflect.DeepEqual(was.Cloth.Cuts(), out.Cloth.Cuts())
			if w.of.Reel > 0 {
				same = ToCut(was.Elastic.Cut) == w.length
			}
			return w.of.Number == c.Entry.Roll && same
		})
	}
	return wants, out, nil
}

// short says of what there is not enough; nil when there is.
func short(wants []want) error {
	var words []string
	key := RollFigure
	for _, w := range slices.Backward(wants) {
		if w.of.Free < w.length {
			if key = RollFigure; w.of.Reel > 0 {
				key = ReelFigure
			}
			words = append(words, fmt.Sprintf("%s: %s free, and this hat takes %s.", w.of.Named(), metres(max(0, w.of.Free)), metres(w.length)))
		}
	}
	if len(words) == 0 {
		return nil
	}
	slices.Reverse(words)
	return &Problem{Key: key, Text: strings.Join(words, " ") + " Choose another, count it anew if more lies there, or say that you will buy the rest."}
}

// releaseCloth gives back all that a commission has reserved and that was not cut.
func (s *Store) releaseCloth(ctx context.Context, commissionID, by string) error {
	return s.endAll(ctx, commissionID, func(r clothRow) error {
		return s.end(ctx, r, LetGo, 0, "", by)
	})
}

func (s *Store) endAll(ctx context.Context, commissionID string, end func(clothRow) error) error {
	rows, err := s.clothRows(ctx, commissionID)
	if err != nil {
		return err
	}
	for _, r := range rows {
		if r.held().Open {
			if err := end(r); err != nil {
				return err
			}
		}
	}
	return nil
}

// end closes a reservation: so much of it was cut, and the rest is free again.
func (s *Store) end(ctx context.Context, r clothRow, kind EntryKind, cut int, note, by string) error {
	row := entryRow{
		Roll: r.Entry.Roll, Kind: kind, LeftBy: -cut, FreeBy: -r.Entry.FreeBy - cut, Ends: &r.Entry.Running,
		CommissionID: r.Entry.CommissionID, Sheet: r.Entry.Sheet, Note: note, Who: by,
	}
	_, err := s.writeEntry(ctx, row)
	return err
}

// unwritten is the note of a cut that nobody wrote down: by then the hat was past the bench.
const unwritten = "taken as on the fit sheet; nobody had written down the cut"

// clothFollows keeps rolls in step with a move: what is no longer wanted is let go, what must have been cut by
// then is taken as cut, and what is taken up again is reserved again. Where too little is free she has been
// told by the guard that she passed over.
func (s *Store) clothFollows(ctx context.Context, c Commission, to Stage, by string) error {
	switch {
	case !holds(to):
		return s.releaseCloth(ctx, c.ID, by)
	case to == Proposed || to == Agreed || to == InHand:
		if holds(c.Stage) {
			return nil
		}
		sheets, err := s.Sheets(ctx, c.ID)
		if err != nil || len(sheets) == 0 {
			return err
		}
		return s.reserve(ctx, sheets[len(sheets)-1], by, true)
	}
	return s.endAll(ctx, c.ID, func(r clothRow) error {
		now, err := s.Roll(ctx, r.Entry.Roll) // another of hers may have been cut from it a moment ago
		if err != nil {
			return err
		}
		return s.end(ctx, r, Used, min(-r.Entry.FreeBy, now.Left), unwritten, by)
	})
}

// holds says whether a commission keeps its cloth at that stage.
func holds(stage Stage) bool {
	return stage != Enquiry && stage != Measured && !stage.Closed()
}

// enoughCloth says whether what a commission would reserve anew on its way is free.
func (s *Store) enoughCloth(ctx context.Context, c Commission) (bool, error) {
	if holds(c.Stage) {
		return true, nil
	}
	sheets, err := s.Sheets(ctx, c.ID)
	if err != nil || len(sheets) == 0 {
		return true, err
	}
	wants, _, err := s.toReserve(ctx, sheets[len(sheets)-1])
	return short(wants) == nil, err
}

// reservation finds what a commission has reserved by its entry's id. ErrNotFound when there is none of it;
// ErrConflict when it was cut or let go meanwhile.
func (s *Store) reservation(ctx context.Context, commissionID, entryID string) (clothRow, error) {
	rows, err := s.clothRows(ctx, commissionID)
	if err != nil {
		return clothRow{}, err
	}
	i := slices.IndexFunc(rows, func(r clothRow) bool { return r.Entry.ID == entryID && r.Entry.Kind == Reserved })
	switch {
	case i < 0:
		return clothRow{}, fmt.Errorf("reservation for commission %s: %w", commissionID, ErrNotFound)
	case rows[i].Ended:
		return clothRow{}, fmt.Errorf("reservation for commission %s: %w", commissionID, ErrConflict)
	}
	return rows[i], nil
}

// Cut writes down what was really cut of a roll for a hat, in mm, in place of what was reserved; the entry's
// id is the reservation's. What is left of the roll is returned: less may then be free than is reserved for
// others, and she is to be told. A *Problem has the key "cut".
func (s *Store) Cut(ctx context.Context, commissionID, entryID string, length int, by string) (Roll, error) {
	return together(ctx, s, func(s *Store) (Roll, error) {
		r, err := s.reservation(ctx, commissionID, entryID)
		switch {
		case err != nil:
			return Roll{}, err
		case !(length >= 1 && length <= MostRollLength):
			return Roll{}, &Problem{Key: "cut", Text: "Say how much was cut. If nothing was, let the cloth go."}
		case length > r.RollLeft:
			return Roll{}, &Problem{Key: "cut", Text: fmt.Sprintf("By what is written down only %s of it lies there. Count it anew, then write down what was cut.", metres(r.RollLeft))}
		}
		if err := s.end(ctx, r, Used, length, "", by); err != nil {
			return Roll{}, err
		}
		return s.Roll(ctx, r.Entry.Roll)
	})
}

// LetGo gives one reservation of a commission back: ErrNotFound and ErrConflict as for Cut.
func (s *Store) LetGo(ctx context.Context, commissionID, entryID, by string) error {
	return s.Together(ctx, func(s *Store) error {
		r, err := s.reservation(ctx, commissionID, entryID)
		if err != nil {
			return err
		}
		return s.end(ctx, r, LetGo, 0, "", by)
	})
}

// reelsFollow keeps the lengths of elastic with the reels of the settings: renamed with them, and put away
// when a reel is used up.
func (s *Store) reelsFollow(ctx context.Context, m Materials) error {
	elastics, err := s.Elastics(ctx)
	if err != nil {
		return err
	}
	for _, e := range elastics {
		r, there := m.Reel(float64(e.Reel))
		switch {
		case there && r.Name == e.Made.Colour:
			continue
		case there:
			err = s.editRoll(ctx, e.Number, e.Version, func(_ *Store, row *rollRow) error {
				row.Body.Colour = r.Name
				return nil
			})
		default:
			err = s.elasticGone(ctx, e)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

func (s *Store) elasticGone(ctx context.Context, e Roll) error {
	var hats []string
	q := s.reads(ctx).Table("roll_entries e").Where("e.roll = ? and e.kind = ? and not "+isEnded, e.Number, Reserved)
	if err := q.Pluck("e.commission_id", &hats).Error; err != nil {
		return fmt.Errorf("hats that reserve of roll %d: %w", e.Number, err)
	}
	for _, id := range hats {
		err := s.endAll(ctx, id, func(r clothRow) error {
			if r.Entry.Roll != e.Number {
				return nil
			}
			return s.end(ctx, r, LetGo, 0, "", ByMaker)
		})
		if err != nil {
			return err
		}
	}
	return s.PutRollAway(ctx, e.Number, e.Version, ByMaker)
}
