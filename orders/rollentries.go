package orders

import (
	"context"
	"fmt"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"
)

// An EntryKind says what an entry of a roll is of.
type EntryKind string

// The kinds of entries.
const (
	Bought   EntryKind = "bought"   // more of it lies there
	Counted  EntryKind = "counted"  // measured anew, and the length set right
	Reserved EntryKind = "reserved" // kept for the hat of a fit sheet
	Used     EntryKind = "used"     // cut for the hat for which it was reserved
	LetGo    EntryKind = "let go"   // reserved no longer, and not cut
)

// An Entry is one change of a roll's length, in mm. What is left of a roll and what of that is free are the
// sums of its entries and are kept nowhere else.
type Entry struct {
	ID             string
	Roll           int
	Kind           EntryKind
	LeftBy, FreeBy int // what it adds, below nothing what it takes
	Left, Free     int // the sums up to it
	Told           bool
	CommissionID   string // "" when it is about none, or about one that has been erased
	Sheet          int    // number of the fit sheet; 0 likewise
	Note, By       string
	At             time.Time
}

type entryRow struct {
	Running              int `gorm:"primaryKey"`
	ID                   string
	Roll                 int
	Kind                 EntryKind
	LeftBy, FreeBy       int
	LeftAfter, FreeAfter int
	Told                 bool
	Ends                 *int
	CommissionID         *string
	Sheet                int
	Note, Who            string
	At                   int64
}

func (entryRow) TableName() string { return "roll_entries" }

func (r entryRow) entry() Entry {
	return Entry{
		ID: r.ID, Roll: r.Roll, Kind: r.Kind, LeftBy: r.LeftBy, FreeBy: r.FreeBy, Left: r.LeftAfter, Free: r.FreeAfter, Told: r.Told,
		CommissionID: plain(r.CommissionID), Sheet: r.Sheet, Note: r.Note, By: r.Who, At: moment(r.At),
	}
}

// NewEntryID is for the form by which a length will be written down, so that one sent twice is kept once.
func NewEntryID() string { return newID() }

// writeEntry adds an entry to its roll. Told is set where less is free afterwards than is reserved: whoever calls
// has told her.
func (s *Store) writeEntry(ctx context.Context, row entryRow) (Entry, error) {
	r, err := s.Roll(ctx, row.Roll)
	if err != nil {
		return Entry{}, err
	}
	row.LeftAfter, row.FreeAfter, row.At = r.Left+row.LeftBy, r.Free+row.FreeBy, millis(s.now())
	row.Told = row.FreeAfter < 0
	if row.ID == "" {
		row.ID = newID()
	}
	if err := s.writes(ctx).Create(&row).Error; err != nil {
		return Entry{}, fmt.Errorf("%s, roll %d: %w", row.Kind, row.Roll, err)
	}
	return row.entry(), nil
}

// written says whether an entry with that id is there already; ErrNotFound when the id can be none.
func (s *Store) written(ctx context.Context, id string) (bool, error) {
	if len(id) != 26 {
		return false, ErrNotFound
	}
	var n int64
	err := s.reads(ctx).Model(&entryRow{}).Where("id = ?", id).Count(&n).Error
	return n > 0, err
}

// Buy adds a length that has come in. id is from NewEntryID; a second entry under it is dropped. A *Problem
// has as its key "length" or "note".
func (s *Store) Buy(ctx context.Context, number int, id string, length int, note, by string) error {
	note = strings.TrimSpace(note)
	return s.onRoll(ctx, number, id, note, func(s *Store, r Roll) (entryRow, error) {
		if !(length >= 1 && length <= MostRollLength-r.Left) {
			return entryRow{}, &Problem{Key: "length", Text: "Say how much has come in: more than nothing, and at most 1000 m on a roll."}
		}
		return entryRow{ID: id, Roll: number, Kind: Bought, LeftBy: length, FreeBy: length, Note: note, Who: by}, nil
	})
}

// Count sets a roll right when its length is measured anew; why is kept. It may leave less than is reserved:
// the roll that is returned says so. A *Problem has as its key "length" or "why".
func (s *Store) Count(ctx context.Context, number int, id string, length int, why, by string) (Roll, error) {
	why = strings.TrimSpace(why)
	err := s.onRoll(ctx, number, id, why, func(_ *Store, r Roll) (entryRow, error) {
		switch {
		case !(length >= 0 && length <= MostRollLength):
			return entryRow{}, &Problem{Key: "length", Text: "Say how much lies there: nothing, or up to 1000 m."}
		case why == "":
			return entryRow{}, &Problem{Key: "why", Text: "Write a word on why it differs; the roll keeps it."}
		}
		return entryRow{ID: id, Roll: number, Kind: Counted, LeftBy: length - r.Left, FreeBy: length - r.Left, Note: why, Who: by}, nil
	})
	if err != nil {
		return Roll{}, err
	}
	return s.Roll(ctx, number)
}

