package server

import (
	"encoding/json"
	"fmt"
	"net/http"
	"reflect"
	"slices"

	"github.com/gin-gonic/gin"

	"perchbook/fitting"
	"perchbook/orders"
)

// sheetView is a signed fit sheet, to print and take to the bench.
type sheetView struct {
	commissionHead
	Name, Signed, By, Note string
	Path                   string // of this page
	Large, Small           []sizes
	Hers, Moved            []overridden // Moved: by hers
	Cautions               []fitting.Note
	Bench                  []string
	Views                  []view
	Newer                  *sheetLink // a later sheet takes this one's place
	Differs                bool       // from what the hat's figures give now
}

// overridden is a figure that the milliner set herself, or that was advised anew to suit those.
type overridden struct{ Name, Settled, Proposed string }

// benchCautions are the usual cautions of the trade (common practice). Local rules come first.
var benchCautions = []string{
	"Steam and irons burn: hold the cloth with tongs or a cloth, keep hands and face out of the steam, let the hat cool before you turn it.",
	"Count pins and needles in and out. None stays in the hat.",
	"Stiffener and its fumes: open a window or use extraction, wear gloves, keep it from flame, and follow the maker’s sheet.",
	"Elastic too tight gives a headache and marks the skin. Try it on, and let it out rather than in.",
	"A brim hides part of the road and of the sky: tell the client that the hat comes off to drive or cycle.",
	"Where local rules or a maker’s instructions say more, they hold.",
}

func sheetPath(sh orders.FitSheet) string {
	return fmt.Sprintf("/workroom/commissions/%s/sheets/%d", sh.CommissionID, sh.Number)
}

// sheetName is the number said aloud: "26-014 / 2".
func sheetName(c orders.Commission, sh orders.FitSheet) string {
	return fmt.Sprintf("%s / %d", c.Number, sh.Number)
}

func (s *Server) showSheet(c *gin.Context) error {
	f, err := s.file(c.Request.Context(), c.Param("id"))
	if err != nil {
		return err
	}
	sheet, err := numbered(f.Sheets, c.Param("number"))
	if err != nil {
		return err
	}
	view, err := sheetOf(f, sheet)
	if err != nil {
		return fmt.Errorf("sheet %s: %w", sheet.ID, err)
	}
	s.render(c, http.StatusOK, "sheet", s.frame(c, "Fit sheet "+view.Name), view)
	return nil
}

func sheetOf(f file, sh orders.FitSheet) (sheetView, error) {
	in, settled, err := sh.Read()
	if err != nil {
		return sheetView{}, err
	}
	var proposed fitting.Result
	if err := json.Unmarshal(sh.Proposal, &proposed); err != nil {
		return sheetView{}, err
	}
	v := sheetView{
		commissionHead: headOf(f), Path: sheetPath(sh), Name: sheetName(f.Commission, sh), Signed: f.when(sh.Signed), By: sh.SignedBy,
		Note: sh.Note, Cautions: settled.Cautions, Bench: benchCautions, Views: sheetViews(in, drawViews),
	}
	for _, part := range sizesOf(settled) {
		v.Large = append(v.Large, part.only(true))
		v.Small = append(v.Small, part.only(false))
	}
	none := func(p sizes) bool { return len(p.Rows) == 0 }
	v.Large, v.Small = slices.DeleteFunc(v.Large, none), slices.DeleteFunc(v.Small, none)
	asProposed := orders.Fitted{Proposal: fitting.Solution{Result: proposed}}
	for _, g := range figures {
		if kept, ok := sh.Figures[g.Key]; ok {
			v.Hers = append(v.Hers, overridden{g.Name, g.say(kept), g.say(g.proposed(asProposed))})
		} else if now := g.moved(proposed, settled); now != "" {
			v.Moved = append(v.Moved, overridden{g.Name, now, g.say(g.in(proposed))})
		}
	}
	for i, other := range f.Sheets {
		if other.Number > sh.Number {
			v.Newer = &sheetsOf(f)[i]
		}
	}
	v.Differs = v.Newer == nil && differsNow(f, settled)
	return v, nil
}

// differsNow says whether a signed result reads otherwise at the bench than what the tapes, answers
// and figures that are there now give. A hat that has left the workroom is past that.
func differsNow(f file, signed fitting.Result) bool {
	if f.Stage.Closed() || f.Stage == orders.HandedOver {
		return false
	}
	return f.Fitted.Broken != nil || !reflect.DeepEqual(sizesOf(signed), sizesOf(f.Fitted.Settled.Result))
}

// newestOf is the sheet to cut from, nil before any is signed, and whether it still agrees.
func newestOf(f file) (newest *sheetLink, differs bool, err error) {
	if len(f.Sheets) == 0 {
		return nil, false, nil
	}
	links := sheetsOf(f)
	_, signed, err := f.Sheets[len(links)-1].Read()
	return &links[len(links)-1], differsNow(f, signed), err
}

// only keeps the figures read while cutting, or the others.
func (p sizes) only(large bool) sizes {
	p.Rows = slices.DeleteFunc(slices.Clone(p.Rows), func(r size) bool { return r.Large != large })
	return p
}

// sheetViews draws the hat as it was signed off.
func sheetViews(in fitting.Input, draw func(fitting.Solution) []view) []view {
	sol, err := fitting.Solve(in)
	if err != nil {
		return nil // signed under an older engine; the figures stand without the drawing
	}
	return draw(sol)
}
