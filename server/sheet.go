package server

import (
	"encoding/json"
	"fmt"
	"html/template"
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
	Cutting                cuttingSheet
	Held                   []rollRow // of rolls
	Problems               []mend
	Code                   template.HTML // to open this page on the phone; "" where only this machine can
	Sizes                  []sizes
	Hers, Moved            []overridden // Moved: by hers
	Views                  []view
	Newer                  *sheetLink // a later sheet takes this one's place
	Former                 *sheetLink // this one takes its place
	Why                    string     // it does
	Changes                []change   // against the former
	Differs                bool       // from what the hat's figures give now
}

// overridden is a figure that the milliner set herself, or that was advised anew to suit those.
type overridden struct{ Name, Settled, Proposed string }

// sheetRoute is the address of a sheet under the workroom's.
const sheetRoute = "/workroom/commissions/:id/sheets/:number"

func sheetPath(sh orders.FitSheet) string {
	return fmt.Sprintf("/workroom/commissions/%s/sheets/%d", sh.CommissionID, sh.Number)
}

// sheetName is the number said aloud: "26-014 / 2".
func sheetName(c orders.Commission, sh orders.FitSheet) string {
	return fmt.Sprintf("%s / %d", c.Number, sh.Number)
}

func (s *Server) showSheet(c *gin.Context) error { return s.sheetAgain(c, http.StatusOK, cutTyped{}) }

// sheetAgain shows a sheet, with a cut that could not be taken.
func (s *Server) sheetAgain(c *gin.Context, status int, t cutTyped) error {
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
	if s.PublicURL != "" {
		view.Code = codeOf(s.Store.Origin() + view.Path)
	}
	view.Held = fromRolls(f, sheet.Number, t)
	name := "Fit sheet " + view.Name
	if t.Problem != "" {
		if !slices.ContainsFunc(view.Held, func(r rollRow) bool { return r.Entry == t.Entry }) {
			return orders.ErrNotFound
		}
		view.Problems, name = []mend{{"f-cut-" + t.Entry, t.Problem}}, "Problem: "+name
	}
	s.render(c, status, "sheet", s.frame(c, name), view)
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
		Note: sh.Note, Cutting: cuttingSheetOf(in, settled), Sizes: sizesOf(settled), Views: sheetViews(in, drawViews),
	}
	asProposed := orders.Fitted{Proposal: fitting.Solution{Result: proposed}, Materials: reelSigned(sh, in), Rolls: f.Fitted.Rolls}
	for _, g := range figuresOf(asProposed) {
		if kept, ok := sh.Figures[g.Key]; ok {
			hers := overridden{g.Name, g.say(kept), g.say(g.proposed(asProposed))}
			if g.Measure == inList || g.Measure == inWords {
				hers.Proposed = "" // the workroom's usual one may have been another then; a proposal stands against its like
			}
			v.Hers = append(v.Hers, hers)
		} else if now := g.moved(proposed, settled); now != "" {
			v.Moved = append(v.Moved, overridden{g.Name, now, g.say(g.in(proposed))})
		}
	}
	for i, other := range f.Sheets {
		if other.Number > sh.Number {
			v.Newer = &sheetsOf(f)[i]
		}
	}
	if err := v.against(f, sh); err != nil {
		return v, err
	}
	v.Differs = v.Newer == nil && differsNow(f, settled)
	return v, nil
}

// against says what this sheet changes of the one before it.
func (v *sheetView) against(f file, sh orders.FitSheet) error {
	for i, other := range f.Sheets {
		if other.Number != sh.Number-1 {
			continue
		}
		was, err := standOf(other)
		if err != nil {
			return err
		}
		is, err := standOf(sh)
		if err != nil {
			return err
		}
		v.Former, v.Why, v.Changes = &sheetsOf(f)[i], sh.Why, changesBetween(figuresOf(f.Fitted), was, is)
	}
	return nil
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

// sheetViews draws the hat as it was signed off.
func sheetViews(in fitting.Input, draw func(fitting.Solution) []view) []view {
	sol, err := fitting.Solve(in)
	if err != nil {
		return nil // signed under an older engine; the figures stand without the drawing
	}
	return draw(sol)
}
