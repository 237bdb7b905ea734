package orders

import (
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func aQuotation(c Commission, says string) Quotation {
	return Quotation{
		CommissionID: c.ID, Seller: "The Tern Lane Workroom\nSaltmere", Currency: "EUR", Says: says, Valid: "2027-12-31",
		Wording:   "Goods made to your measure can't be given back merely because you have changed your mind.",
		Materials: []Line{{"sinamay in Moss", 800, "m", 2450}, {"elastic", 450, "m", 160}}, Minutes: 390, HourRate: 2200,
		OverheadPoints: 1500, MarginPoints: 2500, Delivery: 950, TaxName: "VAT", TaxPoints: 2000, DepositPoints: 5000,
	}
}

func priced(t testing.TB, s *Store, c Commission, says string) Quotation {
	t.Helper()
	all, err := s.Quotations(ctx, c.ID)
	require.NoError(t, err)
	q, err := s.Quote(ctx, aQuotation(c, says), len(all), "Wren")
	require.NoError(t, err)
	return q
}

// Worked out by hand: cloth 0.8 m at 24.50 is 19.60, elastic 0.45 m at 1.60 is 0.72, 6.5 hours at 22.00
// are 143.00; a quarter on that and 15 per cent of overhead; 9.50 to post; a fifth of tax.
func TestAQuotationIsWorkedOut(t *testing.T) {
	p := aQuotation(Commission{}, "").Parts()
	assert.Equal(t, Parts{
		Materials: 2032, Work: 14300, Overhead: 2450, Margin: 4696, Hat: 23478, Delivery: 950, Net: 24428, Tax: 4886, Total: 29314,
		Deposit: 14657, Balance: 14657,
	}, p)
}

func TestAcceptingKeepsNameTimeAndWordingAndMovesOn(t *testing.T) {
	s, clock := newStore(t)
	c := sent(t, s, nil)
	w, err := s.SaveWorking(ctx, Working{CommissionID: c.ID, Figures: hat})
	require.NoError(t, err)
	_, err = s.SignOff(ctx, c.ID, w.Version, "Wren", "she asked for it")
	require.NoError(t, err)
	q := priced(t, s, c, "A small hat in Moss")
	total := q.Parts().Total
	_, err = s.Accept(ctx, c.ID, q.Number, "  ", total)
	problem(t, err, "name")
	_, err = s.Accept(ctx, c.ID, q.Number, "Nella", total-1)
	problem(t, err, "accept") // she read another total
	_, err = s.Accept(ctx, c.ID, 7, "Nella", total)
	require.ErrorIs(t, err, ErrNotFound)

	clock.add(time.Hour)
	got, err := s.Accept(ctx, c.ID, q.Number, "Nella Quill", total)
	require.NoError(t, err)
	assert.Equal(t, &Acceptance{"Nella Quill", total, q.Wording, moment(millis(clock.now()))}, got.Accepted)
	c, err = s.Commission(ctx, c.ID)
	require.NoError(t, err)
	assert.Equal(t, Agreed, c.Stage)
	letters, err := s.Letters(ctx, c.ClientID)
	require.NoError(t, err)
	copied := letters[len(letters)-1].Body
	for _, word := range []string{"EUR 293.14", "EUR 146.57", "Nella Quill", q.Wording, "Saltmere"} {
		assert.Contains(t, copied, word, "the copy that is sent")
	}

	again, err := s.Accept(ctx, c.ID, q.Number, "Somebody else", total)
	require.NoError(t, err)
	assert.Equal(t, got.Accepted, again.Accepted, "once is enough")
	after, err := s.Letters(ctx, c.ClientID)
	require.NoError(t, err)
	assert.Len(t, after, len(letters), "and one copy")
}

func TestAnOldQuotationIsNotAccepted(t *testing.T) {
	s, clock := newStore(t)
	c := sent(t, s, nil)
	old := priced(t, s, c, "A small hat")
	priced(t, s, c, "A smaller hat")
	_, err := s.Accept(ctx, c.ID, old.Number, "Nella", old.Parts().Total)
	problem(t, err, "accept") // a newer one takes its place
	clock.add(365 * 24 * time.Hour)
	_, err = s.Accept(ctx, c.ID, 2, "Nella", old.Parts().Total)
	problem(t, err, "accept") // past its day
	_, err = s.Quote(ctx, aQuotation(c, "late"), 1, "Wren")
	problem(t, err, "valid")
	q := aQuotation(c, "meanwhile")
	q.Valid = "2029-01-01"
	_, err = s.Quote(ctx, q, 1, "Wren")
	require.ErrorIs(t, err, ErrConflict, "two were written at once")
}

// What is valid until a day is so until that day is over in the studio, wherever the server stands.
func TestAQuotationIsValidByTheStudiosDay(t *testing.T) {
	s, clock := newStore(t)
	st, err := s.Studio(ctx)
	require.NoError(t, err)
	st.Zone = "Pacific/Auckland" // 13 hours ahead in January
	_, err = s.SaveStudio(ctx, st)
	require.NoError(t, err)
	c := sent(t, s, nil)
	q := aQuotation(c, "A small hat")
	q.Valid = "2027-01-14"
	q, err = s.Quote(ctx, q, 0, "Wren")
	require.NoError(t, err)
	clock.set(time.Date(2027, 1, 14, 12, 0, 0, 0, time.UTC)) // the 15th there
	_, err = s.Accept(ctx, c.ID, 1, "Nella", q.Parts().Total)
	problem(t, err, "accept")
	clock.set(time.Date(2027, 1, 14, 10, 0, 0, 0, time.UTC))
	_, err = s.Accept(ctx, c.ID, 1, "Nella", q.Parts().Total)
	require.NoError(t, err)
}

func TestReceiptsHaveNoGaps(t *testing.T) {
	s, _ := newStore(t)
	c := sent(t, s, nil)
	pay := func(amount Amount, id string) (Payment, error) {
		return s.Pay(ctx, Payment{ID: id, CommissionID: c.ID, Payer: "Nella", Amount: amount, Way: "cash", Day: "2027-01-05"}, "Wren")
	}
	var all sync.WaitGroup
	for range 20 {
		all.Go(func() {
			_, err := pay(1000, NewPaymentID())
			assert.NoError(t, err)
		})
	}
	all.Wait()
	id := NewPaymentID()
	first, err := pay(-500, id)
	require.NoError(t, err)
	again, err := pay(-500, id)
	require.NoError(t, err)
	assert.Equal(t, first, again, "sent twice, kept once")
	_, err = pay(0, NewPaymentID())
	problem(t, err, "amount")
	_, err = pay(-1_000_000, NewPaymentID())
	problem(t, err, "amount") // more than came in
	list, err := s.Payments(ctx, c.ID)
	require.NoError(t, err)
	require.Len(t, list, 21)
	for i, p := range list {
		assert.Equal(t, i+1, p.Receipt)
	}
	for _, statement := range []string{"update payments set amount = 1", "delete from payments", "insert into payments select 99, 'abcdefghijklmnopqrstuvwxyz', commission_id, payer, amount, currency, way, day, entered_by, at from payments limit 1"} {
		assert.Error(t, s.writes(ctx).Exec(statement).Error, statement)
	}
}

func TestTheAccountAddsUp(t *testing.T) {
	s, _ := newStore(t)
	c := sent(t, s, nil)
	q := priced(t, s, c, "A small hat")
	total := q.Parts().Total
	_, err := s.Accept(ctx, c.ID, 1, "Nella", total)
	require.NoError(t, err)
	for _, amount := range []Amount{10000, 4657, -657} {
		_, err := s.Pay(ctx, Payment{ID: NewPaymentID(), CommissionID: c.ID, Payer: "Nella", Amount: amount, Way: "cash", Day: "2027-01-05"}, "Wren")
		require.NoError(t, err)
	}
	a, err := s.Account(ctx, c.ID)
	require.NoError(t, err)
	assert.Equal(t, Amount(14000), a.Paid)
	assert.Equal(t, a.Total, a.Paid+a.Due)
	assert.Equal(t, Amount(657), a.DepositDue)
	other := aQuotation(c, "in pounds")
	other.Currency = "GBP"
	_, err = s.Quote(ctx, other, 1, "Wren")
	problem(t, err, "currency")
}

func TestTheBooksStayWithoutHer(t *testing.T) {
	s, _ := newStore(t)
	c := lived(t, s, "Quill")
	fitted(t, s, c, "Quill", tomorrow)
	require.NoError(t, s.Erase(ctx, c.ID))
	p, err := s.Payment(ctx, 1)
	require.NoError(t, err)
	assert.Equal(t, Amount(8000), p.Amount)
	assert.Empty(t, p.Payer+p.CommissionID, "nothing of her")
	assert.NotContains(t, onDisk(t, s), "Quill")
}

func TestTermsAreChecked(t *testing.T) {
	s, _ := newStore(t)
	terms, err := s.Terms(ctx)
	require.NoError(t, err)
	assert.Equal(t, 5000, terms.DepositPoints, "half, by common practice")
	for key, spoil := range map[string]func(*Terms){
		"currency": func(t *Terms) { t.Currency = "ZZZ" }, "tax": func(t *Terms) { t.TaxPoints = 10001 }, "tax_name": func(t *Terms) { t.TaxPoints = 2000 },
		"deposit": func(t *Terms) { t.DepositPoints = -1 }, "checked": func(t *Terms) { t.Wording = "So it is." }, "hour_rate": func(t *Terms) { t.HourRate = -1 },
	} {
		bad := terms
		spoil(&bad)
		_, err := s.SaveTerms(ctx, bad)
		problem(t, err, key)
	}
	saved, err := s.SaveTerms(ctx, terms)
	require.NoError(t, err)
	_, err = s.SaveTerms(ctx, terms)
	require.ErrorIs(t, err, ErrConflict)
	again, err := s.Terms(ctx)
	require.NoError(t, err)
	assert.Equal(t, saved, again)
}
