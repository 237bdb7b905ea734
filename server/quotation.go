package server

import (
	"cmp"
	"context"
	"errors"
	"net/http"
	"strconv"
	"strings"

	"github.com/gin-gonic/gin"

	"perchbook/orders"
	"perchbook/templates"
)

// quotationView is a quotation being written, with its sums.
type quotationView struct {
	commissionHead
	Problems []mend
	Newest   int    // the number of the newest one when this was begun, 0 for none
	Version  int    // of what is kept, 0 for nothing
	Kept     string // when and by whom it was kept; "" when it is not
	Offered  bool   // the rush fee can be put in
	Theirs   []sum  // what another page has kept otherwise
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
	if p.Adjust != 0 {
		lines = append(lines, sum{"By hand", say(p.Adjust), false})
	}
	return append(append(lines, sum{"The hat", say(p.Hat), true}), herSums(templates.English, q)[1:]...)
}

// herSums are the sums as the client reads them.
func herSums(l templates.Language, q orders.Quotation) []sum {
	p, say := q.Parts(), func(x orders.Amount) string { return l.Put(q.Currency.Phrase(x)) }
	lines := []sum{{l.Say("The hat"), say(p.Hat), false}}
	if p.Rush != 0 {
		lines = append(lines, sum{l.Say("For an early day"), say(p.Rush), false})
	}
	lines = append(lines, sum{l.Say("Delivery"), say(p.Delivery), false})
	if q.TaxPoints > 0 {
		lines = append(lines, sum{l.Say("%s, %s %%", q.TaxName, percent(q.TaxPoints)), say(p.Tax), false})
	}
	return append(lines, sum{l.Say("Total"), say(p.Total), true}, sum{l.Say("Deposit, to begin with"), say(p.Deposit), false}, sum{l.Say("When it is ready"), say(p.Balance), false})
}

// A quoting is a quotation being written, with what its page is made from.
type quoting struct {
	file
	terms    orders.Terms
	draft    orders.QuotationDraft // as typed
	problems map[string]string
	theirs   *orders.QuotationDraft // what another page has kept meanwhile
}

func (s *Server) quoting(c *gin.Context) (quoting, error) {
	ctx := c.Request.Context()
	f, err := s.file(ctx, c.Param("id"))
	if err != nil {
		return quoting{}, err
	}
	t, err := s.Store.Terms(ctx)
	return quoting{file: f, terms: t}, err
}

// showQuotation shows what is kept of it, or what it begins with.
func (s *Server) showQuotation(c *gin.Context) error {
	q, err := s.quoting(c)
	if err != nil {
		return err
	}
	if q.draft, err = s.Store.QuotationDraft(c.Request.Context(), q.ID); err != nil {
		return err
	}
	if q.draft.Version == 0 {
		q.draft.Newest = len(q.Account.Quotations)
		if q.draft.Typed, err = s.begunQuotation(q.file, q.terms, q.Account.Quotations); err != nil {
			return err
		}
	}
	return s.quotationPage(c, http.StatusOK, q)
}

// typedInto is the form as it was sent.
func typedInto(c *gin.Context) orders.QuotationDraft {
	d := orders.QuotationDraft{CommissionID: c.Param("id"), Typed: map[string]string{"says": tidy(c.PostForm("says"))}, Newest: whole(c, "newest"), Version: whole(c, "version")}
	for _, line := range quotationFields {
		d.Typed[line.Key] = tidy(c.PostForm(line.Key))
	}
	for i := range mostMaterials {
		for _, part := range []string{"what", "much", "unit", "each"} {
			d.Typed[lineKey(part, i)] = tidy(c.PostForm(lineKey(part, i)))
		}
	}
	return d
}

// whole reads a hidden number of the form; none is 0.
func whole(c *gin.Context, key string) int {
	n, err := strconv.Atoi(c.PostForm(key))
	if err != nil || n < 0 {
		return 0
	}
	return n
}

// saveQuotation keeps what was typed, right or wrong, and does what its button says: works the sums out,
// puts the rush fee in, throws it away, or sends it to the client.
func (s *Server) saveQuotation(c *gin.Context) error {
	ctx, do := c.Request.Context(), c.PostForm("do")
	q, err := s.quoting(c)
	if err != nil {
		return err
	}
	q.draft = typedInto(c)
	if do == "afresh" {
		if err := s.Store.DropQuotation(ctx, q.ID, q.draft.Version); err != nil {
			return err
		}
		return onward(c, "/workroom/commissions/"+q.ID+"/quotation")
	}
	if do == "rush" {
		if _, q.draft.Typed["rush"], err = s.rushOffer(ctx, q); err != nil {
			return err
		}
	}
	kept, err := s.Store.KeepQuotation(ctx, q.draft, s.maker(c))
	if err != nil {
		return s.notQuoted(c, q, err)
	}
	q.draft = kept
	read, problems := readQuotation(kept.Typed, q.terms)
	switch {
	case do == "keep":
		return onward(c, "/workroom/commissions/"+q.ID+"/quotation")
	case len(problems) > 0:
		q.problems = problems
		return s.quotationPage(c, http.StatusUnprocessableEntity, q)
	case do != "send":
		return onward(c, "/workroom/commissions/"+q.ID+"/quotation#sums")
	}
	read.CommissionID, read.Sheet = q.ID, len(q.Sheets)
	if _, err = s.Store.QuoteKept(ctx, read, kept, s.maker(c)); err != nil {
		return s.notQuoted(c, q, err)
	}
	s.note(c, "The quotation stands on the client’s page, and a letter says so.")
	return onward(c, "/workroom/commissions/"+q.ID+"/money")
}

