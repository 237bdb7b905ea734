package server

import (
	"fmt"
	"math"
	"strings"
	"time"

	"perchbook/fitting"
	"perchbook/orders"
	"perchbook/templates"
)

// materialRows of a quotation's form; more are added while all are full.
const materialRows, spareRows, mostMaterials = 6, 2, 40

// materialLine are the fields of one row of materials.
func materialLine(i int) []field {
	return []field{
		{Key: lineKey("what", i), Label: "Material"}, {Key: lineKey("much", i), Label: "How much"},
		{Key: lineKey("unit", i), Label: "Unit"}, {Key: lineKey("each", i), Label: "Price of one"},
	}
}

// mostQuotedMinutes at the bench is what the store takes in a quotation.
const mostQuotedMinutes = 500 * 60

// validDays is how long a quotation stands unless she says otherwise: our choice.
const validDays = 21

// quotationFields are the lines of the form below the materials.
var quotationFields = []field{
	{Key: "hours", Label: "Hours at the bench", Hint: "Such as 6.5 or 6:30."},
	{Key: "hour_rate", Label: "An hour"},
	{Key: "overhead", Label: "Overhead, per cent"},
	{Key: "margin", Label: "Margin, per cent"},
	{Key: "rush", Label: "For an early day"},
	{Key: "adjust", Label: "Added or taken off by hand", Hint: "With a minus to take off; to come to a round sum, or to be kind."},
	{Key: "delivery", Label: "Delivery", Hint: "Nothing when it is collected."},
	{Key: "tax", Label: "Tax, per cent"},
	{Key: "deposit", Label: "Deposit, per cent of the total"},
	{Key: "valid", Label: "Valid until"},
}

func lineKey(part string, row int) string { return fmt.Sprintf("%s-%d", part, row) }

// begunQuotation is what the form holds at first: the newest quotation, or what the newest fit sheet,
// the terms and the client's wishes give.
func (s *Server) begunQuotation(f file, t orders.Terms, all []orders.Quotation) (map[string]string, error) {
	if len(all) > 0 {
		q := all[len(all)-1]
		q.Valid = f.now.AddDate(0, 0, validDays).Format(time.DateOnly)
		return typedQuotation(q), nil
	}
	q := orders.Quotation{
		Currency: t.Currency, HourRate: t.HourRate, OverheadPoints: t.OverheadPoints, MarginPoints: t.MarginPoints,
		TaxPoints: t.TaxPoints, DepositPoints: t.DepositPoints, Valid: f.now.AddDate(0, 0, validDays).Format(time.DateOnly),
		Says: "A small hat made to your own measure.",
	}
	if n := len(f.Sheets); n > 0 {
		_, settled, err := f.Sheets[n-1].Read()
		if err != nil {
			return nil, err
		}
		var lines []string
		for _, l := range inPlainWords(templates.English, settled)[:3] {
			lines = append(lines, l.Name+": "+strings.ToLower(l.Words[:1])+l.Words[1:]+".")
		}
		q.Says += "\n" + strings.Join(lines, "\n")
		q.Materials = materialsOf(settled, t)
	}
	return typedQuotation(q), nil
}

// materialsOf a hat, as its cutting sheet has them. Prices that are not known are left to her.
func materialsOf(r fitting.Result, t orders.Terms) []orders.Line {
	metres := func(l fitting.Length) int64 { return int64(math.Ceil(l.Millimetres()/5)) * 5 }
	lines := []orders.Line{{What: "sinamay", Quantity: metres(r.Cloth.Takes.Length), Unit: "m", Each: t.ClothPrice}}
	for _, n := range r.Cloth.Notions {
		switch n.Kind {
		case fitting.Ribbon, fitting.EdgeWire, fitting.ElasticCord:
			lines = append(lines, orders.Line{What: string(n.Kind), Quantity: metres(n.Length), Unit: "m"})
		default:
			lines = append(lines, orders.Line{What: string(n.Kind), Quantity: int64(n.Count) * 1000})
		}
	}
	return lines
}

// typedQuotation is a quotation as it would be typed.
func typedQuotation(q orders.Quotation) map[string]string {
	amount := func(a orders.Amount) string {
		if a == 0 {
			return ""
		}
		return q.Currency.Plain(a)
	}
	typed := map[string]string{
		"says": q.Says, "hour_rate": amount(q.HourRate), "overhead": percent(q.OverheadPoints), "margin": percent(q.MarginPoints),
		"rush": amount(q.Rush), "adjust": amount(q.Adjust), "delivery": amount(q.Delivery), "tax": percent(q.TaxPoints),
		"deposit": percent(q.DepositPoints), "valid": closedWords(q.Valid),
	}
	if q.Minutes > 0 {
		typed["hours"] = shortest(float64(q.Minutes)/60, 2)
	}
	for i, l := range q.Materials {
		typed[lineKey("what", i)], typed[lineKey("unit", i)] = l.What, l.Unit
		typed[lineKey("much", i)], typed[lineKey("each", i)] = shortest(float64(l.Quantity)/1000, 3), amount(l.Each)
	}
	return typed
}

// readQuotation reads the form, and says by field what it could not read.
func readQuotation(typed map[string]string, t orders.Terms) (orders.Quotation, map[string]string) {
	f := moneyForm{typed, t.Currency, map[string]string{}}
	q := orders.Quotation{
		Seller: t.Seller, Currency: t.Currency, Says: typed["says"], TaxName: t.TaxName, TaxNumber: t.TaxNumber,
		HourRate: f.amount("hour_rate"), OverheadPoints: f.points("overhead", 100), MarginPoints: f.points("margin", 1000),
		Rush: f.amount("rush"), Adjust: f.amount("adjust"), Delivery: f.amount("delivery"), TaxPoints: f.points("tax", 100),
		DepositPoints: f.points("deposit", 100), Valid: f.day("valid"),
	}
	if t.Checked != "" {
		q.Wording = t.Wording
	}
	if typed["hours"] != "" {
		var problem string
		q.Minutes, problem = readBenchHours(typed["hours"], mostQuotedMinutes)
		f.note("hours", problem)
	}
	for i := range rowsTyped(typed) {
		if l, there := f.line(i); there {
			q.Materials = append(q.Materials, l)
		}
	}
	return q, f.problems
}

// line reads one material; a row without a name and a price is left out.
func (f *moneyForm) line(i int) (orders.Line, bool) {
	what, much, each := f.typed[lineKey("what", i)], f.typed[lineKey("much", i)], f.typed[lineKey("each", i)]
	if what == "" && each == "" {
		return orders.Line{}, false
	}
	l := orders.Line{What: what, Unit: f.typed[lineKey("unit", i)], Quantity: 1000, Each: f.amount(lineKey("each", i))}
	if what == "" {
		f.note(lineKey("what", i), "Say what this is.")
	}
	if much != "" {
		x, ok := plainNumber(much)
		if l.Quantity = int64(math.Round(1000 * x)); !ok || !(x > 0 && x <= 1000) {
			f.note(lineKey("much", i), "Write how much, such as 1 or 0.85.")
		}
	}
	return l, true
}

// rowsTyped is how many rows of materials a form has.
func rowsTyped(typed map[string]string) int {
	n := 0
	for i := range mostMaterials {
		if typed[lineKey("what", i)]+typed[lineKey("each", i)] != "" {
			n = i + 1
		}
	}
	return n
}
