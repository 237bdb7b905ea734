package server

import (
	"context"
	"net/http"
	"strings"

	"github.com/gin-gonic/gin"

	"perchbook/orders"
)

// herDataView is what she can do with all that is kept about her.
type herDataView struct {
	Base, Check, Reach string
	Sent               bool
	LeftDays, Months   int
	Until, Erased      string // until when her measurements are kept, once that is known; when they were erased
	Decisions          []heard
	Notes              []herNote
}

// A herNote is an answer under a consent of its own, which she can erase by itself.
type herNote struct{ Key, Name, Words string }

func (s *Server) herDataRoutes(g gin.IRouter, open opener) {
	g.GET("/kept", s.behind(open, s.showHerData))
	g.GET("/copy", s.behind(open, s.copyHers))
	g.POST("/kept/notes", s.behind(open, s.forgetNote))
	g.GET("/erase", s.behind(open, s.showForget))
	g.POST("/erase", s.behind(open, s.forget))
}

func (s *Server) showHerData(c *gin.Context, d door) error {
	ctx := c.Request.Context()
	k, err := s.Store.Keeping(ctx)
	if err != nil {
		return err
	}
	f := s.frame(c, d.say("What is kept about you"))
	v := herDataView{Base: d.Base, Check: d.summary(), Reach: f.Reach, Sent: d.sent(), LeftDays: k.DraftDays, Months: k.Months}
	if err := s.fillHeld(ctx, &v, d); err != nil {
		return err
	}
	for _, q := range orders.Questions {
		if a := d.Draft.Answers[q.Key]; q.Private() && a.Value != "" {
			v.Notes = append(v.Notes, herNote{q.Key, d.say(q.Short), d.shown(q)})
		}
	}
	s.render(c, http.StatusOK, "herdata", f, v)
	return nil
}

// fillHeld says how long her measurements stay.
func (s *Server) fillHeld(ctx context.Context, v *herDataView, d door) error {
	if !d.sent() {
		return nil
	}
	desk, err := s.desk(ctx)
	if err != nil {
		return err
	}
	h, err := s.Store.Held(ctx, d.Commission.ID)
	if err != nil {
		return err
	}
	if !h.Erased.IsZero() {
		v.Erased = d.day(desk, h.Erased)
	}
	if !h.Until.IsZero() && h.Any() {
		v.Until = d.day(desk, h.Until)
	}
	for _, k := range h.Decisions {
		v.Decisions = append(v.Decisions, heard{d.day(desk, k.At), d.say("Kept until %s: %s", d.day(desk, k.Until), k.Why)})
	}
	return nil
}

// copyHers hands everything that is kept about her to herself, as one file.
func (s *Server) copyHers(c *gin.Context, d door) error {
	if d.sent() {
		everything, err := s.Store.Copy(c.Request.Context(), d.Commission.ID)
		return handOver(c, everything, d.Commission.Number, err)
	}
	everything, err := s.Store.CopyDraft(c.Request.Context(), d.Draft.ID)
	return handOver(c, everything, "enquiry", err)
}

// forgetNote erases one private answer with its consent.
func (s *Server) forgetNote(c *gin.Context, d door) error {
	q, known := orders.Questions.Find(c.PostForm("note"))
	if !known || !q.Private() {
		return orders.ErrNotFound
	}
	if _, err := s.Store.Answer(c.Request.Context(), d.Draft.ID, q.Only.Key, orders.Answer{Said: "no"}); err != nil {
		return err
	}
	s.note(c, d.say("“%s” is erased.", d.say(q.Short)))
	return onward(c, d.Base+"/kept")
}

// forgetView asks the client whether she means it.
type forgetView struct {
	Base, Number string // no number before it was sent in
	Under        bool   // work has begun, or money is in it
	Typed        field
	Problems     []mend
}

func (s *Server) showForget(c *gin.Context, d door) error {
	return s.forgetPage(c, http.StatusOK, d, "", "")
}

func (s *Server) forgetPage(c *gin.Context, status int, d door, typed, problem string) error {
	v := forgetView{Base: d.Base, Number: d.Commission.Number}
	title := d.say("Erase your answers")
	if d.sent() {
		title = d.say("Erase your hat %s", v.Number)
		v.Under = !d.Commission.Stage.Closed() && d.Commission.Stage != orders.Enquiry && d.Commission.Stage != orders.Measured && d.Commission.Stage != orders.HandedOver
		v.Typed = field{Key: "number", Label: d.say("The number of your hat"), Hint: d.say("Write %s to show that you mean it.", v.Number), Value: typed, Problem: problem}
	}
	if v.Problems = mends(v.Typed); problem != "" {
		title = d.say("Problem: %s", title)
	}
	s.render(c, status, "forget", s.frame(c, title), v)
	return nil
}

// forget erases what the door leads to: a draft at once, a commission when its number was typed. A draft
// that was sent in after the page was opened stays, and she sees where it stands.
func (s *Server) forget(c *gin.Context, d door) error {
	ctx := c.Request.Context()
	if !d.sent() {
		if err := s.Store.EraseDraft(ctx, d.Draft.ID); err != nil {
			return err
		}
		return onward(c, "/erased")
	}
	if !strings.HasPrefix(c.Request.URL.Path, d.Base) {
		return onward(c, d.Base)
	}
	typed := tidy(c.PostForm("number"))
	if !isNumber(typed, d.Commission) {
		return s.forgetPage(c, http.StatusUnprocessableEntity, d, typed, d.say("This is not the number of your hat, so nothing was erased. It is %s.", d.Commission.Number))
	}
	if err := s.Store.EraseForHer(ctx, d.Commission.ID); err != nil {
		return err
	}
	return onward(c, "/erased")
}

// isNumber says whether somebody has typed a commission's number, with whichever dash.
func isNumber(typed string, c orders.Commission) bool {
	return strings.NewReplacer("–", "-", "−", "-", " ", "").Replace(typed) == c.Number
}

func (s *Server) showErased(c *gin.Context) error {
	heading := s.say(c, "Your answers are erased")
	s.render(c, http.StatusOK, "trouble", s.frame(c, heading), trouble{Heading: heading,
		Text: s.say(c, "Nothing of yours is kept here any more, and your private address opens nothing. A backup that the studio made before may hold it until that is replaced; should it be put back, your answers are erased from it again.")})
	return nil
}
