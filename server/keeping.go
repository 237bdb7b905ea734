package server

import (
	"context"
	"errors"
	"net/http"
	"strconv"

	"github.com/gin-gonic/gin"

	"perchbook/orders"
)

// keepingView is for how long things are kept, as the milliner writes it.
type keepingView struct {
	Problems []mend
	Version  int
	Fields   []field
}

var keepingFields = []field{
	{Key: "months", Label: "Measurements, face and photographs", Hint: "Whole months after the hat was handed over or given up. When they have passed, Today asks you: keep them longer, and why, or erase them."},
	{Key: "draft_days", Label: "Enquiries that are never sent in", Hint: "Whole days after the last answer. Then they erase themselves."},
}

func (s *Server) showKeeping(c *gin.Context) error {
	k, err := s.Store.Keeping(c.Request.Context())
	if err != nil {
		return err
	}
	return s.keepingPage(c, http.StatusOK, k.Version, writtenKeeping(k), nil)
}

func writtenKeeping(k orders.Keeping) map[string]string {
	return map[string]string{"months": strconv.Itoa(k.Months), "draft_days": strconv.Itoa(k.DraftDays)}
}

func (s *Server) keepingPage(c *gin.Context, status, version int, typed, problems map[string]string) error {
	v := keepingView{Version: version, Fields: filled(keepingFields, typed, problems)}
	name := "What is kept, and how long"
	if v.Problems = mends(v.Fields...); len(v.Problems) > 0 {
		name = "Problem: " + name
	}
	s.render(c, status, "keeping", s.frame(c, name), v)
	return nil
}

func (s *Server) saveKeeping(c *gin.Context) error {
	ctx, problems := c.Request.Context(), map[string]string{}
	typed := map[string]string{"months": tidy(c.PostForm("months")), "draft_days": tidy(c.PostForm("draft_days"))}
	version, err := strconv.Atoi(c.PostForm("version"))
	if err != nil {
		version = -1 // no version is an old version
	}
	k := orders.Keeping{Version: version}
	for key, into := range map[string]*int{"months": &k.Months, "draft_days": &k.DraftDays} {
		most, of := orders.MostKeepMonths, "months"
		if key == "draft_days" {
			most, of = orders.MostDraftDays, "days"
		}
		n, problem := readWhole(typed[key], 1, most, of)
		if *into = n; problem != "" {
			problems[key] = problem
		}
	}
	if len(problems) == 0 {
		err := s.Store.SaveKeeping(ctx, k)
		problem, wrong := asProblem(err)
		switch {
		case wrong:
			problems[problem.Key] = problem.Text
		case errors.Is(err, orders.ErrConflict):
			now, err := s.Store.Keeping(ctx)
			if err != nil {
				return err
			}
			return s.keepingPage(c, http.StatusConflict, now.Version, typed, map[string]string{"months": changedStudio})
		case err != nil:
			return err
		default:
			s.note(c, "Kept. The privacy notice says so from now on.")
			return onward(c, "/workroom/studio/keeping")
		}
	}
	return s.keepingPage(c, http.StatusUnprocessableEntity, version, typed, problems)
}

// bodyView asks the milliner what becomes of a client's measurements.
type bodyView struct {
	commissionHead
	Problems  []mend
	UnderWay  bool
	Since     string
	Until     string
	Passed    bool
	Erased    string
	What      string // what there is, in words; "" when nothing is left
	Decisions []heard
	Months    int
	Why       field
}

func (s *Server) showHeld(c *gin.Context) error {
	return s.heldPage(c, http.StatusOK, "", "")
}

func (s *Server) heldPage(c *gin.Context, status int, typed, problem string) error {
	ctx := c.Request.Context()
	f, err := s.file(ctx, c.Param("id"))
	if err != nil {
		return err
	}
	h, err := s.Store.Held(ctx, f.ID)
	if err != nil {
		return err
	}
	k, err := s.Store.Keeping(ctx)
	if err != nil {
		return err
	}
	v := bodyView{commissionHead: headOf(f), UnderWay: h.Since.IsZero(), What: heldWords(h), Months: k.Months,
		Why: field{Key: "why", Label: "Why they are still needed", Hint: "The client can read it.", Value: typed, Problem: problem}}
	if !v.UnderWay {
		v.Since, v.Until, v.Passed = f.date(h.Since), f.date(h.Until), f.now.After(h.Until)
	}
	if !h.Erased.IsZero() {
		v.Erased = f.date(h.Erased)
	}
	for _, d := range h.Decisions {
		v.Decisions = append(v.Decisions, heard{f.date(d.At) + ", " + d.Who, "until " + f.date(d.Until) + ": " + d.Why})
	}
	name := "Measurements of " + f.Number
	if v.Problems = mends(v.Why); problem != "" {
		name = "Problem: " + name
	}
	s.render(c, status, "held", s.frame(c, name), v)
	return nil
}

func heldWords(h orders.Held) string {
	if !h.Any() {
		return ""
	}
	return count(h.Cards, "measure card", "measure cards") + ", " + count(h.Sheets, "fit sheet", "fit sheets") + ", " + count(h.Photographs, "photograph", "photographs")
}

func (s *Server) keepHeld(c *gin.Context) error {
	why := tidy(c.PostForm("why"))
	err := s.Store.KeepOn(c.Request.Context(), c.Param("id"), why, s.maker(c))
	if problem, ok := asProblem(err); ok {
		return s.heldPage(c, http.StatusUnprocessableEntity, why, problem.Text)
	}
	if err != nil {
		return err
	}
	s.note(c, "Kept for another period, and why.")
	return onward(c, "/workroom/commissions/"+c.Param("id")+"/measurements")
}

func (s *Server) eraseHeld(c *gin.Context) error {
	if err := s.Store.EraseMeasures(c.Request.Context(), c.Param("id")); err != nil {
		return err
	}
	s.note(c, "The measurements are erased. History, letters and books are as they were.")
	return onward(c, "/workroom/commissions/"+c.Param("id")+"/measurements")
}

// toDecide lists the clients whose measurements have been kept for as long as was promised.
func (s *Server) toDecide(ctx context.Context, d desk) (todayGroup, error) {
	g := todayGroup{ID: "measurements", Heading: "Measurements to let go", Lead: "The time for which they are kept has passed. Erase them, or say why you keep them."}
	list, total, err := s.Store.PastKeeping(ctx, most)
	g.Total = total
	for _, c := range list {
		row := d.row(c)
		row.Act = nextStep{Href: row.Href + "/measurements", Label: "Decide"}
		g.Rows = append(g.Rows, row)
	}
	return g, err
}
