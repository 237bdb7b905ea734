package server

import (
	"fmt"
	"net/http"
	"strconv"
	"time"

	"github.com/gin-gonic/gin"

	"perchbook/orders"
)

// weeksView is the bench week by week, each drawn and said beside the drawing.
type weeksView struct {
	Usual, Unsaid bool // nobody has set the lead times; no hours are set
	Pages         []filter
	Rows          []weekRow
	Late          []markLink // before this week
	LateMore      int
	Legend        []shape
}

// A weekRow is one week: drawn, and the same in words.
type weekRow struct {
	ID, Week, Taken, Free, Asked string
	Over                         bool
	Drawing                      tapeDrawing
	Marks                        []markLink
	More                         int
}

type markLink struct {
	Href, Day, Number, Client, What string
	Late                            bool
}

const (
	weeksShown = 12  // on one page
	weekPages  = 8   // nearly two years
	marked     = 150 // commissions whose dates are marked on one page
	rowMarks   = 12  // named in the words of one week
)

func (s *Server) showWeeks(c *gin.Context) error {
	ctx := c.Request.Context()
	page, err := strconv.Atoi(c.Query("page"))
	if err != nil || page < 0 || page >= weekPages {
		page = 0
	}
	p, err := s.Store.Plan(ctx)
	if err != nil {
		return err
	}
	weeks, marks, err := s.Store.Weeks(ctx, p, page*weeksShown, weeksShown, marked)
	if err != nil {
		return err
	}
	v := weeksView{Usual: p.Pace.Version == 0, Unsaid: p.Pace.WeekMinutes == 0, Legend: shapes}
	for i := range weekPages {
		at := orders.Monday(p.Today).AddDate(0, 0, 7*weeksShown*i)
		if i <= page+1 {
			v.Pages = append(v.Pages, filter{Href: fmt.Sprintf("/workroom/weeks?page=%d", i), Label: "From " + at.Format(dayInWords), Here: i == page})
		}
	}
	late := before(marks, weeks[0].Monday)
	v.Late, v.LateMore = linksOf(late, "Mon 2 January")
	longest := longestWeek(p, weeks)
	for _, w := range weeks {
		here := within(marks, w.Monday)
		row := rowOf(w, here, v.Unsaid)
		row.Drawing = drawWeek(p, w, longest, here)
		v.Rows = append(v.Rows, row)
	}
	s.render(c, http.StatusOK, "weeks", s.frame(c, "Weeks"), v)
	return nil
}

func before(marks []orders.Mark, monday time.Time) (some []orders.Mark) {
	for _, m := range marks {
		if m.By.Before(monday) {
			some = append(some, m)
		}
	}
	return some
}

func within(marks []orders.Mark, monday time.Time) (some []orders.Mark) {
	for _, m := range marks {
		if !m.By.Before(monday) && m.By.Before(monday.AddDate(0, 0, 7)) {
			some = append(some, m)
		}
	}
	return some
}

func rowOf(w orders.Week, marks []orders.Mark, unsaid bool) weekRow {
	r := weekRow{ID: "week-" + w.Monday.Format(time.DateOnly), Week: w.Monday.Format(dayInWords), Taken: benchHours(w.Taken), Over: !unsaid && w.Free() < 0}
	if w.Asked > 0 {
		r.Asked = benchHours(w.Asked)
	}
	switch {
	case unsaid:
		r.Free = "not said"
	case r.Over:
		r.Free = benchHours(-w.Free()) + " too much"
	default:
		r.Free = benchHours(w.Free())
	}
	r.Marks, r.More = linksOf(marks, "Mon 2")
	return r
}

func linksOf(marks []orders.Mark, layout string) (links []markLink, more int) {
	for i, m := range marks {
		if i == rowMarks {
			return links, len(marks) - i
		}
		links = append(links, markLink{
			Href: "/workroom/commissions/" + m.ID, Day: m.By.Format(layout), Number: m.Number, Client: m.ClientName,
			What: shapeOf(m.Milestone).Name, Late: m.Late,
		})
	}
	return links, 0
}
