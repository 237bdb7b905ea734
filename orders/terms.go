package orders

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"time"
)

type termsRow struct {
	ID      int
	Body    string
	Version int
}

func (termsRow) TableName() string { return "terms" }

// Terms reads what the workroom sells by; before any were saved, usual ones with version 0.
func (s *Store) Terms(ctx context.Context) (Terms, error) {
	row, err := one[termsRow](s.reads(ctx).Where("id = 1"))
	if errors.Is(err, ErrNotFound) {
		return Terms{Currency: "EUR", OverheadPoints: 1500, MarginPoints: 2500, DepositPoints: 5000}, nil
	} else if err != nil {
		return Terms{}, fmt.Errorf("terms: %w", err)
	}
	var t Terms
	if err := json.Unmarshal([]byte(row.Body), &t); err != nil {
		return Terms{}, fmt.Errorf("terms: %w", err)
	}
	t.Version = row.Version
	return t, nil
}

// longestWording of the law's words, so that they fit into one letter with the rest.
const longestWording = 2000

// SaveTerms keeps them; ErrConflict when t.Version is old. A *Problem has as its key what is wrong:
// seller, currency, tax_name, tax, hour_rate, overhead, margin, deposit, postage, cloth_price, wording
// or checked. Quotations already made stay as they are.
func (s *Store) SaveTerms(ctx context.Context, t Terms) (Terms, error) {
	t.Seller, t.Wording = strings.TrimSpace(t.Seller), strings.TrimSpace(t.Wording)
	if err := t.check(s.now()); err != nil {
		return t, err
	}
	return together(ctx, s, func(s *Store) (Terms, error) {
		now, err := s.Terms(ctx)
		if err != nil {
			return t, err
		}
		body, err := json.Marshal(t)
		if err != nil {
			return t, err
		}
		row := termsRow{1, string(body), t.Version + 1}
		if err := keepOnly(s.writes(ctx), &row, now.Version, t.Version); err != nil {
			return t, fmt.Errorf("save terms: %w", err)
		}
		t.Version++
		return t, nil
	})
}

func (t Terms) check(now time.Time) error {
	points := func(n, most int) bool { return n >= 0 && n <= most }
	checked, err := time.Parse(time.DateOnly, t.Checked)
	for _, c := range []struct {
		ok        bool
		key, text string
	}{
		{t.Currency.Known(), "currency", "Write the currency as its three letters in ISO 4217, such as EUR or GBP."},
		{points(t.TaxPoints, allPoints), "tax", "The tax lies between 0 and 100 per cent."},
		{t.TaxPoints == 0 || t.TaxName != "", "tax_name", "Say what the tax is called."},
		{t.HourRate.possible(), "hour_rate", "An hour costs nothing or more."},
		{points(t.OverheadPoints, allPoints), "overhead", "The overhead lies between 0 and 100 per cent."},
		{points(t.MarginPoints, 10*allPoints), "margin", "The margin lies between 0 and 1000 per cent."},
		{points(t.DepositPoints, allPoints), "deposit", "The deposit lies between 0 and 100 per cent."},
		{t.Postage.possible(), "postage", "Posting costs nothing or more."},
		{t.ClothPrice.possible(), "cloth_price", "A metre of cloth costs nothing or more."},
		{len([]rune(t.Seller)) <= 500, "seller", "Keep this under 500 letters."},
		{len([]rune(t.Wording)) <= longestWording, "wording", fmt.Sprintf("Keep the wording under %d letters.", longestWording)},
		{t.Wording == "" || err == nil, "checked", "Say on which day you had the wording checked, such as 3 March 2027. It is not used before."},
		{err != nil || !checked.After(now.Add(24*time.Hour)), "checked", "That day is still to come."},
	} {
		if !c.ok {
			return &Problem{Key: c.key, Text: c.text}
		}
	}
	return nil
}
