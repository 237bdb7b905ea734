package server

import (
	"errors"
	"net/http"
	"strconv"

	"github.com/gin-gonic/gin"

	"perchbook/orders"
)

// wordingsView lists the kinds of letters that have a wording.
type wordingsView struct{ Rows []wordingRow }

type wordingRow struct{ Href, Name, Body, Whose string }

func (s *Server) showWordings(c *gin.Context) error {
	list, err := s.Store.Wordings(c.Request.Context())
	if err != nil {
		return err
	}
	var v wordingsView
	for _, w := range list {
		v.Rows = append(v.Rows, wordingRow{"/workroom/studio/wordings/" + w.Kind, w.Name, w.Body, whose(w)})
	}
	s.render(c, http.StatusOK, "wordings", s.frame(c, "Wordings of letters"), v)
	return nil
}

func whose(w orders.Wording) string {
	if w.Usual {
		return "as usual"
	}
	return "your own"
}

// wordingView is one wording to write, and how it reads for one commission.
type wordingView struct {
	Problems  []mend
	Name, Act string
	Version   int
	Body, For field
	Fields    []orders.Option
	Preview   []saying
	Whom      string
}

func (s *Server) showWording(c *gin.Context) error {
	w, err := s.Store.Wording(c.Request.Context(), c.Param("kind"))
	if err != nil {
		return err
	}
	return s.wordingPage(c, http.StatusOK, w, wordingView{Body: field{Value: w.Body}, Version: w.Version})
}

func (s *Server) wordingPage(c *gin.Context, status int, w orders.Wording, v wordingView) error {
	v.Name, v.Act, v.Fields = w.Name, "/workroom/studio/wordings/"+w.Kind, orders.WordingFields
	v.Body.Key, v.Body.Label, v.Body.Hint = "body", "What the letter says", "Fields in braces are filled in for each client. Empty it to have the usual wording back."
	v.For.Key, v.For.Label, v.For.Hint = "for", "Read it as for commission", "Its number, such as 26-014."
	v.Problems = mends(v.Body, v.For)
	name := w.Name
	if len(v.Problems) > 0 {
		name = "Problem: " + name
	}
	s.render(c, status, "wording", s.frame(c, name), v)
	return nil
}

func (s *Server) saveWording(c *gin.Context) error {
	ctx := c.Request.Context()
	w, err := s.Store.Wording(ctx, c.Param("kind"))
	if err != nil {
		return err
	}
	v := wordingView{Body: field{Value: tidy(c.PostForm("body"))}, For: field{Value: tidy(c.PostForm("for"))}}
	if v.Version, err = strconv.Atoi(c.PostForm("version")); err != nil {
		v.Version = -1 // no version is an old version
	}
	if c.PostForm("do") == "read" {
		return s.readWording(c, w, v)
	}
	err = s.Store.SaveWording(ctx, w.Kind, v.Body.Value, v.Version)
	switch p, mendable := asProblem(err); {
	case mendable:
		v.Body.Problem = p.Text
		return s.wordingPage(c, http.StatusUnprocessableEntity, w, v)
	case errors.Is(err, orders.ErrConflict):
		v.Version, v.Body.Problem = w.Version, "Somebody changed this wording meanwhile. Yours is still here; keep it again if it is the one you want."
		return s.wordingPage(c, http.StatusConflict, w, v)
	case err != nil:
		return err
	}
	s.note(c, "The wording is kept. Letters already written stay as they are.")
	return onward(c, "/workroom/studio/wordings")
}

// readWording shows how what is typed reads for a real commission, and keeps nothing.
func (s *Server) readWording(c *gin.Context, w orders.Wording, v wordingView) error {
	ctx := c.Request.Context()
	if p := orders.CheckWording(v.Body.Value); p != nil {
		v.Body.Problem = p.Text
		return s.wordingPage(c, http.StatusUnprocessableEntity, w, v)
	}
	com, err := s.Store.Numbered(ctx, v.For.Value)
	if errors.Is(err, orders.ErrNotFound) {
		v.For.Problem = "There is no commission of that number. It stands in front of the client’s name in the list."
		return s.wordingPage(c, http.StatusUnprocessableEntity, w, v)
	}
	if err != nil {
		return err
	}
	text, err := s.Store.Fill(ctx, com.ID, v.Body.Value)
	if err != nil {
		return err
	}
	if text, err = s.Store.FillLinks(ctx, orders.Letter{Out: true, CommissionID: com.ID, Body: text}); err != nil {
		return err
	}
	v.Preview, v.Whom = s.linked(text), com.Number+", "+com.ClientName
	return s.wordingPage(c, http.StatusOK, w, v)
}
