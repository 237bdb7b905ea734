package server

import (
	"net/http"
	"slices"
	"strings"

	"github.com/gin-gonic/gin"

	"perchbook/orders"
	"perchbook/templates"
)

// commissionView is one commission as the milliner sees it.
type commissionView struct {
	commissionHead
	Problems     []mend
	Next         nextStep
	Settle       settleSummary
	Cards        []cardView
	Answers      []answerRow
	Open         []string // short names of what she was not asked or has not answered
	Photos       []photoLink
	Mirrored     string // where the client's own right is in them
	Plan         *planView
	Appointments []appointmentRow
	Money        []sum
	Letters      letterBook
	History      []moveRow
	Finishing    *finishingForm
	Moves        moveForm
	Link         string
	Settled      []sheetLink
	Newest       *sheetLink // the sheet to cut from
	Differs      bool       // from what the hat's figures give now
	Pending      *pending   // how it differs
	Child        bool
}

// commissionHead names a commission at the top of every page about it.
type commissionHead struct {
	ID, Base, Number, Client, Reach, Mail, Occasion, Day, Left, Stage, Came string
	Soon                                                                    bool
	Track                                                                   []stitch
}

// A stitch is one stage on the line that a commission runs along.
type stitch struct {
	Name, State string // State: "done", "here" or "ahead"
}

type answerRow struct {
	Name, Value, Said string
	Swatches          []string // of the colours among the answers, #rrggbb
	Kept              bool     // an unlikely value that the client was asked about and kept
}

type photoLink struct{ Src, Words string }

type moveRow struct{ Words, When, By, Why, PassedOver string }

type sheetLink struct {
	Href, Label, When, By string
}

func (s *Server) showCommission(c *gin.Context) error {
	f, err := s.file(c.Request.Context(), c.Param("id"))
	if err != nil {
		return err
	}
	begun, err := s.fromWording(c.Request.Context(), f.ID, c.Query("wording"))
	if err != nil {
		return err
	}
	return s.commissionPage(c, http.StatusOK, f, typed{Body: begun})
}

// typed is what was typed into the forms of a commission's page and could not be taken.
type typed struct {
	Move, Letter, Finishing *orders.Problem
	Note                    *orders.Problem
	Aside                   string
	To, Why                 string
	PassOver, Tell          bool
	Body                    string
}

func (s *Server) commissionPage(c *gin.Context, status int, f file, t typed) error {
	letters, err := s.letterBook(c.Request.Context(), f, t)
	if err != nil {
		return err
	}
	moves := moveFormOf(f, t)
	view := commissionView{
		commissionHead: headOf(f), Next: nextOf(f), Settle: summaryOf(f), Cards: cardsOf(f), Photos: photosOf(f), Mirrored: mirroredWords(f.Draft),
		Appointments: f.appointments(f.Booked), Letters: letters, History: historyOf(f), Finishing: finishingOf(f, t), Moves: moves,
		Link: s.Store.Origin() + orders.CommissionPath + s.Store.CommissionLink(f.Commission), Settled: sheetsOf(f), Child: f.Fitted.Child,
		Money: standing(templates.English, f.Account), Problems: mends(moves.To, moves.Why, letters.Body, letters.Enclosed, letters.Aside),
	}
	if t.Move == nil {
		if view.Moves.Wanted, err = s.Store.Wanted(c.Request.Context(), f.Commission, orders.Stage(moves.Usual)); err != nil {
			return err
		}
	}
	view.Answers, view.Open = answersOf(f)
	if t.Finishing != nil {
		view.Problems = append(view.Problems, mends(view.Finishing.field)...)
	}
	if view.Pending, err = pendingOf(f); err != nil {
		return err
	}
	if view.Newest, view.Differs, err = newestOf(f); err != nil {
		return err
	}
	if view.Plan, err = s.planOn(c.Request.Context(), f.ID); err != nil {
		return err
	}
	name := f.Number + ", " + f.Client.Name
	if len(view.Problems) > 0 {
		name = "Problem: " + name
	}
	s.render(c, status, "commission", s.frame(c, name), view)
	return nil
}

