package server

import (
	"errors"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/gin-gonic/gin"

	"perchbook/orders"
)

const mostAnswer = 64 << 10 // bytes of a form without a photograph

// fromCheck says that a question was opened from the summary, and leads back there.
const fromCheck = "check"

func (s *Server) showAsk(c *gin.Context, d door) error {
	questions := orders.Questions.On(c.Param("page"), d.Draft.Answers)
	if len(questions) == 0 || questions[0].Key == privacyKey() {
		return orders.ErrNotFound
	}
	all := make([]asked, len(questions))
	for i, q := range questions {
		all[i] = d.askedOf(q, typedOf(q, d.Draft.Answers[q.Key]), nil)
		all[i].showPhotos(d)
	}
	s.askPage(c, http.StatusOK, d, all)
	return nil
}

// saveAsk keeps every good answer of a page, and shows the page again when one of them has a problem.
func (s *Server) saveAsk(c *gin.Context, d door) error {
	questions := orders.Questions.On(c.Param("page"), d.Draft.Answers)
	if len(questions) == 0 || questions[0].Key == privacyKey() {
		return orders.ErrNotFound
	}
	desk, err := s.desk(c.Request.Context())
	if err != nil {
		return err
	}
	all := make([]asked, len(questions))
	good := true
	for i, q := range questions {
		said, err := readSaid(c, q)
		if err != nil {
			return s.tooLong(c, d, questions, err)
		}
		a, problem := q.Understand(said, d.Draft.Answers, desk.now)
		all[i] = d.askedOf(q, said.Text, problem)
		if problem == nil {
			all[i] = d.askedOf(q, typedOf(q, a), nil)
		}
		all[i].showPhotos(d)
		good = good && problem == nil
		if problem != nil || q.Kind == orders.Photograph {
			continue
		}
		if d.Draft, err = s.Store.Answer(c.Request.Context(), d.Draft.ID, q.Key, a); err != nil {
			return err
		}
		if err := s.agreedNote(c, d, q, a); err != nil {
			return err
		}
	}
	if !good {
		s.askPage(c, http.StatusUnprocessableEntity, d, all)
		return nil
	}
	return onward(c, d.after(c.Param("page"), c.Query("from")))
}

// tooLong shows the page again when more was sent than any answer needs. What was typed can't be
// given back, since it was not read; what was kept before stands in its fields.
func (s *Server) tooLong(c *gin.Context, d door, questions []orders.Question, err error) error {
	var tooLarge *http.MaxBytesError
	if !errors.As(err, &tooLarge) {
		return orders.NewProblem(questions[0].Key, "What was sent could not be read as an answer. Go back, and send it once more.")
	}
	all := make([]asked, len(questions))
	for i, q := range questions {
		var problem *orders.Problem
		if i == 0 {
			problem = orders.NewProblem(q.Key, "That is far longer than this question can take, so it was not read. Please write less.")
		}
		all[i] = d.askedOf(q, typedOf(q, d.Draft.Answers[q.Key]), problem)
	}
	s.askPage(c, http.StatusRequestEntityTooLarge, d, all)
	return nil
}

// readSaid is what was typed or pressed for a question.
func readSaid(c *gin.Context, q orders.Question) (orders.Said, error) {
	if c.Request.PostForm == nil {
		c.Request.Body = http.MaxBytesReader(c.Writer, c.Request.Body, mostAnswer)
		if err := c.Request.ParseForm(); err != nil {
			return orders.Said{}, err
		}
	}
	form := c.Request.PostForm
	pressed := func(button string) bool { return slices.Contains(form[button], q.Key) }
	left := pressed("skip") || slices.Contains(form["skip"], q.Page)
	said := orders.Said{Text: readable(form[q.Key]), Sure: pressed("sure"), Enough: pressed("enough") || pressed("sure")}
	switch {
	case pressed("later"):
		said.Text = []string{orders.Later}
	case pressed("open"):
		said.Text = []string{orders.NotFixed}
	case left:
		said.Text = nil
	}
	return said, nil
}

// readable drops what no page can show again: broken letters and control characters.
func readable(typed []string) []string {
	clean := make([]string, len(typed))
	for i, t := range typed {
		clean[i] = strings.Map(func(r rune) rune {
			if r == utf8.RuneError || unicode.IsControl(r) && r != '\n' && r != '\r' && r != '\t' {
				return -1
			}
			return r
		}, t)
	}
	return clean
}

// privacyKey is the question that is answered before there is a draft and is not asked again.
func privacyKey() string {
	q, _ := consentQuestion()
	return q.Key
}

// steps are the screens that she must pass before she may send.
func (d door) steps() []string { return withoutNotice(orders.Questions.Pages(d.Draft.Answers)) }

func withoutNotice(pages []string) []string {
	q, _ := consentQuestion()
	return slices.DeleteFunc(pages, func(page string) bool { return page == q.Page })
}

func (d door) ask(page string) string { return d.Base + "/ask/" + page }

// resume is where to go on: the first needed question without an answer, else the summary.
func (d door) resume() string {
	if q, more := orders.Questions.Next(d.Draft.Answers); more {
		return d.ask(q.Page)
	}
	return d.Base + "/check"
}

// after is the address that follows a good answer. It names the page just answered, so that the next
// one can say what was understood; an address holds no answer.
func (d door) after(page, from string) string {
	kept := "?kept=" + url.QueryEscape(page)
	steps := d.steps()
	at := slices.Index(steps, page)
	switch {
	case from == fromCheck || d.sent() && at >= 0:
		return d.summary() + kept
	case at >= 0 && at+1 < len(steps):
		return d.ask(steps[at+1]) + kept
	case at >= 0:
		return d.Base + "/check" + kept
	case d.nextExtra(page) != "":
		return d.ask(d.nextExtra(page)) + kept
	}
	return d.Base + "/more" + kept
}

// summary is the page that shows all answers.
func (d door) summary() string { return d.Base + "/check" }

// nextExtra is the next optional screen of the same part that she has not seen yet, "" at its end.
func (d door) nextExtra(page string) string {
	extras := orders.Questions.Extras(d.Draft.Answers)
	at := slices.Index(extras, page)
	for _, next := range extras[at+1:] {
		q := orders.Questions.On(next, d.Draft.Answers)[0]
		if _, seen := d.Draft.Answers[q.Key]; !seen && q.Part == d.part(page) {
			return next
		}
	}
	return ""
}

func (d door) part(page string) string {
	for _, q := range orders.Questions.On(page, d.Draft.Answers) {
		return q.Part
	}
	return ""
}

// back is the page before this one, with its answer kept. kept is the optional one that led here, if
// any; from the list of them she goes back to the list.
func (d door) back(page, from, kept string) string {
	steps := d.steps()
	at := slices.Index(steps, page)
	switch {
	case from == fromCheck || d.sent() && at >= 0:
		return d.summary()
	case at > 0:
		return d.ask(steps[at-1])
	case at == 0:
		return d.Base
	case kept != "" && d.part(kept) == d.part(page):
		return d.ask(kept)
	}
	return d.Base + "/more"
}
