package server

import (
	"context"
	"net/http"
	"slices"
	"time"

	"github.com/gin-gonic/gin"

	"perchbook/orders"
)

// todayView is the first page of the workroom: what there is to do, each one step from doing it.
type todayView struct {
	Empty  bool
	Begin  string // address at which a client begins
	Date   string
	Today  []appointmentRow
	Next   []appointmentRow
	Groups []todayGroup
	Erased []string // commissions that their clients have erased lately, in words
}

// A todayGroup is what waits for one kind of action; More is how many are not shown.
type todayGroup struct {
	ID, Heading, Lead string
	Rows              []commissionRow
	Total, More       int
	All               nextStep // where all of them are; empty when they come up one after the other
}

// most is how many of a kind stand on the page, so that it stays one page however busy the workroom.
const most = 6

func (s *Server) showToday(c *gin.Context) error {
	ctx := c.Request.Context()
	d, err := s.desk(ctx)
	if err != nil {
		return err
	}
	v := todayView{Date: d.now.Format("Monday, 2 January 2006"), Begin: s.Store.Origin() + "/"}
	begun, err := s.Store.Begun(ctx)
	if err != nil {
		return err
	}
	v.Empty = !begun
	if err := s.fillHours(ctx, &v, d); err != nil {
		return err
	}
	erased, err := s.Store.ErasedByClients(ctx, d.now.AddDate(0, 0, -14))
	if err != nil {
		return err
	}
	for _, e := range erased {
		v.Erased = append(v.Erased, e.Number+" on "+d.date(e.At))
	}
	for _, group := range []func(context.Context, desk) (todayGroup, error){s.toAnswer, s.toMove, s.due, s.toSettle, s.toCopy, s.toMeasure, s.toDecide} {
		g, err := group(ctx, d)
		if err != nil {
			return err
		}
		if len(g.Rows) > 0 {
			g.More = g.Total - len(g.Rows)
			v.Groups = append(v.Groups, g)
		}
	}
	s.render(c, http.StatusOK, "today", s.frame(c, "Today"), v)
	return nil
}

// fillHours takes the appointments of today, and the next ones after it.
func (s *Server) fillHours(ctx context.Context, v *todayView, d desk) error {
	year, month, day := d.now.Date()
	start := time.Date(year, month, day, 0, 0, 0, 0, d.zone)
	coming, err := s.Store.Coming(ctx, start, 20)
	if err != nil {
		return err
	}
	after := slices.IndexFunc(coming, func(a orders.Appointment) bool { return !a.Start.Before(start.AddDate(0, 0, 1)) })
	if after < 0 {
		after = len(coming)
	}
	v.Today = d.appointments(coming[:after])
	v.Next = d.appointments(coming[after:min(after+3, len(coming))])
	return nil
}

func (s *Server) toAnswer(ctx context.Context, d desk) (todayGroup, error) {
	g := todayGroup{ID: "to-answer", Heading: "Letters to answer", Lead: "The longest wait first."}
	list, total, err := s.Store.ToAnswer(ctx, most)
	g.Total = total
	for _, w := range list {
		row := d.row(w.Commission)
		row.Words, row.Act = "“"+shortened(w.Body)+"”", nextStep{Href: row.Href + "#letters", Label: "Read and answer"}
		g.Rows = append(g.Rows, row)
	}
	return g, err
}

func (s *Server) toMove(ctx context.Context, d desk) (todayGroup, error) {
	g := todayGroup{ID: "asked", Heading: "Asked to move", Lead: "Find another hour, or answer.", All: nextStep{Href: "/workroom/diary", Label: "Look into the diary"}}
	list, total, err := s.Store.MovesAsked(ctx, most)
	g.Total = total
	for _, a := range list {
		row := commissionRow{
			Href: "/workroom/commissions/" + a.CommissionID, Number: a.CommissionNumber, Client: a.ClientName,
			Occasion: title(a.Kind), Day: d.when(a.Start), Stage: stateOfHour[a.State],
			Act: nextStep{Href: "/workroom/diary/appointments/" + a.ID, Label: "Find another hour"},
		}
		if a.Wish != "" {
			row.Words = "“" + shortened(a.Wish) + "”"
		}
		g.Rows = append(g.Rows, row)
	}
	return g, err
}

func (s *Server) due(ctx context.Context, d desk) (todayGroup, error) {
	g := todayGroup{ID: "due", Heading: "Due or late", Lead: "Counted back from the day each hat is worn.", All: nextStep{Href: "/workroom/weeks", Label: "Look at the weeks"}}
	p, err := s.Store.Plan(ctx)
	if err != nil {
		return g, err
	}
	list, total, err := s.Store.Due(ctx, p, most)
	g.Total = total
	for _, c := range list {
		st, row := p.Standing(c), d.row(c.Commission)
		row.Words, row.Act, row.Late = riskSentence(st), dueStep(c, st), st.Risk != orders.ThisWeek
		g.Rows = append(g.Rows, row)
	}
	return g, err
}

func (s *Server) toSettle(ctx context.Context, d desk) (todayGroup, error) {
	g := todayGroup{ID: "to-settle", Heading: "Proposals to settle", Lead: "Measured; look at the proposal and sign it off.",
		All: nextStep{Href: "/workroom/commissions?stage=measured", Label: "All that are measured"}}
	return s.standing(ctx, d, g, orders.Measured, "/settle", "Settle the hat")
}

func (s *Server) toMeasure(ctx context.Context, d desk) (todayGroup, error) {
	g := todayGroup{ID: "new", Heading: "New", Lead: "Enquiries whose tapes are still wanting.",
		All: nextStep{Href: "/workroom/commissions?stage=enquiry", Label: "All enquiries"}}
	return s.standing(ctx, d, g, orders.Enquiry, "/measure", "Write a measure card")
}

// standing fills a group with the commissions at one stage.
func (s *Server) standing(ctx context.Context, d desk, g todayGroup, stage orders.Stage, page, action string) (todayGroup, error) {
	list, total, err := s.Store.In(ctx, stage, most)
	g.Total = total
	for _, c := range list {
		row := d.row(c.Commission)
		row.Act = nextStep{Href: row.Href + page, Label: action}
		g.Rows = append(g.Rows, row)
	}
	return g, err
}

func (s *Server) toCopy(ctx context.Context, d desk) (todayGroup, error) {
	g := todayGroup{ID: "to-copy", Heading: "Letters to send by hand", Lead: "These clients are written to by hand, or a letter to them did not arrive."}
	list, total, err := s.Store.ToCopyOut(ctx, most)
	g.Total = total
	for _, w := range list {
		row := d.row(w.Commission)
		row.Act = nextStep{Href: row.Href + "#letters", Label: "Send " + count(w.N, "letter", "letters")}
		g.Rows = append(g.Rows, row)
	}
	return g, err
}
