package orders

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestAmountsAreReadAsTyped(t *testing.T) {
	for typed, want := range map[string]Amount{
		"128": 12800, "128.5": 12850, "128,50": 12850, "€128.50": 12850, "128,50 €": 12850, "EUR 1,280.50": 128050, "1.280,50": 128050,
		"1 280": 128000, "1 280,5": 128050, "1'280.50": 128050, "1,234,567.89": 123456789, "-20": -2000, "−20.00": -2000, "１２８．５０": 12850, "0": 0, "0.05": 5, "12eur": 1200,
	} {
		got, problem := Currency("EUR").Read(typed)
		assert.Empty(t, problem, "typed %q", typed)
		assert.Equal(t, want, got, "typed %q", typed)
	}
	for _, typed := range []string{"", "x", "1,280", "1.280", "1,28,0", "12.345", "1.2.3", "1e5", "NaN", "--5", "5-", "99999999999", "GBP 5", ",", "."} {
		_, problem := Currency("EUR").Read(typed)
		assert.NotEmpty(t, problem, "typed %q", typed)
	}
	got, problem := Currency("JPY").Read("12,800")
	assert.Empty(t, problem)
	assert.Equal(t, Amount(12800), got, "no decimals in yen: the comma parts thousands")
	_, problem = Currency("JPY").Read("128.5")
	assert.NotEmpty(t, problem)
}

// Decimals of ISO 4217: two in most, none in yen, three in the dinars.
func TestAmountsAreWrittenWithTheirDecimals(t *testing.T) {
	assert.Equal(t, "EUR 1,280.50", Currency("EUR").Say(128050))
	assert.Equal(t, "EUR −0.05", Currency("EUR").Say(-5))
	assert.Equal(t, "JPY 128,050", Currency("JPY").Say(128050))
	assert.Equal(t, "KWD 128.050", Currency("KWD").Say(128050))
	assert.Equal(t, "GBP 0.00", Currency("GBP").Say(0))
	for _, code := range []Currency{"", "XXX", "eur", "ABC", "EURO"} {
		assert.False(t, code.Known(), code)
	}
	rapid.Check(t, func(t *rapid.T) {
		c := rapid.SampledFrom([]Currency{"EUR", "GBP", "JPY", "KWD", "CHF"}).Draw(t, "currency")
		a := Amount(rapid.Int64Range(-int64(mostAmount), int64(mostAmount)).Draw(t, "amount"))
		got, problem := c.Read(c.Say(a))
		require.Empty(t, problem, c.Say(a))
		require.Equal(t, a, got, c.Say(a))
	})
}

func anyQuotation(t *rapid.T) Quotation {
	amount := func(name string, most int64) Amount { return Amount(rapid.Int64Range(0, most).Draw(t, name)) }
	q := Quotation{
		HourRate: amount("rate", 20000), Minutes: rapid.IntRange(0, 6000).Draw(t, "minutes"),
		OverheadPoints: rapid.IntRange(0, allPoints).Draw(t, "overhead"), MarginPoints: rapid.IntRange(0, allPoints).Draw(t, "margin"),
		Rush: amount("rush", 50000), Adjust: Amount(rapid.Int64Range(-30000, 30000).Draw(t, "adjust")), Delivery: amount("delivery", 5000),
		TaxPoints: rapid.IntRange(0, allPoints).Draw(t, "tax"), DepositPoints: rapid.IntRange(0, allPoints).Draw(t, "deposit"),
	}
	for range rapid.IntRange(0, 6).Draw(t, "materials") {
		q.Materials = append(q.Materials, Line{What: "cloth", Quantity: rapid.Int64Range(1, 5000).Draw(t, "quantity"), Each: amount("each", 10000)})
	}
	return q
}

func TestPartsAddUpToTheWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := anyQuotation(t)
		p := q.Parts()
		lines := Amount(0)
		for _, l := range q.Materials {
			lines += l.Sum()
		}
		require.Equal(t, lines, p.Materials)
		require.Equal(t, p.Hat, p.Materials+p.Work+p.Overhead+p.Margin+p.Adjust)
		require.Equal(t, p.Net, p.Hat+p.Rush+p.Delivery)
		require.Equal(t, p.Total, p.Net+p.Tax)
		require.Equal(t, p.Total, p.Deposit+p.Balance)
		// the fee for an early day is a part of its own: without it the hat costs the same
		calm := q
		calm.Rush = 0
		without := calm.Parts()
		require.Equal(t, without.Hat, p.Hat)
		require.Equal(t, p.Net, without.Net+q.Rush)
		// each rounded share is within half a unit of the exact one
		require.InDelta(t, float64(p.Net)*float64(q.TaxPoints)/allPoints, float64(p.Tax), 0.5000001)
		require.InDelta(t, float64(p.Total)*float64(q.DepositPoints)/allPoints, float64(p.Deposit), 0.5000001)
		require.InDelta(t, float64(q.HourRate)*float64(q.Minutes)/60, float64(p.Work), 0.5000001)
	})
}

func TestHalvesAreRoundedAwayFromZero(t *testing.T) {
	assert.Equal(t, Amount(1), Amount(1).part(1, 2))
	assert.Equal(t, Amount(-1), Amount(-1).part(1, 2))
	assert.Equal(t, Amount(2), Amount(3).part(1, 2))
	assert.Equal(t, Amount(0), Amount(1).part(1, 3))
	assert.Equal(t, mostAmount, mostAmount.part(1_000_000, 1_000_000), "no overflow on the way")
}

func FuzzReadAmount(f *testing.F) {
	for _, typed := range []string{"128,50", "EUR 1.280,50", "-3", "1'000", "٣", "½", strings.Repeat("9", 40)} {
		f.Add(typed)
	}
	f.Fuzz(func(t *testing.T, typed string) {
		a, problem := Currency("EUR").Read(typed)
		if problem == "" && (a > mostAmount || a < -mostAmount) {
			t.Fatalf("%q was read as %d", typed, a)
		}
	})
}
