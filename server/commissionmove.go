package server

import (
	"errors"
	"net/http"
	"slices"
	"strconv"

	"github.com/gin-gonic/gin"

	"perchbook/orders"
)

// moveForm moves a commission to another stage.
type moveForm struct {
	Version int
	To, Why field
	Stages  []stageChoice
}

type stageChoice struct {
	Value, Label string
	Chosen       bool
}

func moveFormOf(f file, t typed) moveForm {
	m := moveForm{
		Version: f.Version,
		To:      field{Key: "stage", Label: "Move to"},
		Why:     field{Key: "why", Label: "Why", Hint: "Needed for every move but the usual next one; kept in the history.", Value: t.Why},
	}
	usual := usualMove(f)
	for _, st := range f.Stage.Moves() {
		words := title(string(st))
		if f.Stage.WantsWhy(st) {
			words += " (say why)"
		}
		m.Stages = append(m.Stages, stageChoice{string(st), words, string(st) == t.To || t.To == "" && st == usual})
	}
	if t.Move == nil {
		return m
	}
	if t.Move.Key == "why" {
		m.Why.Problem = t.Move.Text
	} else {
		m.To.Problem = t.Move.Text
	}
	return m
}

// usualMove is the move most likely meant: the next one, or back to where a commission that is taken
// up again stood.
func usualMove(f file) orders.Stage {
	moves := f.Stage.Moves()
	if left := f.History[len(f.History)-1].From; f.Stage.Closed() && slices.Contains(moves, left) {
		return left
	}
	return moves[0]
}

const movedMeanwhile = "Somebody moved this commission meanwhile. The page now shows where it stands; choose again if it is still wanted."

func (s *Server) moveCommission(c *gin.Context) error {
	ctx, id := c.Request.Context(), c.Param("id")
	t := typed{To: c.PostForm("stage"), Why: tidy(c.PostForm("why"))}
	version, err := strconv.Atoi(c.PostForm("version"))
	if err != nil {
		version = -1 // no version is an old version
	}
	moved, err := s.Store.Move(ctx, id, version, orders.Stage(t.To), s.maker(c), t.Why)
	if err == nil {
		s.note(c, moved.Number+" now stands at: "+string(moved.Stage)+".")
		return onward(c, "/workroom/commissions/"+id)
	}
	status := http.StatusUnprocessableEntity
	if errors.Is(err, orders.ErrConflict) {
		status, t.Move = http.StatusConflict, &orders.Problem{Key: "stage", Text: movedMeanwhile}
	} else if p, ok := asProblem(err); ok {
		t.Move = p
	} else {
		return err
	}
	f, err := s.file(ctx, id)
	if err != nil {
		return err
	}
	return s.commissionPage(c, status, f, t)
}

// revokeLink ends the client's private link; the page then shows the new one.
func (s *Server) revokeLink(c *gin.Context) error {
	if _, err := s.Store.Revoke(c.Request.Context(), c.Param("id")); err != nil {
		return err
	}
	s.note(c, "The old private link no longer opens anything. Send the client the new one.")
	return onward(c, "/workroom/commissions/"+c.Param("id")+"#link")
}
