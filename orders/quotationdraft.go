package orders

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"time"
)

// A QuotationDraft is a quotation that is being written: its form as it was typed, right or wrong, so
// that leaving the page loses nothing.
type QuotationDraft struct {
	CommissionID string
	Typed        map[string]string // by field; empty ones are left out
	Newest       int               // the number of the newest quotation when it was begun, 0 for none
	By           string
	At           time.Time
	Version      int // 0: none is kept
}

type quotationDraftRow struct {
	CommissionID string `gorm:"primaryKey"`
	Body         string
	Newest       int
	WrittenBy    string
	At           int64
	Version      int
}

func (quotationDraftRow) TableName() string { return "quotation_drafts" }

// QuotationDraft reads what is being written for a commission; one of version 0 when there is none.
func (s *Store) QuotationDraft(ctx context.Context, commissionID string) (QuotationDraft, error) {
	row, err := one[quotationDraftRow](s.reads(ctx).Where("commission_id = ?", commissionID))
	if errors.Is(err, ErrNotFound) {
		return QuotationDraft{CommissionID: commissionID}, nil
	}
	d := QuotationDraft{commissionID, nil, row.Newest, row.WrittenBy, moment(row.At), row.Version}
	if err == nil {
		err = json.Unmarshal([]byte(row.Body), &d.Typed)
	}
	if err != nil {
		return d, fmt.Errorf("quotation being written for commission %s: %w", commissionID, err)
	}
	return d, nil
}

// mostForm bounds what is kept of one form, in bytes: many times what a quotation holds.
const mostForm = 64 << 10

// KeepQuotation keeps a form as it was typed, over the version that was read; ErrConflict when another
// page has kept or sent it since. A *Problem with key "says" when it is too long to keep.
func (s *Store) KeepQuotation(ctx context.Context, d QuotationDraft, by string) (QuotationDraft, error) {
	return together(ctx, s, func(s *Store) (QuotationDraft, error) {
		if _, err := s.Commission(ctx, d.CommissionID); err != nil {
			return d, err
		}
		typed := map[string]string{}
		for key, text := range d.Typed {
			if text != "" {
				typed[key] = text
			}
		}
		body, err := json.Marshal(typed)
		if err != nil {
			return d, err
		}
		if len(body) > mostForm {
			return d, &Problem{Key: "says", Text: "This is too long to be kept. Say what the client gets in fewer words."}
		}
		d.Typed, d.By, d.At, d.Version = typed, by, s.clock(), d.Version+1
		row := quotationDraftRow{d.CommissionID, string(body), d.Newest, by, millis(d.At), d.Version}
		if err := s.keepDraft(ctx, row); err != nil {
			return d, fmt.Errorf("keep quotation being written for commission %s: %w", d.CommissionID, err)
		}
		return d, nil
	})
}

func (s *Store) keepDraft(ctx context.Context, row quotationDraftRow) error {
	if row.Version == 1 {
		err := s.writes(ctx).Create(&row).Error
		if taken(err) {
			return ErrConflict
		}
		return err
	}
	res := s.writes(ctx).Model(&quotationDraftRow{}).Where("commission_id = ? and version = ?", row.CommissionID, row.Version-1).Select("*").Updates(&row)
	if res.Error == nil && res.RowsAffected == 0 {
		return ErrConflict
	}
	return res.Error
}

// DropQuotation throws away what is being written; ErrConflict when it is no longer of that version.
func (s *Store) DropQuotation(ctx context.Context, commissionID string, version int) error {
	res := s.writes(ctx).Where("commission_id = ? and version = ?", commissionID, version).Delete(&quotationDraftRow{})
	if res.Error == nil && res.RowsAffected == 0 && version > 0 {
		res.Error = ErrConflict
	}
	if res.Error != nil {
		return fmt.Errorf("throw away quotation being written for commission %s: %w", commissionID, res.Error)
	}
	return nil
}

// QuoteKept is Quote for a quotation read from what is kept: with it goes the form, which must still be of
// that version; else ErrConflict.
func (s *Store) QuoteKept(ctx context.Context, q Quotation, d QuotationDraft, by string) (Quotation, error) {
	return together(ctx, s, func(s *Store) (Quotation, error) {
		if err := s.DropQuotation(ctx, d.CommissionID, d.Version); err != nil {
			return q, err
		}
		return s.Quote(ctx, q, d.Newest, by)
	})
}
