package server

import (
	"errors"
	"net/http"
	"strconv"

	"github.com/gin-gonic/gin"

	"perchbook/fitting"
	"perchbook/orders"
)

// fittingView is the sheet on which a fitting is written down, at the fitting, and the notes so far.
type fittingView struct {
	commissionHead
	Problems      []mend
	Sheet         int
	Rows          []figureRow
	Reel          field
	Posted        bool
	Changed, Said field
	Comfort, Hold field
	Comforts      []stageChoice
	Holds         []stageChoice
	Photographs   field
	Notes         []notedView
}

// A notedView is one fitting note as it was kept.
type notedView struct {
	When, By, Changed, Comfort, Hold, Said string
	Posted                                 bool
	Rows                                   []size
	Photos                                 []photoLink
}

// fittingFigures are what is measured on the head, in the order in which one does it.
var fittingFigures = func() []figure {
	cut := figure{Key: "elastic.cut_mm", Name: "Elastic, cut", Hint: "As it was really cut, knots included.", Least: 100, Most: 900}
	list := []figure{cut}
	for _, g := range figures {
		if g.Advised != nil && g.Key != "hat.brim_width_mm" {
			list = append(list, g)
		}
	}
	return list
}()

func (s *Server) showFittingNote(c *gin.Context) error {
	return s.fittingPage(c, http.StatusOK, map[string]string{}, nil)
}

func (s *Server) fittingPage(c *gin.Context, status int, typed, problems map[string]string) error {
	f, err := s.file(c.Request.Context(), c.Param("id"))
	if err != nil {
		return err
	}
	v := fittingView{commissionHead: headOf(f), Sheet: len(f.Sheets), Posted: typed["posted"] != "", Notes: f.noted(f.Fittings)}
	var settled fitting.Result
	if v.Sheet > 0 {
		if _, settled, err = f.Sheets[v.Sheet-1].Read(); err != nil {
			return err
		}
	}
	if _, said := typed["reel"]; !said {
		typed["reel"] = settled.Elastic.Reel
	}
	for _, g := range fittingFigures {
		v.Rows = append(v.Rows, fittingRow(g, settled, typed, problems))
	}
	v.Reel = fill(field{Key: "reel", Label: "Elastic from the reel", Hint: "Its name; what is learned of one reel counts most for that one."}, typed, problems)
	v.Changed = fill(field{Key: "changed", Label: "What was changed", Hint: "Let out, moved, steamed again."}, typed, problems)
	v.Said = fill(field{Key: "said", Label: "What the client says"}, typed, problems)
	v.Comfort = fill(field{Key: "comfort", Label: "How it feels"}, typed, problems)
	v.Hold = fill(field{Key: "hold", Label: "How it holds"}, typed, problems)
	v.Comforts, v.Holds = oneOf(orders.Comforts, typed["comfort"]), oneOf(orders.Holds, typed["hold"])
	v.Photographs = fill(field{Key: "photographs", Label: "Photographs", Hint: "With the client’s consent, and seen in the workroom only. JPEG or PNG."}, nil, problems)
	var shown []field
	for _, r := range v.Rows {
		shown = append(shown, r.field)
	}
	v.Problems = mends(append(shown, v.Comfort, v.Hold, v.Reel, v.Changed, v.Said, v.Photographs)...)
	if made := problems["made"]; made != "" {
		v.Problems = append(v.Problems, mend{v.Rows[0].ID(), made})
	}
	name := "Fitting note, " + f.Number
	if len(v.Problems) > 0 {
		name = "Problem: " + name
	}
	s.render(c, status, "fitting", s.frame(c, name), v)
	return nil
}

// fittingRow is one figure with what the fit sheet has of it.
func fittingRow(g figure, settled fitting.Result, typed, problems map[string]string) figureRow {
	r := figureRow{field: fill(field{Key: g.Key, Label: g.Name, Hint: g.Hint}, typed, problems), Proposed: "none"}
	r.Heard = g.heard(typed[g.Key])
	var at float64
	if settled.Base.Diameter > 0 {
		at = settled.Elastic.Cut.Millimetres()
		if g.Advised != nil {
			at = g.Advised(settled)
		}
		r.Proposed = g.say(at)
	}
	switch typed[g.Key+".way"] {
	case "+":
		at = 1
	case "-":
		at = -1
	}
	r.ways(g, at)
	return r
}

