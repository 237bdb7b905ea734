package orders

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"
	"unicode/utf8"
)

// Ways of a client. Without one she is written to by chat where there is one, else by mail where that can be.
const (
	ByHand = "by hand"   // the milliner sends letters herself
	ByMail = "by e-mail" // also where there is a chat
)

// Prefer keeps the way in which a client would be written to: ByHand, ByMail or "". A *Problem for any other.
func (s *Store) Prefer(ctx context.Context, clientID, way string) error {
	if !slices.Contains([]string{"", ByHand, ByMail}, way) {
		return &Problem{Key: "prefers", Text: "Choose one of the ways shown."}
	}
	return s.setClientTo(ctx, clientID, map[string]any{"prefers": way})
}

// Owe notes that a client is owed an answer, from now on unless she was already.
func (s *Store) Owe(ctx context.Context, clientID string) error {
	return s.setClientTo(ctx, clientID, map[string]any{"owed": expression("case owed when 0 then ? else owed end", millis(s.now()))})
}

// OweNothing notes that no answer is wanted, though the client may have written last.
func (s *Store) OweNothing(ctx context.Context, clientID string) error {
	return s.setClientTo(ctx, clientID, map[string]any{"owed": 0})
}

func (s *Store) setClientTo(ctx context.Context, clientID string, change map[string]any) error {
	change["version"] = expression("version + 1")
	res := s.writes(ctx).Model(&clientRow{}).Where("id = ?", clientID).Updates(change)
	if res.Error == nil && res.RowsAffected == 0 {
		res.Error = ErrNotFound
	}
	if res.Error != nil {
		return fmt.Errorf("change client %s: %w", clientID, res.Error)
	}
	return nil
}

// A Note is the milliner's own, beside the letters of a client. It is no letter and never goes out.
type Note struct {
	ID, CommissionID, Body, By string
	At                         time.Time
}

type noteRow struct {
	ID, CommissionID, Body string
	WrittenBy              string
	At                     int64
}

func (noteRow) TableName() string { return "notes" }

func (r noteRow) note() Note {
	return Note{r.ID, r.CommissionID, r.Body, r.WrittenBy, moment(r.At)}
}

// WriteNote keeps a note beside the letters. A *Problem with key "aside" as for a letter's body.
func (s *Store) WriteNote(ctx context.Context, commissionID, body, by string) (Note, error) {
	body = strings.TrimSpace(body)
	switch n := utf8.RuneCountInString(body); {
	case n == 0:
		return Note{}, &Problem{Key: "aside", Text: "Write something first."}
	case n > longestNote:
		return Note{}, &Problem{Key: "aside", Text: fmt.Sprintf("Keep the note under %d letters.", longestNote)}
	}
	if _, err := s.Commission(ctx, commissionID); err != nil {
		return Note{}, err
	}
	row := noteRow{newID(), commissionID, body, by, millis(s.now())}
	if err := s.writes(ctx).Create(&row).Error; err != nil {
		return Note{}, fmt.Errorf("keep note %s: %w", row.ID, err)
	}
	return row.note(), nil
}

// Notes lists the notes about all commissions of a client, oldest first.
func (s *Store) Notes(ctx context.Context, clientID string) ([]Note, error) {
	hers := s.reads(ctx).Model(&commissionRow{}).Where("client_id = ?", clientID).Select("id")
	list, err := many(s.reads(ctx).Where("commission_id in (?)", hers).Order("at, rowid"), noteRow.note)
	if err != nil {
		return nil, fmt.Errorf("notes about client %s: %w", clientID, err)
	}
	return list, nil
}
