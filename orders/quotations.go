package orders

import (
	"context"
	"encoding/json"
	"fmt"
	"strings"
)

type quotationRow struct {
	ID           string
	CommissionID string
	Number       int
	Body         string
	Total        Amount
	MadeBy       string
	Made         int64
}

func (quotationRow) TableName() string { return "quotations" }

type acceptanceRow struct {
	QuotationID string `gorm:"primaryKey"`
	Name        string
	Total       Amount
	Wording     string
	At          int64
}

func (acceptanceRow) TableName() string { return "acceptances" }

func (r acceptanceRow) acceptance() *Acceptance {
	return &Acceptance{Name: r.Name, Total: r.Total, Wording: r.Wording, At: moment(r.At)}
}

// Quotations lists a commission's quotations, oldest first, with what the client has accepted.
func (s *Store) Quotations(ctx context.Context, commissionID string) ([]Quotation, error) {
	rows, err := many(s.reads(ctx).Where("commission_id = ?", commissionID).Order("number"), func(r quotationRow) quotationRow { return r })
	if err != nil {
		return nil, fmt.Errorf("quotations of commission %s: %w", commissionID, err)
	}
	accepted := map[string]*Acceptance{}
	if len(rows) > 0 {
		hers := s.reads(ctx).Model(&quotationRow{}).Where("commission_id = ?", commissionID).Select("id")
		all, err := many(s.reads(ctx).Where("quotation_id in (?)", hers), func(r acceptanceRow) acceptanceRow { return r })
		if err != nil {
			return nil, fmt.Errorf("acceptances of commission %s: %w", commissionID, err)
		}
		for _, r := range all {
			accepted[r.QuotationID] = r.acceptance()
		}
	}
	list := make([]Quotation, len(rows))
	for i, r := range rows {
		if err := json.Unmarshal([]byte(r.Body), &list[i]); err != nil {
			return nil, fmt.Errorf("quotation %s: %w", r.ID, err)
		}
		list[i].ID, list[i].CommissionID, list[i].Number = r.ID, r.CommissionID, r.Number
		list[i].By, list[i].Made, list[i].Accepted = r.MadeBy, moment(r.Made), accepted[r.ID]
	}
	return list, nil
}

// Quote makes the next version of a commission's quotation and writes to the client that it stands on
// her page. number is that of the newest version that was there when it was written, 0 for none:
// ErrConflict when another has come since. A *Problem says what is wrong with it, by its field.
func (s *Store) Quote(ctx context.Context, q Quotation, number int, by string) (Quotation, error) {
	q.Says, q.Seller, q.Wording = strings.TrimSpace(q.Says), strings.TrimSpace(q.Seller), strings.TrimSpace(q.Wording)
	today, err := s.dayThere(ctx)
	if err == nil {
		err = q.check(today)
	}
	if err != nil {
		return q, err
	}
	return together(ctx, s, func(s *Store) (Quotation, error) {
		c, err := s.Commission(ctx, q.CommissionID)
		if err != nil {
			return q, err
		}
		if c.Stage.Closed() || c.Stage == HandedOver {
			return q, &Problem{Key: "says", Text: fmt.Sprintf("The commission is %q; there is nothing to quote for.", c.Stage)}
		}
		all, err := s.Quotations(ctx, c.ID)
		if err != nil {
			return q, err
		}
		paid, err := s.Payments(ctx, c.ID)
		if err != nil {
			return q, err
		}
		if len(paid) > 0 && paid[0].Currency != q.Currency {
			return q, &Problem{Key: "currency", Text: fmt.Sprintf("This commission has been paid in %s; quote it in that.", paid[0].Currency)}
		}
		if len(all) != number {
			return q, fmt.Errorf("quote commission %s: %w", c.ID, ErrConflict)
		}
		body, err := json.Marshal(q)
		if err != nil {
			return q, err
		}
		row := quotationRow{newID(), c.ID, number + 1, string(body), q.Parts().Total, by, millis(s.now())}
		if err := s.writes(ctx).Create(&row).Error; err != nil {
			return q, fmt.Errorf("quote commission %s: %w", c.ID, err)
		}
		q.ID, q.Number, q.By, q.Made = row.ID, row.Number, by, moment(row.Made)
		words := "What your hat costs stands on your page, for you to agree to: {link}"
		if number > 0 {
			words = "What your hat costs has changed. See how it is now on your page: {link}"
		}
		_, err = s.inform(ctx, c.ID, words)
		return q, err
	})
}

