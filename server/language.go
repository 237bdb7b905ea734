package server

import (
	"strings"
	"time"

	"github.com/gin-gonic/gin"

	"perchbook/orders"
	"perchbook/templates"
)

// A tongue is one of the languages a page can be read in.
type tongue struct {
	Tag, Name string
	Here      bool
}

// speaks notes in which language the pages of a request are; see language.
const speaks = "language"

// language is that of the page being made. The workroom speaks English; a client's page the language
// she has chosen, or else the one that her browser asks for.
func (s *Server) language(c *gin.Context) templates.Language {
	if l, ok := c.Get(speaks); ok {
		return l.(templates.Language)
	}
	if isBench(c) {
		return templates.English
	}
	return s.wished(c, "")
}

// wished weighs what is kept with a draft, what was chosen before there was one, and the browser.
func (s *Server) wished(c *gin.Context, kept string) templates.Language {
	for _, choice := range []string{kept, s.sessions.GetString(c.Request.Context(), speaks)} {
		if choice != "" {
			return templates.Matched(choice)
		}
	}
	return templates.Matched(c.GetHeader("Accept-Language"))
}

func isBench(c *gin.Context) bool {
	path := c.Request.URL.Path
	return strings.HasPrefix(path, "/workroom") || strings.HasPrefix(path, "/enter")
}

// say puts a sentence into the language of the page being made.
func (s *Server) say(c *gin.Context, english string, with ...any) string {
	return s.language(c).Say(english, with...)
}

// speak keeps her choice before there is a draft to keep it with.
func (s *Server) speak(c *gin.Context) error {
	if l, ok := chosen(c); ok {
		s.sessions.Put(c.Request.Context(), speaks, string(l))
	}
	return onward(c, backTo(c, "/"))
}

// speakHere keeps her choice with the draft, and with herself once there is a commission.
func (s *Server) speakHere(c *gin.Context, d door) error {
	if l, ok := chosen(c); ok {
		if err := s.Store.SetLanguage(c.Request.Context(), d.Draft.ID, string(l)); err != nil {
			return err
		}
	}
	return onward(c, backTo(c, d.Base))
}

func chosen(c *gin.Context) (templates.Language, bool) {
	for _, l := range templates.Languages {
		if string(l) == c.PostForm("language") {
			return l, true
		}
	}
	return "", false
}

// backTo is the page on which the switch was pressed, which must lie under base.
func backTo(c *gin.Context, base string) string {
	back := c.PostForm("back")
	if under := strings.TrimSuffix(base, "/") + "/"; back == base || strings.HasPrefix(back, under) && !strings.HasPrefix(back, "//") && !strings.Contains(back, `\`) {
		return back
	}
	return base
}

// tongues fills in the switch that stands on every page of a client.
func (s *Server) tongues(c *gin.Context, f *frame) {
	for _, l := range templates.Languages {
		f.Tongues = append(f.Tongues, tongue{string(l), l.Name(), l == s.language(c)})
	}
	f.Speak, f.Here = "/language", "/"
	if d, ok := c.Get(opened); ok {
		f.Speak, f.Here = d.(door).Base+"/language", d.(door).Base
	}
	if !c.IsAborted() && s.shown[c.FullPath()] { // a page of trouble gives no address back
		f.Here = c.Request.URL.RequestURI()
	}
}

// heed says a problem in the language of the door.
func (d door) heed(p *orders.Problem) string { return d.Language.Put(p) }

// hour and day say a moment by the studio's clock.
func (d door) hour(at desk, t time.Time) string { return d.Language.Put(orders.SayHour(t.In(at.zone))) }
func (d door) day(at desk, t time.Time) string  { return d.Language.Put(orders.SayDay(t.In(at.zone))) }

// occasion names what the hat is for.
func (d door) occasion() string {
	q, _ := orders.Questions.Find("occasion")
	return d.Language.Put(q.Phrase(orders.Answer{Value: d.Commission.Occasion}))
}

// say puts a sentence into the language of the door.
func (d door) say(english string, with ...any) string { return d.Language.Say(english, with...) }
