package orders

import (
	"slices"
	"time"
)

// Terms are what the workroom sells by.
type Terms struct {
	Seller         string // name and address, as the law of the place wants them
	Currency       Currency
	TaxName        string // "VAT"; "" where no tax is charged
	TaxNumber      string
	TaxPoints      int // hundredths of a per cent
	HourRate       Amount
	OverheadPoints int    // on materials and work
	MarginPoints   int    // on materials, work and overhead
	DepositPoints  int    // of the total; half by common practice
	Postage        Amount // when a hat goes by post
	ClothPrice     Amount // a metre, where she knows no better
	Wording        string // what the law says of goods made to a client's measure, as the milliner had it checked
	Checked        string // the day on which she had it checked; "" when she has not
	Version        int
}

// A Quotation is one version of what a hat is to cost. It is never changed; a newer one takes its place.
type Quotation struct {
	ID           string    `json:"-"`
	CommissionID string    `json:"-"`
	Number       int       `json:"-"` // from 1 within its commission
	Made         time.Time `json:"-"`
	By           string    `json:"-"`

	Seller         string   `json:"seller"`
	Currency       Currency `json:"currency"`
	Says           string   `json:"says"`  // what is sold, in words for the client
	Sheet          int      `json:"sheet"` // the fit sheet that it is for; 0 for none
	Valid          string   `json:"valid"` // the last day on which it may be accepted
	Wording        string   `json:"wording"`
	Materials      []Line   `json:"materials"`
	Minutes        int      `json:"minutes"` // at the bench
	HourRate       Amount   `json:"hour_rate"`
	OverheadPoints int      `json:"overhead_points"`
	MarginPoints   int      `json:"margin_points"`
	Rush           Amount   `json:"rush"`   // for an early day
	Adjust         Amount   `json:"adjust"` // what she adds or takes off by hand
	Delivery       Amount   `json:"delivery"`
	TaxName        string   `json:"tax_name"`
	TaxNumber      string   `json:"tax_number"`
	TaxPoints      int      `json:"tax_points"`
	DepositPoints  int      `json:"deposit_points"`

	Accepted *Acceptance `json:"-"`
}

// A Line is one material: so much of it, at so much each.
type Line struct {
	What     string `json:"what"`
	Quantity int64  `json:"thousandths"`
	Unit     string `json:"unit"`
	Each     Amount `json:"each"`
}

// Sum is what the line costs.
func (l Line) Sum() Amount { return l.Each.part(l.Quantity, 1000) }

// An Acceptance is a client's yes to a quotation, kept as she gave it.
type Acceptance struct {
	Name    string // as she wrote it
	Total   Amount
	Wording string // what she read
	At      time.Time
}

// Parts are a quotation's sums. Materials, Work, Overhead, Margin and Adjust make Hat; Hat, Rush and
// Delivery make Net; Net and Tax make Total; Deposit and Balance make Total.
type Parts struct {
	Materials, Work, Overhead, Margin, Adjust Amount
	Hat, Rush, Delivery, Net, Tax, Total      Amount
	Deposit, Balance                          Amount
}

const allPoints = 10_000 // hundredths of a per cent that make the whole

// Parts works the sums out. Each is rounded once, halves up, and the rest follow by adding.
func (q Quotation) Parts() Parts {
	p := Parts{Rush: q.Rush, Adjust: q.Adjust, Delivery: q.Delivery}
	for _, l := range q.Materials {
		p.Materials += l.Sum()
	}
	p.Work = q.HourRate.part(int64(q.Minutes), 60)
	p.Overhead = (p.Materials + p.Work).part(int64(q.OverheadPoints), allPoints)
	p.Margin = (p.Materials + p.Work + p.Overhead).part(int64(q.MarginPoints), allPoints)
	p.Hat = p.Materials + p.Work + p.Overhead + p.Margin + p.Adjust
	p.Net = p.Hat + p.Rush + p.Delivery
	p.Tax = p.Net.part(int64(q.TaxPoints), allPoints)
	p.Total = p.Net + p.Tax
	p.Deposit = p.Total.part(int64(q.DepositPoints), allPoints)
	p.Balance = p.Total - p.Deposit
	return p
}

// check is what stands against making the quotation, by field.
func (q Quotation) check(today string) error {
	points := func(n int) bool { return n >= 0 && n <= allPoints }
	wrongLine := func(l Line) bool {
		return l.What == "" || l.Quantity <= 0 || l.Quantity > 1_000_000 || !l.Each.possible()
	}
	total := Amount(0)
	if !slices.ContainsFunc(q.Materials, wrongLine) && len(q.Materials) <= 40 {
		total = q.Parts().Total
	}
	for _, c := range []struct {
		ok        bool
		key, text string
	}{
		{q.Seller != "", "seller", "Say on the page of prices and terms who sells: your name and address."},
		{q.Currency.Known(), "currency", "Set the currency on the page of prices and terms."},
		{q.Says != "", "says", "Say what the client gets."},
		{len(q.Materials) <= 40 && !slices.ContainsFunc(q.Materials, wrongLine), "materials", "Each material has a name, a quantity and a price that is not below nothing."},
		{q.Minutes >= 0 && q.Minutes <= 30_000, "minutes", "The work lies between none and 500 hours."},
		{q.HourRate.possible(), "hour_rate", "An hour costs nothing or more."},
		{points(q.OverheadPoints), "overhead", "The overhead lies between 0 and 100 per cent."},
		{q.MarginPoints >= 0 && q.MarginPoints <= 10*allPoints, "margin", "The margin lies between 0 and 1000 per cent."},
		{q.Rush.possible(), "rush", "The fee for an early day is nothing or more."},
		{q.Adjust.possible() || (-q.Adjust).possible(), "adjust", "That is too much to add or take off."},
		{q.Delivery.possible(), "delivery", "The delivery costs nothing or more."},
		{points(q.TaxPoints), "tax", "The tax lies between 0 and 100 per cent."},
		{points(q.DepositPoints), "deposit", "The deposit lies between none and all of the total."},
		{total > 0 && total <= mostAmount, "adjust", "Altogether it has to come to more than nothing."},
		{q.Valid >= today, "valid", "Let it be valid until a day that is still to come."},
		{q.Wording != "", "wording", "Set on the page of prices and terms what your law says of goods made to measure, and have it checked, before a client is asked to agree."},
	} {
		if !c.ok {
			return &Problem{Key: c.key, Text: c.text}
		}
	}
	return nil
}