func oneOf(words []string, chosen string) []stageChoice {
	list := make([]stageChoice, len(words))
	for i, w := range words {
		list[i] = stageChoice{w, title(w), w == chosen}
	}
	return list
}

func (f file) noted(notes []orders.FittingNote) []notedView {
	views := make([]notedView, len(notes))
	for i, n := range notes {
		v := notedView{When: f.when(n.Noted), By: n.By, Changed: n.Changed, Comfort: n.Comfort, Hold: n.Hold, Said: n.Said, Posted: n.Posted}
		for _, g := range fittingFigures {
			if real := n.Real.Figure(g.Key); real != nil {
				row := size{Name: g.Name, Amount: amount{Figure: g.say(*real)}}
				if was := n.Proposed.Figure(g.Key); was != nil {
					row.Remark = "the engine by itself: " + g.say(*was)
				}
				v.Rows = append(v.Rows, row)
			}
		}
		for j, id := range n.Photos {
			v.Photos = append(v.Photos, photoLink{Src: "/workroom/commissions/" + f.ID + "/fittings/" + id, Words: "Photograph " + strconv.Itoa(j+1) + " of the fitting on " + v.When})
		}
		views[i] = v
	}
	return views
}

func (s *Server) saveFittingNote(c *gin.Context) error {
	id := c.Param("id")
	typed, problems := map[string]string{}, map[string]string{}
	for _, key := range []string{"reel", "posted", "changed", "said", "comfort", "hold"} {
		typed[key] = tidy(c.PostForm(key))
	}
	n := orders.FittingNote{
		CommissionID: id, Reel: typed["reel"], Posted: typed["posted"] != "", Changed: typed["changed"], Said: typed["said"], Comfort: typed["comfort"], Hold: typed["hold"],
	}
	for _, g := range fittingFigures {
		typed[g.Key], typed[g.Key+".way"] = tidy(c.PostForm(g.Key)), c.PostForm(g.Key+".way")
		if typed[g.Key] == "" {
			continue
		}
		x, problem := g.parse(typed[g.Key], s.Now())
		if problem != "" {
			problems[g.Key] = problem
		}
		if typed[g.Key+".way"] == "-" {
			x = -x
		}
		n.Real.Set(g.Key, x)
	}
	uploads, err := uploadedAll(c, "photographs")
	if err != nil {
		problems["photographs"] = "The photographs did not arrive whole, or one is larger than 12 MB. Choose them once more."
	}
	if len(problems) > 0 {
		return s.fittingPage(c, http.StatusUnprocessableEntity, typed, problems)
	}
	_, err = s.Store.NoteFitting(c.Request.Context(), n, uploads, s.maker(c))
	if p, ok := asProblem(err); ok {
		return s.fittingPage(c, http.StatusUnprocessableEntity, typed, map[string]string{p.Key: p.Text})
	}
	if err != nil {
		return err
	}
	s.note(c, "The fitting is written down. What it taught stands under “What was learned”.")
	return onward(c, "/workroom/commissions/"+id+"/fitting#notes")
}

// uploadedAll reads the files of a form's field; none is no error.
func uploadedAll(c *gin.Context, key string) ([][]byte, error) {
	form, err := c.MultipartForm()
	if errors.Is(err, http.ErrNotMultipart) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	var all [][]byte
	for _, header := range form.File[key] {
		body, err := readUpload(header)
		if err != nil {
			return nil, err
		}
		if len(body) > 0 { // a field left empty sends an empty file
			all = append(all, body)
		}
	}
	return all, nil
}

func (s *Server) showFittingPhoto(c *gin.Context) error {
	jpeg, err := s.Store.FittingPhoto(c.Request.Context(), c.Param("id"), c.Param("photo"))
	if err != nil {
		return err
	}
	return photograph(c, jpeg)
}
