package server

import (
	"errors"
	"maps"
	"net/http"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/gin-gonic/gin"

	"perchbook/fitting"
	"perchbook/orders"
)

// settleView is the page on which a hat is settled.
type settleView struct {
	commissionHead
	Problems   []mend
	Why        *standstill // why there is no proposal
	Proposals  []proposalCard
	Presence   figureRow // what she chose among the proposals, in place of the client's wish
	Tried      bool      // worked out with figures that are not kept yet
	Gone       string    // what it comes to, for who listens while she tries
	Figures    []figureRow
	More       []figureRow
	MoreOpen   bool
	Note       field
	Version    int
	Signing    string // what signing does from this stage
	Pending    *pending
	Short      string // of what too little is free, once signing was refused for it
	BuysRest   bool   // she has said that she buys the rest
	Reason     *field // why the next sheet takes the former's place; nil for the first
	Overridden int
	Broken     string // why her figures can't be; the result below is then the proposal's
	Earlier    bool   // the result is of the figures kept before, since those typed can't be read
	Moved      []figureRow
	Gist       []size
	Result     []sizes
	Views      []view
	AllRound   []view
	Reasons    []fitting.Note
	Face       string // as the engine reads it; "" for one that was picked
	Cautions   []fitting.Note
	Settled    []sheetLink
}

// A standstill says why nothing can be proposed, and the way on.
type standstill struct {
	Words       string
	Href, Label string
}

// settleSummary is the hat in a few figures, for the commission's page.
type settleSummary struct {
	Why        *standstill
	Rows       []size
	Views      []view
	Note       string
	Overridden int
	Broken     string
}

func summaryOf(f file) settleSummary {
	if why := standstillOf(f); why != nil {
		return settleSummary{Why: why, Note: f.Fitted.Working.Note}
	}
	sum := settleSummary{Note: f.Fitted.Working.Note, Overridden: len(f.Fitted.Working.Figures)}
	sol, broken, shown := shownSolution(f.Fitted)
	if sum.Broken = broken; shown {
		sum.Rows, sum.Views = gistOf(sol.Result), drawViews(sol)
	}
	return sum
}

// shownSolution is what her figures give, or the proposal and why they can't be. Nothing at all can
// be shown while both are refused.
func shownSolution(f orders.Fitted) (sol fitting.Solution, broken string, shown bool) {
	if f.Broken != nil {
		return f.Proposal, f.Broken.Why, f.Refusal == nil
	}
	return f.Settled, "", true
}

func standstillOf(f file) *standstill {
	base := "/workroom/commissions/" + f.ID
	switch fit := f.Fitted; {
	case fit.Child:
		return &standstill{"The hat is for a child. The engine knows adult heads only and proposes nothing: measure and fit by hand.",
			"/workroom/diary?for=" + f.ID + "&kind=consultation", "Book a consultation"}
	case len(fit.Missing) > 0:
		var names []string
		for _, key := range fit.Missing {
			names = append(names, short(key))
		}
		return &standstill{"Still wanting: " + and(names) + ". Take it at the consultation and write it on a measure card, or ask the client.",
			base + "/measure", "Write a measure card"}
	case fit.Refusal != nil && strings.HasPrefix(fit.Refusal.Field, "measures."):
		return &standstill{fit.Refusal.Why, base + "/measure", "Write a new measure card"}
	}
	return nil
}

func (s *Server) showSettle(c *gin.Context) error {
	f, err := s.file(c.Request.Context(), c.Param("id"))
	if err != nil {
		return err
	}
	var rows []figureRow
	for _, g := range figuresOf(f.Fitted) {
		kept, hers := f.Fitted.Working.Figures[g.Key]
		rows = append(rows, g.row(f.Fitted, kept, hers))
	}
	return s.settlePage(c, http.StatusOK, f, settling{rows: rows, note: f.Fitted.Working.Note})
}

// settlePage shows the form as it was typed, over what stands in the store.
func (s *Server) settlePage(c *gin.Context, status int, f file, t settling) error {
	view, err := settleViewOf(status, f, t)
	if err != nil {
		return err
	}
	if view.Why == nil {
		view.Proposals = proposalCards(f.Fitted)
		if sol, _, shown := shownSolution(f.Fitted); shown {
			view.AllRound = drawAllRound(sol)
		}
	}
	return s.renderSettle(c, status, f, view)
}

