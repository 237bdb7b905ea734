package server

import (
	"context"
	"net/http"
	"slices"

	"github.com/gin-gonic/gin"

	"perchbook/orders"
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
	Appointments []appointmentRow
	Letters      letterBook
	History      []moveRow
	Moves        moveForm
	Link         string
	Settled      []sheetLink
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

type nextStep struct{ Href, Label, Words string }

type answerRow struct {
	Name, Value, Said string
	Kept              bool // an unlikely value that the client was asked about and kept
}

type photoLink struct{ Src, Words string }

type moveRow struct{ Words, When, By, Why string }

type sheetLink struct {
	Href, Label, When, By string
}

// A file is everything kept about one commission.
type file struct {
	desk
	orders.Commission
	Client  orders.Client
	Draft   orders.Draft
	Cards   []orders.MeasureCard
	Fitted  orders.Fitted
	Sheets  []orders.FitSheet
	Booked  []orders.Appointment
	Letters []orders.Letter
	History []orders.Move
}

// file reads a commission with all that belongs to it.
func (s *Server) file(ctx context.Context, id string) (f file, err error) {
	read := func(step func() error) {
		if err == nil {
			err = step()
		}
	}
	read(func() (e error) { f.Commission, e = s.Store.Commission(ctx, id); return })
	read(func() (e error) { f.desk, e = s.desk(ctx); return })
	read(func() (e error) { f.Client, e = s.Store.Client(ctx, f.ClientID); return })
	read(func() (e error) { f.Draft, e = s.Store.Draft(ctx, f.DraftID); return })
	read(func() (e error) { f.Cards, e = s.Store.Cards(ctx, id); return })
	read(func() (e error) { f.Fitted, e = s.Store.Fitted(ctx, id); return })
	read(func() (e error) { f.Sheets, e = s.Store.Sheets(ctx, id); return })
	read(func() (e error) { f.Booked, e = s.Store.Appointments(ctx, id); return })
	read(func() (e error) { f.Letters, e = s.Store.Letters(ctx, f.ClientID); return })
	read(func() (e error) { f.History, e = s.Store.History(ctx, id); return })
	return f, err
}

func (s *Server) showCommission(c *gin.Context) error {
	f, err := s.file(c.Request.Context(), c.Param("id"))
	if err != nil {
		return err
	}
	return s.commissionPage(c, http.StatusOK, f, typed{})
}

// typed is what was typed into the forms of a commission's page and could not be taken.
type typed struct {
	Move, Letter *orders.Problem
	To, Why      string
	Body         string
}

func (s *Server) commissionPage(c *gin.Context, status int, f file, t typed) error {
	letters, err := s.letterBook(c.Request.Context(), f, t)
	if err != nil {
		return err
	}
	moves := moveFormOf(f, t)
	view := commissionView{
		commissionHead: headOf(f), Next: nextOf(f), Settle: summaryOf(f), Cards: cardsOf(f), Photos: photosOf(f),
		Appointments: f.appointments(f.Booked), Letters: letters, History: historyOf(f), Moves: moves,
		Link: s.Store.Origin() + orders.CommissionPath + s.Store.CommissionLink(f.Commission), Settled: sheetsOf(f), Child: f.Fitted.Child,
		Problems: mends(moves.To, moves.Why, letters.Body),
	}
	view.Answers, view.Open = answersOf(f)
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

// nextOf says what the milliner does next with a commission.
func nextOf(f file) nextStep {
	base := "/workroom/commissions/" + f.ID
	booking := "/workroom/diary?for=" + f.ID
	if a, ok := f.coming(); ok && a.State == orders.MoveAsked {
		return nextStep{"/workroom/diary/appointments/" + a.ID, "Find another hour", "Asked to move: " + a.Kind + " on " + f.when(a.Start) + "."}
	} else if ok && a.Kind != orders.Consultation {
		return nextStep{"/workroom/diary/appointments/" + a.ID, "Look at the appointment", title(a.Kind) + " on " + f.when(a.Start) + ", " + stateOfHour[a.State] + "."}
	}
	switch f.Stage {
	case orders.Enquiry:
		if f.Fitted.Child {
			return nextStep{booking + "&kind=consultation", "Book a consultation", "A child’s head is measured and fitted by hand."}
		}
		if len(f.Fitted.Missing) > 0 {
			return nextStep{base + "/measure", "Write a measure card", "Tapes are wanting. Ask for them, or take them at the consultation."}
		}
		return nextStep{base + "/settle", "Look at the proposal", "The tapes are here."}
	case orders.Measured:
		return nextStep{base + "/settle", "Settle the hat", "Measured: look at the proposal, make it yours, sign it off."}
	case orders.Proposed:
		return nextStep{"#letters", "Write to the client", "The fit sheet is signed. Agree it with the client and ask for the deposit."}
	case orders.Agreed, orders.InHand:
		return nextStep{booking + "&kind=fitting", "Book the fitting", "Agreed: cut, make, and set a day for the fitting."}
	case orders.InFitting:
		return nextStep{"#move", "Move on", "At the fitting: then finish, or step back for another."}
	case orders.Finishing, orders.Ready:
		return nextStep{booking + "&kind=collection", "Book the collection", "Finishing check: no pin left in, wire ends covered, label at the centre back, elastic knots tight."}
	}
	return nextStep{}
}

// coming is the next appointment, and false when there is none.
func (f file) coming() (orders.Appointment, bool) {
	i := slices.IndexFunc(f.Booked, func(a orders.Appointment) bool { return a.State != orders.Cancelled && a.End.After(f.now) })
	if i < 0 {
		return orders.Appointment{}, false
	}
	return f.Booked[i], true
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
			rows = append(rows, answerRow{Name: q.Short, Value: q.Show(a), Said: saidOtherwise(q, a), Kept: a.Confirmed})
		}
	}
	return rows, open
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
		if m.From != "" {
			words = title(string(m.From)) + " → " + string(m.To)
		}
		by := m.By
		if by == orders.ByClient {
			by = "the client"
		}
		rows[i] = moveRow{words, f.when(m.At), by, m.Why}
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
