package server

import (
	"errors"
	"net/http"
	"strconv"
	"strings"

	"github.com/gin-gonic/gin"

	"perchbook/orders"
)

// termsView is what the workroom sells by, as the milliner writes it.
type termsView struct {
	Problems                    []mend
	Version                     int
	Seller, Wording             field
	Currency, Tax, Sums, Checks []field
}

// termsFields are the lines of the form, part by part.
var termsFields = struct{ currency, tax, sums, checks []field }{
	[]field{{Key: "currency", Label: "Currency", Hint: "Its three letters in ISO 4217, such as EUR or GBP."}},
	[]field{
		{Key: "tax_name", Label: "Name of the tax", Hint: "Such as VAT; empty when you charge none."},
		{Key: "tax", Label: "Tax, per cent", Hint: "Ask whoever advises you which rate holds."},
		{Key: "tax_number", Label: "Your tax number", Hint: "Stands on quotations and receipts."},
	},
	[]field{
		{Key: "hour_rate", Label: "An hour at the bench"},
		{Key: "overhead", Label: "Overhead, per cent", Hint: "On materials and work: rent, light, tools."},
		{Key: "margin", Label: "Margin, per cent", Hint: "On all of that."},
		{Key: "deposit", Label: "Deposit, per cent of the total", Hint: "Half by common practice."},
		{Key: "postage", Label: "Posting a hat"},
		{Key: "cloth_price", Label: "A metre of cloth", Hint: "The usual one; each quotation can say otherwise."},
	},
	[]field{{Key: "checked", Label: "Checked on", Hint: "The day on which somebody who knows your law looked at this wording, such as 3 March 2027. No client is asked to agree before."}},
}

func termsKeys() []string {
	keys := []string{"seller", "wording"}
	for _, part := range [][]field{termsFields.currency, termsFields.tax, termsFields.sums, termsFields.checks} {
		for _, f := range part {
			keys = append(keys, f.Key)
		}
	}
	return keys
}

func (s *Server) showTerms(c *gin.Context) error {
	t, err := s.Store.Terms(c.Request.Context())
	if err != nil {
		return err
	}
	return s.termsPage(c, http.StatusOK, writtenTerms(t), t.Version, nil)
}

// writtenTerms are the terms as they would be typed.
func writtenTerms(t orders.Terms) map[string]string {
	amount := func(a orders.Amount) string {
		if a == 0 {
			return ""
		}
		return t.Currency.Plain(a)
	}
	typed := map[string]string{
		"seller": t.Seller, "wording": t.Wording, "currency": string(t.Currency), "tax_name": t.TaxName, "tax_number": t.TaxNumber,
		"tax": percent(t.TaxPoints), "hour_rate": amount(t.HourRate), "overhead": percent(t.OverheadPoints), "margin": percent(t.MarginPoints),
		"deposit": percent(t.DepositPoints), "postage": amount(t.Postage), "cloth_price": amount(t.ClothPrice),
	}
	if t.Checked != "" {
		typed["checked"] = closedWords(t.Checked)
	}
	return typed
}

func readTerms(typed map[string]string) (orders.Terms, map[string]string) {
	t := orders.Terms{
		Seller: typed["seller"], Wording: typed["wording"], TaxName: typed["tax_name"], TaxNumber: typed["tax_number"],
		Currency: orders.Currency(strings.ToUpper(typed["currency"])),
	}
	f := moneyForm{typed, t.Currency, map[string]string{}}
	if !t.Currency.Known() {
		f.note("currency", "Write the currency as its three letters in ISO 4217, such as EUR or GBP.")
		f.currency = "EUR" // so that what else is wrong is said too
	}
	t.TaxPoints, t.OverheadPoints, t.DepositPoints = f.points("tax", 100), f.points("overhead", 100), f.points("deposit", 100)
	t.MarginPoints = f.points("margin", 1000)
	t.HourRate, t.Postage, t.ClothPrice = f.amount("hour_rate"), f.amount("postage"), f.amount("cloth_price")
	t.Checked = f.day("checked")
	return t, f.problems
}

func (s *Server) termsPage(c *gin.Context, status int, typed map[string]string, version int, problems map[string]string) error {
	v := termsView{
		Version:  version,
		Seller:   field{Key: "seller", Label: "Who sells", Hint: "Your name and address as the law of your place wants them. Clients see it before they agree."},
		Wording:  field{Key: "wording", Label: "What the law says of goods made to measure", Hint: "In many places such goods can’t simply be given back; in others there is more to say. Write what holds where you and your clients live, and have it checked."},
		Currency: filled(termsFields.currency, typed, problems), Tax: filled(termsFields.tax, typed, problems),
		Sums: filled(termsFields.sums, typed, problems), Checks: filled(termsFields.checks, typed, problems),
	}
	v.Seller, v.Wording = fill(v.Seller, typed, problems), fill(v.Wording, typed, problems)
	all := append([]field{v.Seller}, v.Currency...)
	all = append(append(append(append(all, v.Tax...), v.Sums...), v.Wording), v.Checks...)
	v.Problems = mends(all...)
	name := "Prices and terms"
	if len(v.Problems) > 0 {
		name = "Problem: " + name
	}
	s.render(c, status, "terms", s.frame(c, name), v)
	return nil
}

// fill puts what was typed, and what is wrong with it, into a field.
func fill(f field, typed, problems map[string]string) field {
	f.Value, f.Problem = typed[f.Key], problems[f.Key]
	return f
}

func filled(fields []field, typed, problems map[string]string) []field {
	all := make([]field, len(fields))
	for i, f := range fields {
		all[i] = fill(f, typed, problems)
	}
	return all
}

func (s *Server) saveTerms(c *gin.Context) error {
	typed := map[string]string{}
	for _, key := range termsKeys() {
		typed[key] = tidy(c.PostForm(key))
	}
	version, err := strconv.Atoi(c.PostForm("version"))
	if err != nil {
		version = -1 // no version is an old version
	}
	t, problems := readTerms(typed)
	if len(problems) > 0 {
		return s.termsPage(c, http.StatusUnprocessableEntity, typed, version, problems)
	}
	t.Version = version
	_, err = s.Store.SaveTerms(c.Request.Context(), t)
	if p, ok := asProblem(err); ok {
		return s.termsPage(c, http.StatusUnprocessableEntity, typed, version, map[string]string{p.Key: p.Text})
	}
	if errors.Is(err, orders.ErrConflict) {
		now, err := s.Store.Terms(c.Request.Context())
		if err != nil {
			return err
		}
		return s.termsPage(c, http.StatusConflict, typed, now.Version, map[string]string{"seller": changedStudio})
	}
	if err != nil {
		return err
	}
	s.note(c, "Prices and terms are kept. Quotations already made stay as they are.")
	return onward(c, "/workroom/studio/prices")
}