func settleViewOf(status int, f file, t settling) (view settleView, err error) {
	view = settleView{
		commissionHead: headOf(f), Why: standstillOf(f), Version: f.Fitted.Working.Version, Settled: sheetsOf(f),
		Note: field{Key: "note", Label: "Note", Hint: "For the bench; it goes onto the fit sheet.", Value: t.note, Problem: t.trouble},
	}
	if view.Why == nil {
		limitCloth(f, t.rows)
		view.fill(f.Fitted, t.rows)
		view.Short, view.BuysRest = t.short, t.buysRest
		view.Signing = signingWords(f)
		if view.Pending, err = pendingOf(f); err != nil {
			return view, err
		}
		if len(f.Sheets) > 0 {
			view.Reason = &field{Key: "why", Label: "Why it changes", Hint: "A word; the next sheet and the history keep it.", Value: t.why, Problem: t.whyTrouble}
			view.Problems = append(view.Problems, mends(*view.Reason)...)
		}
		view.Earlier = status != http.StatusOK && view.Broken == "" && t.whyTrouble == "" && t.short == ""
	} else if status != http.StatusOK {
		view.Problems = []mend{{"standstill", "Nothing could be kept. " + view.Why.Words}}
	}
	if view.Why == nil {
		view.Problems = append(view.Problems, mends(view.Note)...)
	}
	return view, nil
}

func (s *Server) renderSettle(c *gin.Context, status int, f file, view settleView) error {
	name := "Settle " + f.Number
	if len(view.Problems) > 0 {
		name = "Problem: " + name
	}
	s.render(c, status, "settle", s.frame(c, name), view)
	return nil
}

// signingWords says what signing does to a commission.
func signingWords(f file) string {
	if f.Stage == orders.Enquiry || f.Stage == orders.Measured {
		return "moves the commission on to “proposed”"
	}
	words := "leaves the commission at “" + string(f.Stage) + "”"
	if f.Stage != orders.Proposed {
		words += " (if the change must be agreed anew, move it back yourself)"
	}
	return words
}

func (v *settleView) fill(f orders.Fitted, rows []figureRow) {
	all := figuresOf(f)
	sol, broken, shown := shownSolution(f)
	if v.Broken = broken; shown {
		v.Views, v.Gist, v.Result = drawViews(sol), gistOf(sol.Result), sizesOf(sol.Result)
		v.Reasons, v.Cautions = sol.Result.Reasons, append(keptNotes(f.Card), sol.Result.Cautions...)
		v.Gone, v.Face = heardOf(sol.Result), faceWords(f)
		for i, g := range all {
			rows[i].Limits = append(rows[i].Limits, limitsOf(g.Key, f.Input, sol.Result)...)
			if g.Advised != nil {
				rows[i].Slider = g.slider(g.in(sol.Result))
			}
		}
	}
	v.blame(f.Broken, rows)
	for i, r := range rows {
		v.Problems = append(v.Problems, mends(r.field)...)
		if r.Hers {
			v.Overridden++
		}
		if r.Moved != "" {
			v.Moved = append(v.Moved, r)
		}
		if all[i].Measure == inWords {
			v.Presence = r
			continue
		}
		if all[i].Rare {
			v.More = append(v.More, r)
			v.MoreOpen = v.MoreOpen || r.Hers || r.Problem != ""
		} else {
			v.Figures = append(v.Figures, r)
		}
	}
}

// blame puts a refusal beside the figure that it names, or else on top of the page.
func (v *settleView) blame(why *fitting.Refusal, rows []figureRow) {
	if why == nil {
		return
	}
	for i := range rows {
		if rows[i].Key == why.Field {
			if rows[i].Problem == "" {
				rows[i].Problem = why.Why
			}
			return
		}
	}
	v.Problems = append(v.Problems, mend{"figures", why.Why})
}

// settling is one posted form.
type settling struct {
	rows       []figureRow
	figures    map[string]float64
	note       string
	version    int
	bad        bool
	trouble    string // about the note
	why        string // of the next sheet
	whyTrouble string
	short      string // what signing was refused for: too little cloth or elastic is free
	buysRest   bool
}