// Accept keeps a client's yes to a quotation, moves a commission that was proposed to Agreed, and writes
// her a copy, in one transaction. total is what stood on the page she read. Accepted twice it is kept
// once. A *Problem with key "accept" says why it can't be accepted any more; with key "name", that the
// name is missing.
func (s *Store) Accept(ctx context.Context, commissionID string, number int, name string, total Amount) (Quotation, error) {
	name = strings.TrimSpace(name)
	if n := len([]rune(name)); n == 0 || n > 200 {
		return Quotation{}, NewProblem("name", "Write your name; it is kept with your order.")
	}
	return together(ctx, s, func(s *Store) (Quotation, error) {
		c, err := s.Commission(ctx, commissionID)
		if err != nil {
			return Quotation{}, err
		}
		all, err := s.Quotations(ctx, c.ID)
		if err != nil {
			return Quotation{}, err
		}
		today, err := s.dayThere(ctx)
		if err != nil {
			return Quotation{}, err
		}
		q, err := acceptable(c, all, number, total, today)
		if err != nil || q.Accepted != nil {
			return q, err
		}
		row := acceptanceRow{q.ID, name, total, q.Wording, millis(s.now())}
		if err := s.writes(ctx).Create(&row).Error; err != nil {
			return q, fmt.Errorf("accept quotation %s: %w", q.ID, err)
		}
		q.Accepted = row.acceptance()
		if c.Stage == Proposed {
			if _, err := s.enter(ctx, c, Agreed, ByClient, fmt.Sprintf("accepted quotation %d", q.Number)); err != nil {
				return q, err
			}
		}
		_, err = s.inform(ctx, c.ID, q.copied(c))
		return q, err
	})
}

func acceptable(c Commission, all []Quotation, number int, total Amount, today string) (Quotation, error) {
	if number < 1 || number > len(all) {
		return Quotation{}, ErrNotFound
	}
	q := all[number-1]
	const key = "accept"
	switch {
	case q.Accepted != nil:
		return q, nil
	case number != len(all) || total != q.Parts().Total:
		return q, NewProblem(key, "The studio has changed this meanwhile. Please read how it is now.")
	case today > q.Valid:
		return q, NewProblem(key, "This was valid until %s. Please ask the studio for a new one.", showDay(q.Valid))
	case c.Stage.Closed() || c.Stage == HandedOver:
		return q, NewProblem(key, "This hat is no longer being made. Please write to the studio.")
	}
	return q, nil
}

// copied is what is sent to the client of what she has agreed to.
func (q Quotation) copied(c Commission) string {
	p, say := q.Parts(), q.Currency.Say
	lines := []string{
		fmt.Sprintf("A copy of your order %s, quotation %d.", c.Number, q.Number),
		"Seller: " + q.Seller,
		q.Says,
		"The hat: " + say(p.Hat),
	}
	if p.Rush > 0 {
		lines = append(lines, "For an early day: "+say(p.Rush))
	}
	lines = append(lines, "Delivery: "+say(p.Delivery))
	if q.TaxPoints > 0 {
		lines = append(lines, q.TaxName+": "+say(p.Tax))
	}
	lines = append(lines,
		"Total: "+say(p.Total)+", of which "+say(p.Deposit)+" is due as the deposit.",
		q.Wording,
		fmt.Sprintf("Agreed to by %s on %s UTC.", q.Accepted.Name, q.Accepted.At.Format("2 January 2006, 15:04")))
	return strings.Join(lines, "\n")
}
