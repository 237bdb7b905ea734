package server

import (
	"net/http"
	"strconv"
	"time"

	"github.com/gin-gonic/gin"

	"perchbook/orders"
	"perchbook/templates"
)

// moneyView is what a hat costs, what was agreed to, and what has come in.
type moneyView struct {
	commissionHead
	Problems   []mend
	Quotations []quotedView // the newest first
	Begun      bool         // another one is being written
	Standing   []sum
	Payments   []paymentView
	ID         string // of the payment that the form writes down
	Amount     field
	Day, Payer field
	Way        field
	Ways       []stageChoice
}

// A quotedView is one quotation as it was sent.
type quotedView struct {
	Name, Sent, Says, State string
	Newest                  bool
	Sums                    []sum
}

// A paymentView is one line of the receipts.
type paymentView struct{ Name, Href, Amount, Day, Way, Payer, By string }

func (s *Server) showMoney(c *gin.Context) error {
	return s.moneyPage(c, http.StatusOK, nil, nil)
}

func (s *Server) moneyPage(c *gin.Context, status int, typed, problems map[string]string) error {
	f, err := s.file(c.Request.Context(), c.Param("id"))
	if err != nil {
		return err
	}
	a := f.Account
	v := moneyView{commissionHead: headOf(f), Quotations: f.quoted(a.Quotations), Standing: standing(templates.English, a), Payments: payments(templates.English, a.Payments, f.receiptPath)}
	draft, err := s.Store.QuotationDraft(c.Request.Context(), f.ID)
	if err != nil {
		return err
	}
	v.Begun = draft.Version > 0
	if typed == nil {
		typed = map[string]string{"day": f.now.Format(dayInWords), "payer": f.Client.Name, "id": orders.NewPaymentID(), "way": orders.Ways[0]}
		if due := max(0, a.Due); due > 0 {
			if a.DepositDue > 0 {
				due = a.DepositDue
			}
			typed["amount"] = a.Currency.Plain(due)
		}
	}
	v.ID = typed["id"]
	v.Amount = fill(field{Key: "amount", Label: "Amount in " + string(a.Currency), Hint: "With a minus for money given back."}, typed, problems)
	v.Day = fill(field{Key: "day", Label: "Came on"}, typed, problems)
	v.Payer = fill(field{Key: "payer", Label: "From", Hint: "Stands on the receipt."}, typed, problems)
	v.Way = fill(field{Key: "way", Label: "How"}, typed, problems)
	for _, way := range orders.Ways {
		v.Ways = append(v.Ways, stageChoice{way, title(way), typed["way"] == way})
	}
	v.Problems = mends(v.Amount, v.Way, v.Day, v.Payer)
	name := "Money, " + f.Number
	if len(v.Problems) > 0 {
		name = "Problem: " + name
	}
	s.render(c, status, "money", s.frame(c, name), v)
	return nil
}

func (d desk) quoted(all []orders.Quotation) []quotedView {
	views := make([]quotedView, len(all))
	for i, q := range all {
		v := quotedView{
			Name: "Quotation " + strconv.Itoa(q.Number), Sent: d.when(q.Made), Says: q.Says, Newest: i == len(all)-1, Sums: sumsOf(q),
			State: "Not agreed to yet; valid until " + closedWords(q.Valid) + ".",
		}
		switch {
		case q.Accepted != nil:
			v.State = "Agreed to by " + q.Accepted.Name + " on " + d.when(q.Accepted.At) + "."
		case !v.Newest:
			v.State = "A newer one has taken its place."
		case d.now.Format(time.DateOnly) > q.Valid:
			v.State = "Not agreed to, and past its day: " + closedWords(q.Valid) + "."
		}
		views[len(all)-1-i] = v
	}
	return views
}

// standing is where the money stands.
func standing(l templates.Language, a orders.Account) []sum {
	say := func(x orders.Amount) string { return l.Put(a.Currency.Phrase(x)) }
	lines := []sum{}
	if a.Agreed != nil {
		lines = append(lines, sum{l.Say("Agreed"), say(a.Total), false})
	}
	lines = append(lines, sum{l.Say("Has come in"), say(a.Paid), false})
	switch {
	case a.Agreed == nil:
		return lines
	case a.Due < 0:
		return append(lines, sum{l.Say("Too much has come in"), say(-a.Due), true})
	case a.DepositDue > 0:
		lines = append(lines, sum{l.Say("Deposit still to come"), say(a.DepositDue), false})
	}
	return append(lines, sum{l.Say("Still to come"), say(a.Due), true})
}

func (f file) receiptPath(p orders.Payment) string {
	return "/workroom/commissions/" + f.ID + "/receipts/" + strconv.Itoa(p.Receipt) + "/receipt.pdf"
}

func payments(l templates.Language, paid []orders.Payment, path func(orders.Payment) string) []paymentView {
	views := make([]paymentView, len(paid))
	for i, p := range paid {
		views[i] = paymentView{
			Name: l.Say("Receipt %s", strconv.Itoa(p.Receipt)), Href: path(p), Amount: l.Put(p.Currency.Phrase(p.Amount)),
			Day: l.Put(orders.SayDate(p.Day)), Way: l.Say(p.Way), Payer: p.Payer, By: p.By,
		}
	}
	return views
}

func (s *Server) savePayment(c *gin.Context) error {
	ctx, id := c.Request.Context(), c.Param("id")
	typed := map[string]string{}
	for _, key := range []string{"id", "amount", "day", "payer", "way"} {
		typed[key] = tidy(c.PostForm(key))
	}
	a, err := s.Store.Account(ctx, id)
	if err != nil {
		return err
	}
	f := moneyForm{typed, a.Currency, map[string]string{}}
	p := orders.Payment{ID: typed["id"], CommissionID: id, Payer: typed["payer"], Way: typed["way"], Amount: f.amount("amount"), Day: f.day("day")}
	if len(f.problems) > 0 {
		return s.moneyPage(c, http.StatusUnprocessableEntity, typed, f.problems)
	}
	p, err = s.Store.Pay(ctx, p, s.maker(c))
	if problem, ok := asProblem(err); ok {
		return s.moneyPage(c, http.StatusUnprocessableEntity, typed, map[string]string{problem.Key: problem.Text})
	}
	if err != nil {
		return err
	}
	s.note(c, p.Currency.Say(p.Amount)+" is written down as receipt "+strconv.Itoa(p.Receipt)+".")
	return onward(c, "/workroom/commissions/"+id+"/money")
}