func readSettling(c *gin.Context, f file) settling {
	t := settling{figures: map[string]float64{}, note: tidy(c.PostForm("note")), why: tidy(c.PostForm("why")), buysRest: c.PostForm("buy-rest") == "yes"}
	var err error
	if t.version, err = strconv.Atoi(c.PostForm("version")); err != nil {
		t.version = -1 // no version is an old version
	}
	reset := c.PostForm("reset")
	taken, take := c.GetPostForm("take") // one of the proposals, as it is
	for _, g := range figuresOf(f.Fitted) {
		typed, way := c.PostForm(g.Key), c.PostForm(g.Key+".way")
		if reset == g.Key || reset == "all" {
			typed, way = "", ""
		}
		if take && g.Measure == inWords {
			typed = taken
		} else if take && g.Advised != nil {
			typed, way = "", ""
		}
		r, value := g.read(f.Fitted, typed, way, f.now)
		t.bad = t.bad || r.Problem != ""
		if r.Hers && r.Problem == "" {
			t.figures[g.Key] = value
		}
		t.rows = append(t.rows, r)
	}
	if utf8.RuneCountInString(t.note) > longestNote {
		t.bad, t.trouble = true, "The note is longer than 2000 letters. Shorten it a little."
	}
	return t
}

const settledMeanwhile = "Somebody settled something else meanwhile. What you typed is still here, beside the result as it stands now. Look at both, then work it out again."

func (s *Server) saveSettle(c *gin.Context) error {
	ctx, id := c.Request.Context(), c.Param("id")
	f, err := s.file(ctx, id)
	if err != nil {
		return err
	}
	t := readSettling(c, f)
	if t.bad || standstillOf(f) != nil {
		return s.settlePage(c, http.StatusUnprocessableEntity, f, t)
	}
	switch c.PostForm("do") {
	case "try":
		return s.trySettle(c, f, t)
	case "back":
		return s.putBack(c, id, t)
	}
	changed := !maps.Equal(t.figures, f.Fitted.Working.Figures)
	w, err := s.Store.SaveWorking(ctx, orders.Working{CommissionID: id, Version: t.version, Figures: t.figures, Note: t.note})
	if err != nil {
		return s.settleAgain(c, id, t, err)
	}
	sign := c.PostForm("do") == "sign"
	if sign && !changed {
		t.version = w.Version
		return s.signOff(c, id, t)
	}
	if sign && changed {
		s.note(c, "Your figures had changed since the result was worked out. Look at it once more, then sign off.")
	}
	return s.settled(c, id, t)
}

// settled shows what the saved figures give: at once when they can't be, else on the page anew.
func (s *Server) settled(c *gin.Context, id string, t settling) error {
	f, err := s.file(c.Request.Context(), id)
	if err != nil {
		return err
	}
	if f.Fitted.Broken != nil {
		return s.settlePage(c, http.StatusUnprocessableEntity, f, t)
	}
	return onward(c, "/workroom/commissions/"+id+"/settle#result")
}

// settleAgain shows the form with what was typed when it could not be kept.
func (s *Server) settleAgain(c *gin.Context, id string, t settling, why error) error {
	p, mendable := asProblem(why)
	status, words := http.StatusUnprocessableEntity, ""
	switch {
	case mendable:
		words = p.Text
	case errors.Is(why, orders.ErrConflict):
		status, words = http.StatusConflict, settledMeanwhile
	default:
		return why
	}
	f, err := s.file(c.Request.Context(), id)
	if err != nil {
		return err
	}
	if mendable && p.Key == "why" {
		t.whyTrouble = words
		return s.settlePage(c, status, f, t)
	}
	if mendable && (p.Key == orders.RollFigure || p.Key == orders.ReelFigure) {
		t.short = p.Text
	}
	for i := range t.rows {
		if mendable && t.rows[i].Key == p.Key {
			t.rows[i].Problem = words
			return s.settlePage(c, status, f, t)
		}
	}
	t.trouble = words
	return s.settlePage(c, status, f, t)
}

// putBack gives up what has changed since the newest sheet was signed.
func (s *Server) putBack(c *gin.Context, id string, t settling) error {
	if _, err := s.Store.PutBack(c.Request.Context(), id, t.version); err != nil {
		return s.settleAgain(c, id, t, err)
	}
	s.note(c, "Your figures are those of the signed sheet again.")
	return onward(c, "/workroom/commissions/"+id+"/settle#result")
}

func (s *Server) signOff(c *gin.Context, id string, t settling) error {
	sheet, err := s.Store.Sign(c.Request.Context(), id, orders.Signing{Version: t.version, By: s.maker(c), Why: t.why, BuysRest: t.buysRest})
	if err != nil {
		return s.settleAgain(c, id, t, err)
	}
	com, err := s.Store.Commission(c.Request.Context(), id)
	if err != nil {
		return err
	}
	told, err := s.told(c.Request.Context(), com.ClientID)
	if err != nil {
		return err
	}
	s.note(c, "Signed off. "+told)
	return onward(c, sheetPath(sheet))
}