// onRoll writes one entry of a roll at hand, once.
func (s *Store) onRoll(ctx context.Context, number int, id, note string, entry func(*Store, Roll) (entryRow, error)) error {
	return s.Together(ctx, func(s *Store) error {
		if done, err := s.written(ctx, id); err != nil || done {
			return err
		}
		r, err := s.Roll(ctx, number)
		switch {
		case err != nil:
			return err
		case !r.PutAway.IsZero():
			return &Problem{Key: "length", Text: "It is put away. Take it out again first."}
		case utf8.RuneCountInString(note) > longestEntryNote:
			return &Problem{Key: "note", Text: fmt.Sprintf("Keep this under %d letters.", longestEntryNote)}
		}
		row, err := entry(s, r)
		if err == nil {
			_, err = s.writeEntry(ctx, row)
		}
		return err
	})
}

// finished is why a roll that is put away has nothing left.
const finished = "put away, and what was left of it with it"

// PutRollAway takes a roll that is finished off the list; what is left is written off. ErrConflict when its
// version is old; a *Problem with the key "away" while something of it is reserved.
func (s *Store) PutRollAway(ctx context.Context, number, version int, by string) error {
	return s.editRoll(ctx, number, version, func(s *Store, row *rollRow) error {
		r, err := s.Roll(ctx, number)
		switch {
		case err != nil:
			return err
		case r.Free != r.Left:
			return &Problem{Key: "away", Text: fmt.Sprintf("%s of it is reserved. Choose another roll for those hats first, or let it go on their fit sheets.", metres(r.Left-r.Free))}
		case r.Left != 0:
			if _, err := s.writeEntry(ctx, entryRow{Roll: number, Kind: Counted, LeftBy: -r.Left, FreeBy: -r.Left, Note: finished, Who: by}); err != nil {
				return err
			}
		}
		row.PutAway = millis(s.now())
		return nil
	})
}

// TakeRollOut puts a roll back among those at hand, with nothing on it until it is counted. ErrConflict when
// its version is old, or when its reel has another length by now.
func (s *Store) TakeRollOut(ctx context.Context, number, version int) error {
	err := s.editRoll(ctx, number, version, func(_ *Store, row *rollRow) error {
		row.PutAway = 0
		return nil
	})
	if taken(err) {
		return fmt.Errorf("roll %d: %w", number, ErrConflict)
	}
	return err
}

// A RollEntry is an entry with the number by which its commission is spoken of; "" for none.
type RollEntry struct {
	Entry
	Number string
}

type numberedEntryRow struct {
	Row               entryRow `gorm:"embedded"`
	Year, YearsNumber int
}

// Entries lists at most so many entries of a roll, the newest first, from the one with that id on or from the
// newest; next is the id at which the page after it begins, "" on the last.
func (s *Store) Entries(ctx context.Context, rollNumber int, from string, most int) (list []RollEntry, next string, err error) {
	q := s.reads(ctx).Table("roll_entries e").Joins("left join commissions c on c.id = e.commission_id").
		Select("e.*, coalesce(c.year, 0) as year, coalesce(c.running, 0) as years_number").Where("e.roll = ?", rollNumber)
	if from != "" {
		q = q.Where("e.running <= (select running from roll_entries where id = ?)", from)
	}
	list, err = many(q.Order("e.running desc").Limit(most+1), func(r numberedEntryRow) RollEntry {
		e := RollEntry{Entry: r.Row.entry()}
		if r.Year > 0 {
			e.Number = number(r.Year, r.YearsNumber)
		}
		return e
	})
	if err != nil {
		return nil, "", fmt.Errorf("entries of roll %d: %w", rollNumber, err)
	}
	if len(list) > most {
		return list[:most], list[most].ID, nil
	}
	return list, "", nil
}

// metres says a length of cloth: "1.25 m", or "34 cm" below a metre.
func metres(mm int) string {
	if mm < 1000 && mm > -1000 {
		return strconv.FormatFloat(float64(mm)/10, 'f', -1, 64) + " cm"
	}
	return strconv.FormatFloat(float64(mm)/1000, 'f', -1, 64) + " m"
}
