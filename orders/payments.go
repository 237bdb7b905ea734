package orders

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"
)

// A Payment is money that came in, or was given back, written down by hand. Its receipt number follows
// the one before without a gap, and it is never changed: a slip is put right by another one.
type Payment struct {
	ID           string // made by the page that asks, so that a form sent twice is kept once
	Receipt      int
	CommissionID string // "" when the commission has been erased
	Payer        string
	Amount       Amount // below nothing: given back
	Currency     Currency
	Way          string // one of Ways
	Day          string // 2027-06-12
	By           string
	At           time.Time
}

// Ways are those in which money may come in. No card is ever read here.
var Ways = []string{"bank transfer", "cash", "card at the counter", "cheque", "another way"}

type paymentRow struct {
	Receipt      int `gorm:"primaryKey;autoIncrement:false"`
	ID           string
	CommissionID *string
	Payer        string
	Amount       Amount
	Currency     Currency
	Way, Day     string
	EnteredBy    string
	At           int64
}

func (paymentRow) TableName() string { return "payments" }

func (r paymentRow) payment() Payment {
	return Payment{
		ID: r.ID, Receipt: r.Receipt, CommissionID: plain(r.CommissionID), Payer: r.Payer, Amount: r.Amount,
		Currency: r.Currency, Way: r.Way, Day: r.Day, By: r.EnteredBy, At: moment(r.At),
	}
}

// NewPaymentID is for the form on which a payment will be written down.
func NewPaymentID() string { return newID() }

// Payments lists what was paid for a commission, oldest first.
func (s *Store) Payments(ctx context.Context, commissionID string) ([]Payment, error) {
	list, err := many(s.reads(ctx).Where("commission_id = ?", commissionID).Order("receipt"), paymentRow.payment)
	if err != nil {
		return nil, fmt.Errorf("payments of commission %s: %w", commissionID, err)
	}
	return list, nil
}

// Payment reads one by its receipt; ErrNotFound when there is none.
func (s *Store) Payment(ctx context.Context, receipt int) (Payment, error) {
	row, err := one[paymentRow](s.reads(ctx).Where("receipt = ?", receipt))
	if err != nil {
		return Payment{}, fmt.Errorf("receipt %d: %w", receipt, err)
	}
	return row.payment(), nil
}

// Pay writes a payment down with the next receipt number. The same p.ID again gives what was written
// the first time. A *Problem has as its key what is wrong: amount, way, day or payer.
func (s *Store) Pay(ctx context.Context, p Payment, by string) (Payment, error) {
	return together(ctx, s, func(s *Store) (Payment, error) {
		if len(p.ID) != 26 {
			return p, ErrNotFound
		}
		before, err := many(s.reads(ctx).Where("id = ?", p.ID), paymentRow.payment)
		if err != nil || len(before) > 0 {
			return slices.Concat(before, []Payment{p})[0], err
		}
		c, err := s.Commission(ctx, p.CommissionID)
		if err != nil {
			return p, err
		}
		account, err := s.Account(ctx, c.ID)
		if err != nil {
			return p, err
		}
		if err := p.check(account, s.now()); err != nil {
			return p, err
		}
		var last int
		if err := s.reads(ctx).Model(&paymentRow{}).Select("coalesce(max(receipt), 0)").Scan(&last).Error; err != nil {
			return p, fmt.Errorf("last receipt: %w", err)
		}
		row := paymentRow{
			Receipt: last + 1, ID: p.ID, CommissionID: &c.ID, Payer: strings.TrimSpace(p.Payer), Amount: p.Amount,
			Currency: account.Currency, Way: p.Way, Day: p.Day, EnteredBy: by, At: millis(s.now()),
		}
		if err := s.writes(ctx).Create(&row).Error; err != nil {
			return p, fmt.Errorf("payment for commission %s: %w", c.ID, err)
		}
		return row.payment(), nil
	})
}

func (p Payment) check(a Account, now time.Time) error {
	day, err := time.Parse(dayLayout, p.Day)
	switch {
	case p.Amount == 0 || p.Amount > mostAmount || p.Amount < -mostAmount:
		return &Problem{Key: "amount", Text: "Write how much came in, or with a minus how much you gave back."}
	case p.Amount < 0 && -p.Amount > a.Paid:
		return &Problem{Key: "amount", Text: fmt.Sprintf("Only %s has come in, so no more can be given back.", a.Currency.Say(a.Paid))}
	case !slices.Contains(Ways, p.Way):
		return &Problem{Key: "way", Text: "Choose how it was paid."}
	case err != nil || day.After(now.Add(24*time.Hour)):
		return &Problem{Key: "day", Text: "Say on which day it came, today or before."}
	case strings.TrimSpace(p.Payer) == "" || len([]rune(p.Payer)) > 200:
		return &Problem{Key: "payer", Text: "Say who paid; it stands on the receipt."}
	}
	return nil
}

// An Account is what a commission costs and what has come in. Due and Paid make Total.
type Account struct {
	Currency   Currency
	Quotations []Quotation // oldest first
	Payments   []Payment   // oldest first
	Agreed     *Quotation  // the newest that was accepted; nil before
	Total      Amount
	Deposit    Amount
	Paid       Amount
	Due        Amount // below nothing: too much came in
	DepositDue Amount // of the deposit, what has not come in
}

// Account adds up a commission's money: the newest accepted quotation and all payments.
func (s *Store) Account(ctx context.Context, commissionID string) (Account, error) {
	quotations, err := s.Quotations(ctx, commissionID)
	if err != nil {
		return Account{}, err
	}
	payments, err := s.Payments(ctx, commissionID)
	if err != nil {
		return Account{}, err
	}
	terms, err := s.Terms(ctx)
	if err != nil {
		return Account{}, err
	}
	return accountOf(quotations, payments, terms.Currency), nil
}

func accountOf(quotations []Quotation, payments []Payment, usual Currency) Account {
	a := Account{Quotations: quotations, Payments: payments, Currency: usual}
	for i, q := range quotations {
		if q.Accepted != nil {
			p := q.Parts()
			a.Agreed, a.Currency, a.Total, a.Deposit = &quotations[i], q.Currency, p.Total, p.Deposit
		}
	}
	for _, p := range payments {
		a.Paid += p.Amount
		a.Currency = p.Currency // a commission's money is all of one kind
	}
	a.Due = a.Total - a.Paid
	a.DepositDue = max(0, a.Deposit-max(0, a.Paid))
	return a
}