const (
	quotedMeanwhile  = "Another quotation was sent meanwhile. What you typed is still here; look at that one, then send this one if it is still meant."
	writtenMeanwhile = "This was changed on another page meanwhile. What you typed is still here and is not kept yet; what the other page has stands under “On the other page”. Press again to keep yours instead."
)

// notQuoted shows what was typed, and why it was not kept or not sent.
func (s *Server) notQuoted(c *gin.Context, q quoting, err error) error {
	if p, ok := asProblem(err); ok {
		q.problems = map[string]string{p.Key: p.Text}
		return s.quotationPage(c, http.StatusUnprocessableEntity, q)
	}
	if !errors.Is(err, orders.ErrConflict) {
		return err
	}
	theirs, err := s.Store.QuotationDraft(c.Request.Context(), q.ID)
	if err != nil {
		return err
	}
	words := writtenMeanwhile
	if theirs.Version == q.draft.Version || theirs.Version == 0 {
		words = quotedMeanwhile
	} else {
		q.theirs = &theirs
	}
	q.draft.Version, q.draft.Newest = theirs.Version, len(q.Account.Quotations)
	q.problems = map[string]string{"says": words}
	return s.quotationPage(c, http.StatusConflict, q)
}

func (s *Server) quotationPage(c *gin.Context, status int, q quoting) error {
	d := q.draft
	v := quotationView{commissionHead: headOf(q.file), Newest: d.Newest, Version: d.Version, Currency: string(q.terms.Currency)}
	if read, wrong := readQuotation(d.Typed, q.terms); len(wrong) == 0 {
		v.Sums = sumsOf(read)
	}
	if d.By != "" {
		v.Kept = "Kept as it stands here, by " + d.By + ", " + q.when(d.At) + "."
	}
	offer, _, err := s.rushOffer(c.Request.Context(), q)
	if err != nil {
		return err
	}
	v.Offered = offer != ""
	v.Says = fill(field{Key: "says", Label: "What the client gets", Hint: "She reads it with the total."}, d.Typed, q.problems)
	shown := []field{v.Says}
	for i := range min(mostMaterials, max(materialRows, rowsTyped(d.Typed)+spareRows)) {
		v.Rows = append(v.Rows, materialRow{i + 1, filled(materialLine(i), d.Typed, q.problems)})
		shown = append(shown, v.Rows[i].Fields...)
	}
	v.Fields = filled(quotationFields, d.Typed, q.problems)
	for i := range v.Fields {
		if v.Fields[i].Key == "rush" {
			v.Fields[i].Hint = offer
		}
	}
	shown = append(shown, v.Fields...)
	v.Problems = mends(shown...)
	if q.theirs != nil {
		v.Theirs, v.Kept = otherwise(*q.theirs, d), "What stands here is not kept yet."
	}
	for _, key := range []string{"seller", "currency", "wording", "materials"} { // beside no field of this form
		if q.problems[key] != "" {
			v.Unready = q.problems[key]
			v.Problems = append(v.Problems, mend{"unready", v.Unready})
		}
	}
	name := "Quotation for " + q.Number
	if len(v.Problems) > 0 {
		name = "Problem: " + name
	}
	s.render(c, status, "quotation", s.frame(c, name), v)
	return nil
}

// otherwise lists what another page has kept of the form that this one has not.
func otherwise(theirs, mine orders.QuotationDraft) []sum {
	fields := append([]field{{Key: "says", Label: "What the client gets"}}, quotationFields...)
	for i := range mostMaterials {
		for _, f := range materialLine(i) {
			f.Label = "Material " + strconv.Itoa(i+1) + ", " + strings.ToLower(f.Label)
			fields = append(fields, f)
		}
	}
	var list []sum
	for _, f := range fields {
		if theirs.Typed[f.Key] != mine.Typed[f.Key] {
			list = append(list, sum{f.Label, cmp.Or(theirs.Typed[f.Key], "nothing"), false})
		}
	}
	return list
}

// rushOffer says why a fee for an early day might be asked for, with how much it would be as it is typed;
// nothing where there is time enough, no fee is set, or one stands in the form.
func (s *Server) rushOffer(ctx context.Context, q quoting) (words, fee string, err error) {
	p, _, verdict, err := s.judged(ctx, q.ID)
	if err != nil || p.Pace.RushFee == 0 || p.Pace.Currency != q.terms.Currency || q.draft.Typed["rush"] != "" {
		return "", q.draft.Typed["rush"], err
	}
	fee = p.Pace.Currency.Plain(p.Pace.RushFee)
	switch verdict {
	case orders.WeeksFull:
		words = "The weeks before that day are full."
	case orders.TimeShort:
		words = "The day is nearer than your lead times allow."
	default:
		return "", "", nil
	}
	return words + " Your rush fee is " + p.Pace.Currency.Say(p.Pace.RushFee) + ".", fee, nil
}
