package server

import (
	"errors"
	"net/http"

	"github.com/gin-gonic/gin"

	"perchbook/orders"
	"perchbook/templates"
)

// A frame is what stands round the content of every page.
type frame struct {
	Title, Lang, Studio, Place, Reach string
	Bench, Signed, Demo, LocalOnly    bool
	Notice                            string // one sentence about what has just been done
	Tongues                           []tongue
	Speak, Here                       string // where a choice of language goes, and the page it leads back to
	Nav                               []navItem
}

type navItem struct {
	Href, Label string
	Here        bool
}

// benchNav are the rooms of the workroom.
var benchNav = []navItem{
	{Href: "/workroom", Label: "Today"},
	{Href: "/workroom/commissions", Label: "Commissions"},
	{Href: "/workroom/diary", Label: "Diary"},
	{Href: "/workroom/weeks", Label: "Weeks"},
	{Href: "/workroom/cloth", Label: "Cloth"},
	{Href: "/workroom/search", Label: "Search"},
	{Href: "/workroom/rehearsal", Label: "Rehearsal chat"},
	{Href: "/workroom/studio", Label: "Studio"},
}

// frame describes the surroundings of a page: the workroom's under /workroom, else the client's.
func (s *Server) frame(c *gin.Context, title string) frame {
	f := frame{Title: title, Lang: string(s.language(c)), Studio: "Perchbook", Demo: s.Demo, LocalOnly: s.PublicURL == ""}
	if st, err := s.Store.Studio(c.Request.Context()); err == nil && st.Name != "" {
		f.Studio, f.Place, f.Reach = st.Name, st.Place, st.Reach
	}
	f.Bench = isBench(c)
	f.Signed = f.Bench && s.maker(c) != ""
	if !f.Bench {
		s.tongues(c, &f)
	}
	for _, n := range benchNav {
		n.Here = n.Href == c.Request.URL.Path
		f.Nav = append(f.Nav, n)
	}
	f.Notice = s.sessions.PopString(c.Request.Context(), "notice")
	return f
}

// note says one sentence on the next page that is shown.
func (s *Server) note(c *gin.Context, sentence string) {
	s.sessions.Put(c.Request.Context(), "notice", sentence)
}

// render fills a page in memory and sends it whole.
func (s *Server) render(c *gin.Context, status int, name string, f frame, view any) {
	body, err := s.pages.Render(name, templates.Language(f.Lang), struct {
		Frame frame
		View  any
	}{f, view})
	if err != nil {
		s.Log.ErrorContext(c.Request.Context(), "render failed", "page", name, "err", err)
		c.String(http.StatusInternalServerError, s.say(c, "Something went wrong."))
		return
	}
	sendPage(c, status, body, f.Bench)
}

// onward answers a good post: the browser fetches the next page anew.
func onward(c *gin.Context, path string) error {
	c.Redirect(http.StatusSeeOther, path)
	return nil
}

// A field is one control of a form as the page shows it: what was typed survives, right or wrong.
type field struct {
	Key, Label, Hint, Value, Problem string
	Heard                            string // a length that was typed, as it was understood
}

// ID is the control's id, and what the list of problems points at.
func (f field) ID() string { return "f-" + f.Key }

// A mend is one line in the list of problems on top of a page.
type mend struct{ ID, Text string }

// mends lists the fields that have problems.
func mends(fields ...field) []mend {
	var all []mend
	for _, f := range fields {
		if f.Problem != "" {
			all = append(all, mend{f.ID(), f.Problem})
		}
	}
	return all
}

// asProblem says whether err is something the person can mend.
func asProblem(err error) (*orders.Problem, bool) {
	var p *orders.Problem
	return p, errors.As(err, &p)
}
