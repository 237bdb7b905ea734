package server

import (
	"context"
	"errors"
	"net/http"
	"strconv"
	"time"

	"github.com/gin-gonic/gin"

	"perchbook/orders"
)

// costView is what her hat costs, for the client to agree to, and what she has paid.
type costView struct {
	Number          int
	Seller, Says    string
	TaxNumber       string
	Sums            []sum
	Valid, Wording  string
	Agreed          string // when and as whom, "" before
	Past            bool   // too late to agree
	Total           string // as the form sends it back: she agrees to what she has read
	Name            field
	Payments        []paymentView
	Standing        []sum
	Problem, Action string
}

// agreeing is what she wrote when she agreed, and what was wrong with it.
type agreeing struct{ name, key, problem string }

// costOf shows the newest quotation, nil before there is one.
func (s *Server) costOf(ctx context.Context, d door, desk desk, w agreeing) (*costView, error) {
	a, err := s.Store.Account(ctx, d.Commission.ID)
	if err != nil || len(a.Quotations) == 0 {
		return nil, err
	}
	q := a.Quotations[len(a.Quotations)-1]
	v := &costView{
		Number: q.Number, Seller: q.Seller, Says: q.Says, Sums: herSums(d.Language, q), Valid: d.Language.Put(orders.SayDate(q.Valid)), Wording: q.Wording,
		Past: desk.now.Format(time.DateOnly) > q.Valid, Total: strconv.FormatInt(int64(q.Parts().Total), 10),
		Name: field{Key: "name", Label: d.say("Your name"), Hint: d.say("It is kept with your order."), Value: w.name}, Action: d.Base + "/agree",
	}
	if q.TaxNumber != "" {
		v.TaxNumber = d.say("%s number %s", q.TaxName, q.TaxNumber)
	}
	if q.Accepted != nil {
		v.Agreed = d.say("You agreed to this as %s on %s.", q.Accepted.Name, d.hour(desk, q.Accepted.At))
	}
	if w.key == "name" {
		v.Name.Problem = w.problem
	} else {
		v.Problem = w.problem
	}
	if len(a.Payments) > 0 || a.Agreed != nil {
		v.Standing = standing(d.Language, a)
	}
	v.Payments = payments(d.Language, a.Payments, func(p orders.Payment) string {
		return d.Base + "/receipts/" + strconv.Itoa(p.Receipt) + "/receipt.pdf"
	})
	return v, nil
}

func (v *costView) mends() []mend {
	if v == nil {
		return nil
	}
	all := mends(v.Name)
	if v.Problem != "" {
		all = append(all, mend{"cost", v.Problem})
	}
	return all
}

// Open says whether she can agree now.
func (v *costView) Open() bool { return v != nil && v.Agreed == "" && !v.Past }

func (s *Server) agree(c *gin.Context, d door) error {
	name := tidy(c.PostForm("name"))
	number, _ := strconv.Atoi(c.PostForm("number")) // 0 is no quotation
	total, _ := strconv.ParseInt(c.PostForm("total"), 10, 64)
	_, err := s.Store.Accept(c.Request.Context(), d.Commission.ID, number, name, orders.Amount(total))
	var problem *orders.Problem
	if errors.As(err, &problem) {
		return s.hatPage(c, http.StatusUnprocessableEntity, d, wish{agreeing: agreeing{name, problem.Key, d.heed(problem)}})
	}
	if err != nil {
		return err
	}
	return onward(c, d.Base+"#cost")
}
