package server

import (
	"errors"
	"net/http"
	"strconv"

	"github.com/gin-gonic/gin"

	"perchbook/orders"
)

// quotationView is a quotation being written, with its sums.
type quotationView struct {
	commissionHead
	Problems []mend
	Newest   int // the number of the newest one when this was begun, 0 for none
	Says     field
	Rows     []materialRow
	Fields   []field
	Sums     []sum // once it can be worked out
	Unready  string
	Currency string
}

// A materialRow is one line of the materials: what, how much, unit, each.
type materialRow struct {
	Number int
	Fields []field
}

// A sum is one line of what something costs.
type sum struct {
	Name, Amount string
	Whole        bool // what stands above adds up to it
}

// sumsOf are a quotation's sums for the milliner: how the price comes about.
func sumsOf(q orders.Quotation) []sum {
	p, say := q.Parts(), q.Currency.Say
	lines := []sum{{"Materials", say(p.Materials), false}, {"Work", say(p.Work), false}, {"Overhead", say(p.Overhead), false}, {"Margin", say(p.Margin), false}}
	if p.Rush != 0 {
		lines = append(lines, sum{"For an early day", say(p.Rush), false})
	}
	if p.Adjust != 0 {
		lines = append(lines, sum{"By hand", say(p.Adjust), false})
	}
	return append(append(lines, sum{"The hat", say(p.Hat), true}), herSums(q)[1:]...)
}

// herSums are the sums as the client reads them.
func herSums(q orders.Quotation) []sum {
	p, say := q.Parts(), q.Currency.Say
	lines := []sum{{"The hat", say(p.Hat), false}, {"Delivery", say(p.Delivery), false}}
	if q.TaxPoints > 0 {
		lines = append(lines, sum{q.TaxName + ", " + percent(q.TaxPoints) + " %", say(p.Tax), false})
	}
	return append(lines, sum{"Total", say(p.Total), true}, sum{"Deposit, to begin with", say(p.Deposit), false}, sum{"When it is ready", say(p.Balance), false})
}

func (s *Server) showQuotation(c *gin.Context) error {
	f, t, all, err := s.quoting(c)
	if err != nil {
		return err
	}
	typed, err := s.begunQuotation(f, t, all)
	if err != nil {
		return err
	}
	q, _ := readQuotation(typed, t)
	return s.quotationPage(c, http.StatusOK, f, t, typed, len(all), nil, sumsOf(q))
}

func (s *Server) quoting(c *gin.Context) (file, orders.Terms, []orders.Quotation, error) {
	ctx := c.Request.Context()
	f, err := s.file(ctx, c.Param("id"))
	if err != nil {
		return f, orders.Terms{}, nil, err
	}
	t, err := s.Store.Terms(ctx)
	return f, t, f.Account.Quotations, err
}

// saveQuotation works the sums out, or sends the quotation to the client.
func (s *Server) saveQuotation(c *gin.Context) error {
	f, t, all, err := s.quoting(c)
	if err != nil {
		return err
	}
	typed := map[string]string{"says": tidy(c.PostForm("says"))}
	for _, line := range quotationFields {
		typed[line.Key] = tidy(c.PostForm(line.Key))
	}
	for i := range 40 {
		for _, part := range []string{"what", "much", "unit", "each"} {
			typed[lineKey(part, i)] = tidy(c.PostForm(lineKey(part, i)))
		}
	}
	newest, err := strconv.Atoi(c.PostForm("newest"))
	if err != nil {
		newest = -1
	}
	q, problems := readQuotation(typed, t)
	if len(problems) > 0 {
		return s.quotationPage(c, http.StatusUnprocessableEntity, f, t, typed, newest, problems, nil)
	}
	if c.PostForm("do") != "send" {
		return s.quotationPage(c, http.StatusOK, f, t, typed, newest, nil, sumsOf(q))
	}
	q.CommissionID, q.Sheet = f.ID, len(f.Sheets)
	_, err = s.Store.Quote(c.Request.Context(), q, newest, s.maker(c))
	if errors.Is(err, orders.ErrConflict) {
		problems = map[string]string{"says": "Another quotation was sent meanwhile. What you typed is still here; look at that one, then send this one if it is still meant."}
		return s.quotationPage(c, http.StatusConflict, f, t, typed, len(all), problems, sumsOf(q))
	}
	if p, ok := asProblem(err); ok {
		return s.quotationPage(c, http.StatusUnprocessableEntity, f, t, typed, newest, map[string]string{p.Key: p.Text}, sumsOf(q))
	}
	if err != nil {
		return err
	}
	s.note(c, "The quotation stands on the client’s page, and a letter says so.")
	return onward(c, "/workroom/commissions/"+f.ID+"/money")
}

func (s *Server) quotationPage(c *gin.Context, status int, f file, t orders.Terms, typed map[string]string, newest int, problems map[string]string, sums []sum) error {
	v := quotationView{commissionHead: headOf(f), Newest: newest, Sums: sums, Currency: string(t.Currency)}
	v.Says = fill(field{Key: "says", Label: "What the client gets", Hint: "She reads it with the total."}, typed, problems)
	shown := []field{v.Says}
	for i := range max(materialRows, rowsTyped(typed)+spareRows) {
		row := []field{
			{Key: lineKey("what", i), Label: "Material"}, {Key: lineKey("much", i), Label: "How much"},
			{Key: lineKey("unit", i), Label: "Unit"}, {Key: lineKey("each", i), Label: "Price of one"},
		}
		v.Rows = append(v.Rows, materialRow{i + 1, filled(row, typed, problems)})
		shown = append(shown, v.Rows[i].Fields...)
	}
	v.Fields = filled(quotationFields, typed, problems)
	v.Problems = mends(append(shown, v.Fields...)...)
	for _, key := range []string{"seller", "currency", "wording", "materials"} { // beside no field of this form
		if problems[key] != "" {
			v.Unready = problems[key]
			v.Problems = append(v.Problems, mend{"unready", problems[key]})
		}
	}
	name := "Quotation for " + f.Number
	if len(v.Problems) > 0 {
		name = "Problem: " + name
	}
	s.render(c, status, "quotation", s.frame(c, name), v)
	return nil
}
