package server

import (
	"context"
	"errors"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"github.com/gin-gonic/gin"

	"perchbook/orders"
)

// moveForm moves a commission to another stage.
type moveForm struct {
	Version  int
	To, Why  field
	Stages   []stageChoice
	Usual    string   // the move most likely meant
	Wanted   []string // what stands against that
	PassOver bool     // something is wanted first, and she may move on all the same
	Passed   bool     // she has said so
	Tell     bool     // a letter goes with it
	Told     string   // the stages that have a wording
}

type stageChoice struct {
	Value, Label string
	Chosen       bool
}

func moveFormOf(f file, t typed) moveForm {
	m := moveForm{
		Version: f.Version, Tell: t.Tell, Told: toldStages(f.Stage.Moves()),
		To:  field{Key: "stage", Label: "Move to"},
		Why: field{Key: "why", Label: "Why", Hint: "Needed for every move but the usual next one; kept in the history.", Value: t.Why},
	}
	usual := usualMove(f)
	m.Usual = string(usual)
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
	m.PassOver, m.Passed = t.Move.Key == "guard" || t.PassOver, t.PassOver
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

// letterAt is the letter that goes with a move to that stage; "" where there is no wording for it.
func (s *Server) letterAt(ctx context.Context, commissionID string, to orders.Stage) (string, error) {
	list, err := s.Store.Wordings(ctx)
	if err != nil {
		return "", err
	}
	for _, w := range list {
		if w.At == to && to != "" {
			return s.Store.Fill(ctx, commissionID, w.Body)
		}
	}
	return "", nil
}

// toldStages names those of the stages that have a wording.
func toldStages(moves []orders.Stage) string {
	var words []string
	for _, st := range moves {
		if orders.Told(st) {
			words = append(words, "“"+string(st)+"”")
		}
	}
	return and(words)
}

const movedMeanwhile = "Somebody moved this commission meanwhile. The page now shows where it stands; choose again if it is still wanted."

func (s *Server) moveCommission(c *gin.Context) error {
	ctx, id := c.Request.Context(), c.Param("id")
	t := typed{To: c.PostForm("stage"), Why: tidy(c.PostForm("why")), PassOver: c.PostForm("pass-over") == "yes", Tell: c.PostForm("tell") == "yes"}
	version, err := strconv.Atoi(c.PostForm("version"))
	if err != nil {
		version = -1 // no version is an old version
	}
	step := orders.Step{Version: version, To: orders.Stage(t.To), By: s.maker(c), Why: t.Why, PassOver: t.PassOver}
	if t.Tell {
		if step.Letter, err = s.letterAt(ctx, id, step.To); err != nil {
			return err
		}
	}
	moved, err := s.Store.Take(ctx, id, step)
	if err == nil {
		told := ""
		if step.Letter != "" {
			if told, err = s.told(ctx, moved.ClientID); err != nil {
				return err
			}
		}
		s.note(c, strings.TrimSpace(moved.Number+" now stands at: "+string(moved.Stage)+". "+told))
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

// commissionAgain shows the commission's page with what could not be taken.
func (s *Server) commissionAgain(c *gin.Context, id string, t typed) error {
	f, err := s.file(c.Request.Context(), id)
	if err != nil {
		return err
	}
	return s.commissionPage(c, http.StatusUnprocessableEntity, f, t)
}

// revokeLink ends the client's private link; the page then shows the new one.
func (s *Server) revokeLink(c *gin.Context) error {
	if _, err := s.Store.Revoke(c.Request.Context(), c.Param("id")); err != nil {
		return err
	}
	s.note(c, "The old private link no longer opens anything. Send the client the new one.")
	return onward(c, "/workroom/commissions/"+c.Param("id")+"#link")
}
