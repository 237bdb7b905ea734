package server

import (
	"fmt"
	"net/http"
	"time"

	"github.com/gin-gonic/gin"

	"perchbook/orders"
)

// shoppingView is what to buy for the open commissions, to print and take along.
type shoppingView struct {
	Date      string
	Missing   []needRow
	Enough    []needRow
	More      int // rolls with enough that are not shown
	Notions   []string
	Unchosen  []lackRow
	Others    int // hats without a roll that are not shown
	NoLengths bool
}

// A needRow is one roll against what is reserved of it.
type needRow struct {
	rollCard
	Hats, Reserved string
	Missing        amount
	Order, Here    string // the latest days for the first hat that is short
	Late           bool
	Lacks          []lackRow
	Others         int // hats that are short too
}

// A lackRow is one hat that comes away short, or has no roll.
type lackRow struct {
	Href, Number, Client, Stage string
	Takes, Lacks                string
	Order, Here                 string
	Late                        bool
}

// How much stands on one page, however much is open.
const (
	lacksNamed   = 6
	needsShown   = 60
	unchosenMost = 20
)

func (s *Server) showShopping(c *gin.Context) error {
	ctx := c.Request.Context()
	p, err := s.Store.Plan(ctx)
	if err != nil {
		return err
	}
	needs, err := s.Store.Needs(ctx, p, lacksNamed)
	if err != nil {
		return err
	}
	hats, total, err := s.Store.Unchosen(ctx, p, unchosenMost)
	if err != nil {
		return err
	}
	notions, err := s.Store.Notions(ctx)
	if err != nil {
		return err
	}
	v := shoppingView{Date: p.Today.Format("Monday, 2 January 2006"), Others: total - len(hats), NoLengths: len(needs) == 0}
	for i, n := range needs {
		switch {
		case n.Missing() > 0:
			v.Missing = append(v.Missing, needOf(n, p))
		case i < needsShown:
			v.Enough = append(v.Enough, needOf(n, p))
		default:
			v.More++
		}
	}
	for _, h := range hats {
		row := lackOf(h, p)
		row.Href = "/workroom/commissions/" + h.ID + "/settle#o-" + orders.RollFigure
		v.Unchosen = append(v.Unchosen, row)
	}
	for _, n := range notions {
		if n.ToBuy {
			v.Notions = append(v.Notions, n.Name)
		}
	}
	s.render(c, http.StatusOK, "shopping", s.frame(c, "Shopping list"), v)
	return nil
}

func needOf(n orders.Need, p orders.Plan) needRow {
	row := needRow{rollCard: cardOfRoll(n.Of), Hats: count(n.Hats, "hat", "hats"), Reserved: metres(n.Reserved), Missing: rollAmount(n.Missing())}
	if n.Agreed < n.Hats {
		row.Hats += fmt.Sprintf(", %d agreed", n.Agreed)
	}
	for _, l := range n.Short {
		row.Lacks = append(row.Lacks, lackOf(l, p))
	}
	if len(n.Short) == lacksNamed {
		row.Others = n.Hats - lacksNamed // some of these have their cloth
	}
	if len(row.Lacks) > 0 {
		row.Order, row.Here, row.Late = row.Lacks[0].Order, row.Lacks[0].Here, row.Lacks[0].Late
	}
	return row
}

func lackOf(l orders.Lack, p orders.Plan) lackRow {
	row := lackRow{
		Href: fmt.Sprintf("/workroom/commissions/%s/sheets/%d", l.ID, l.Sheet), Number: l.Number, Client: l.ClientName, Stage: string(l.Stage),
		Takes: metres(l.Length), Lacks: metres(l.Lacks),
	}
	order, here := l.Dates(p)
	row.Order, row.Here, row.Late = dayOrNone(order), dayOrNone(here), !order.IsZero() && order.Before(p.Today)
	return row
}

func dayOrNone(day time.Time) string {
	if day.IsZero() {
		return ""
	}
	return day.Format(dayShort)
}