func headOf(f file) commissionHead {
	left, soon := f.left(f.Commission)
	h := commissionHead{
		ID: f.ID, Base: "/workroom/commissions/" + f.ID, Number: f.Number, Client: f.Client.Name, Reach: f.Client.Reach,
		Occasion: shown("occasion", f.Occasion), Day: f.written(f.Day), Left: left, Soon: soon, Stage: string(f.Stage),
		Came: cameBy(f), Track: track(f.Stage),
	}
	if isMail(f.Client.Reach) {
		h.Mail = f.Client.Reach
	}
	return h
}

func cameBy(f file) string {
	door := map[string]string{orders.DoorWeb: "by the web form", orders.DoorChat: "by chat", orders.DoorRehearsal: "by the rehearsal chat"}[f.Door]
	return "Came " + door + " on " + f.date(f.Made)
}

// track lays the stages out in a line. The two ways out are shown only when taken.
func track(now orders.Stage) []stitch {
	here := slices.Index(orders.Stages, now)
	var line []stitch
	for i, st := range orders.Stages {
		out := st == orders.Withdrawn || st == orders.Lapsed
		switch {
		case i == here:
			line = append(line, stitch{string(st), "here"})
		case out:
		case i < here && now != orders.Withdrawn && now != orders.Lapsed:
			line = append(line, stitch{string(st), "done"})
		default:
			line = append(line, stitch{string(st), "ahead"})
		}
	}
	return line
}

// answersOf lists what the client said, in the order of the questions, and what is still open.
func answersOf(f file) (rows []answerRow, open []string) {
	for _, q := range orders.Questions {
		a, ok := f.Draft.Answers[q.Key]
		switch {
		case q.Kind == orders.Photograph || q.Kind == orders.Consent || !q.Applies(f.Draft.Answers):
		case !ok || a.Value == "":
			open = append(open, q.Short)
		default:
			rows = append(rows, answerRow{Name: q.Short, Value: q.Show(a), Said: saidOtherwise(q, a), Swatches: swatchesOf(q, a), Kept: a.Confirmed})
		}
		if words := faceWords(f.Fitted); q.Key == "face" && words != "" {
			rows = append(rows, answerRow{Name: "Face, as read", Value: words})
		}
	}
	return rows, open
}

// swatchesOf are the colours that a client chose.
func swatchesOf(q orders.Question, a orders.Answer) []string {
	var all []string
	for _, value := range strings.Fields(a.Value) {
		if colour := q.Swatch(value); colour != "" {
			all = append(all, colour)
		}
	}
	return all
}

// saidOtherwise is what was typed when it reads differently from what was understood.
func saidOtherwise(q orders.Question, a orders.Answer) string {
	if measured := q.Kind == orders.Readings || q.Kind == orders.Length; !measured || a.Said == a.Value || a.Said == q.Show(a) {
		return ""
	}
	return a.Said
}

func historyOf(f file) []moveRow {
	rows := make([]moveRow, len(f.History))
	for i, m := range f.History {
		words := title(string(m.To))
		switch m.From {
		case "":
		case m.To:
			words = "The next fit sheet, at “" + string(m.To) + "”"
		default:
			words = title(string(m.From)) + " → " + string(m.To)
		}
		by := m.By
		switch by {
		case orders.ByClient:
			by = "the client"
		case orders.ByMaker:
			by = "the workroom"
		}
		rows[i] = moveRow{words, f.when(m.At), by, m.Why, m.PassedOver}
	}
	return rows
}

func sheetsOf(f file) []sheetLink {
	rows := make([]sheetLink, len(f.Sheets))
	for i, sh := range f.Sheets {
		rows[i] = sheetLink{sheetPath(sh), "Fit sheet " + sheetName(f.Commission, sh), f.when(sh.Signed), sh.SignedBy}
	}
	return rows
}
