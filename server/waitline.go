package server

import (
	"net/http"

	"github.com/gin-gonic/gin"

	"perchbook/orders"
)

// waitlineView is who waits for an hour to fall free, in the order in which they are asked.
type waitlineView struct {
	Turns       []turnView
	Total, More int
	Zone        string
}

type turnView struct {
	Href, Number, Client, Waits, Since string
	Offer, Until                       string // "" while nothing is offered
	Book, Stop                         string // addresses
}

// mostTurns is how many of those who wait stand on the page.
const mostTurns = 50

func (s *Server) showWaitline(c *gin.Context) error {
	ctx := c.Request.Context()
	d, err := s.desk(ctx)
	if err != nil {
		return err
	}
	line, total, err := s.Store.WaitLine(ctx, mostTurns)
	if err != nil {
		return err
	}
	v := waitlineView{Total: total, More: total - len(line), Zone: d.zone.String()}
	for _, t := range line {
		row := turnView{
			Href: "/workroom/commissions/" + t.CommissionID, Number: t.CommissionNumber, Client: t.ClientName,
			Waits: title(t.Kind) + ", " + t.Place, Since: d.when(t.Since),
			Book: "/workroom/diary?for=" + t.CommissionID + "&kind=" + t.Kind, Stop: "/workroom/diary/waiting/" + t.CommissionID + "/stop",
		}
		if t.Offer != nil {
			row.Offer, row.Until = d.when(t.Offer.Start), d.when(t.Offer.Expires)
		}
		v.Turns = append(v.Turns, row)
	}
	s.render(c, http.StatusOK, "waitline", s.frame(c, "Who waits"), v)
	return nil
}

// addToWaitline puts a commission into the line for the milliner, as its client does on her page.
func (s *Server) addToWaitline(c *gin.Context) error {
	d, err := s.desk(c.Request.Context())
	if err != nil {
		return err
	}
	q := diaryQuery{forID: c.PostForm("for"), kind: c.PostForm("kind"), place: c.PostForm("place")}
	if err := s.Store.WaitFor(c.Request.Context(), q.forID, q.kind, q.place); err != nil {
		return s.bookAgain(c, d, q, err)
	}
	s.note(c, "In the line of those who wait. When an hour falls free, a letter offers it in turn.")
	return onward(c, "/workroom/diary/waiting")
}

func (s *Server) takeOffWaitline(c *gin.Context) error {
	com, err := s.Store.Commission(c.Request.Context(), c.Param("id"))
	if err != nil {
		return err
	}
	if err := s.Store.StopWaiting(c.Request.Context(), com.ID); err != nil {
		return err
	}
	s.note(c, com.Number+" waits no more. What was offered has gone to the next.")
	return onward(c, "/workroom/diary/waiting")
}

// A keptHour is an hour in the diary that is kept for a client who has not decided.
type keptHour struct{ Href, Hours, Kind, Place, Client, Number, Words string }

func (d desk) keptHour(h orders.HeldHour) keptHour {
	words := "kept while the client decides, until "
	if h.Offered {
		words = "fell free and is offered, until "
	}
	return keptHour{
		Href: "/workroom/commissions/" + h.CommissionID, Hours: h.Start.In(d.zone).Format(onTheClock) + "–" + h.End.In(d.zone).Format(onTheClock),
		Kind: title(h.Kind), Place: h.Place, Client: h.ClientName, Number: h.CommissionNumber, Words: words + d.when(h.Expires),
	}
}
