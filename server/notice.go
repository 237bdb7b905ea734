package server

import (
	"errors"
	"net/http"

	"github.com/gin-gonic/gin"

	"perchbook/orders"
	"perchbook/templates"
)

// noticeView asks for consent before anything is stored, or anew when the notice has changed.
type noticeView struct {
	Reach, Action, Back, No string
	Changed                 bool
	Parts                   []heard
	Question                orders.Question
	Problems                []mend
}

func putting(l templates.Language) func(orders.Phrase) string {
	return func(p orders.Phrase) string { return l.Put(p) }
}

func (s *Server) notice(c *gin.Context, l templates.Language) (noticeView, error) {
	q, ok := consentQuestion()
	if !ok {
		return noticeView{}, errors.New("the list of questions begins with no consent")
	}
	n, err := s.Store.PrivacyNotice(c.Request.Context())
	v := noticeView{Question: q.In(l.Say)}
	for _, p := range n {
		v.Parts = append(v.Parts, heard{l.Put(p.Heading), l.Put(p.Text)})
	}
	return v, err
}

func (s *Server) showBegin(c *gin.Context) error {
	return s.beginPage(c, http.StatusOK, nil)
}

func (s *Server) beginPage(c *gin.Context, status int, problem *orders.Problem) error {
	l := s.language(c)
	v, err := s.notice(c, l)
	if err != nil {
		return err
	}
	f := s.frame(c, l.Say("Before you begin"))
	v.Action, v.Back, v.No, v.Reach = "/begin", "/", "/", f.Reach
	if problem != nil {
		f.Title = l.Say("Problem: %s", f.Title)
		v.Problems = []mend{{"agree", l.Put(problem)}}
	}
	s.render(c, status, "begin", f, v)
	return nil
}

// agreed shows a page of questions only to who has agreed to the notice as it is now. What a page opened
// before still sends is kept, so that nothing already given is lost; she is asked when she goes on.
func (s *Server) agreed(h func(*gin.Context, door) error) func(*gin.Context, door) error {
	return func(c *gin.Context, d door) error {
		put := func(language string, p orders.Phrase) string { return templates.Language(language).Put(p) }
		old, err := s.Store.Outdated(c.Request.Context(), d.Draft.ID, put)
		if err != nil {
			return err
		}
		if old {
			return onward(c, d.Base+"/notice")
		}
		return h(c, d)
	}
}

// showNotice asks anew, after the milliner or we have changed the notice.
func (s *Server) showNotice(c *gin.Context, d door) error {
	v, err := s.notice(c, d.Language)
	if err != nil {
		return err
	}
	f := s.frame(c, d.say("What is kept about you"))
	v.Action, v.Back, v.No, v.Reach, v.Changed = d.Base+"/notice", d.Base, d.Base+"/kept", f.Reach, true
	s.render(c, http.StatusOK, "begin", f, v)
	return nil
}

func (s *Server) agreeAnew(c *gin.Context, d door) error {
	q, _ := consentQuestion()
	if c.PostForm(q.Key) != orders.Yes {
		return onward(c, d.Base+"/notice")
	}
	n, err := s.Store.PrivacyNotice(c.Request.Context())
	if err != nil {
		return err
	}
	if err := s.Store.Agree(c.Request.Context(), d.Draft.ID, q.Key, string(d.Language), n.Wording(putting(d.Language))); err != nil {
		return err
	}
	if d.sent() {
		return onward(c, d.Base)
	}
	return onward(c, d.resume())
}

// agreedNote keeps the wording under which a private answer is asked for.
func (s *Server) agreedNote(c *gin.Context, d door, q orders.Question, a orders.Answer) error {
	if q.Kind != orders.Consent || a.Value != orders.Yes {
		return nil
	}
	q = q.In(d.say)
	return s.Store.Agree(c.Request.Context(), d.Draft.ID, q.Key, string(d.Language), q.Label+"\n\n"+q.Hint)
}

func (s *Server) begin(c *gin.Context) error {
	if err := s.begins.allow("begin " + c.ClientIP()); err != nil {
		return err
	}
	ctx := c.Request.Context()
	q, _ := consentQuestion()
	said, err := readSaid(c, q)
	if err != nil {
		return err
	}
	desk, err := s.desk(ctx)
	if err != nil {
		return err
	}
	a, problem := q.Parse(said, desk.now)
	if problem != nil {
		return s.beginPage(c, http.StatusUnprocessableEntity, problem)
	}
	l := s.language(c)
	n, err := s.Store.PrivacyNotice(ctx)
	if err != nil {
		return err
	}
	draft, err := s.Store.BeginIn(ctx, orders.DoorWeb, a, string(l), n.Wording(putting(l)))
	if err != nil {
		return err
	}
	if err := s.Store.SetLanguage(ctx, draft.ID, string(l)); err != nil {
		return err
	}
	return onward(c, door{Base: orders.DraftPath + s.Store.DraftLink(draft), Draft: draft}.resume())
}
