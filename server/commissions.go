package server

import (
	"net/http"
	"net/url"
	"slices"
	"strings"

	"github.com/gin-gonic/gin"

	"perchbook/orders"
)

// commissionList is one page of the commissions, of one stage or all open ones.
type commissionList struct {
	Empty         bool
	Filters       []filter
	Heading       string
	Total         int
	Rows          []commissionRow
	Earlier, Next string // addresses of the pages beside this one; "" at the ends
	Begin         string // address at which a client begins
}

// A commissionRow is one commission in a list.
type commissionRow struct {
	Href, Number, Client, Occasion, Day, Left, Stage, Words string
	Soon, Late                                              bool
	Act                                                     nextStep // what it waits for; empty when for nothing
}

type filter struct {
	Href, Label string
	Count       int
	Here        bool
}

// closed are the stages in which nothing waits for anyone.
var closed = []orders.Stage{orders.HandedOver, orders.Withdrawn, orders.Lapsed}

// pageful is how many commissions stand on one page of the list.
const pageful = 50

func (s *Server) showCommissions(c *gin.Context) error {
	ctx := c.Request.Context()
	only := orders.Stage(c.Query("stage"))
	if !slices.Contains(orders.Stages, only) {
		only = ""
	}
	from, back := c.Query("after"), false
	if before := c.Query("before"); before != "" {
		from, back = before, true
	}
	list, err := s.Store.List(ctx, only, from, back, pageful)
	if err != nil {
		return err
	}
	standing, err := s.Store.Standing(ctx)
	if err != nil {
		return err
	}
	d, err := s.desk(ctx)
	if err != nil {
		return err
	}
	view := commissionList{Empty: len(standing) == 0, Filters: stageFilters(standing, only), Begin: s.Store.Origin() + "/"}
	for _, f := range view.Filters {
		if f.Here {
			view.Heading, view.Total = f.Label, f.Count
		}
	}
	for _, commission := range list.Commissions {
		view.Rows = append(view.Rows, d.row(commission))
	}
	view.Earlier, view.Next = listPath(only, "before", list.Before), listPath(only, "after", list.After)
	s.render(c, http.StatusOK, "commissions", s.frame(c, "Commissions"), view)
	return nil
}

// listPath is the address of a part of the list; "" when there is nothing to go on from.
func listPath(only orders.Stage, way, id string) string {
	if id == "" {
		return ""
	}
	q := url.Values{way: {id}}
	if only != "" {
		q.Set("stage", string(only))
	}
	return "/workroom/commissions?" + q.Encode()
}

func stageFilters(standing map[orders.Stage]int, only orders.Stage) []filter {
	open := 0
	for st, n := range standing {
		if !slices.Contains(closed, st) {
			open += n
		}
	}
	list := []filter{{"/workroom/commissions", "All open", open, only == ""}}
	for _, st := range orders.Stages {
		if standing[st] > 0 || st == only {
			list = append(list, filter{"/workroom/commissions?stage=" + url.QueryEscape(string(st)), title(string(st)), standing[st], st == only})
		}
	}
	return list
}

// shortened is the beginning of a letter, for a list.
func shortened(text string) string {
	const most = 120
	r := []rune(strings.Join(strings.Fields(text), " "))
	if len(r) > most {
		return string(r[:most-1]) + "…"
	}
	return string(r)
}

func (d desk) row(c orders.Commission) commissionRow {
	left, soon := d.left(c)
	return commissionRow{
		Href: "/workroom/commissions/" + c.ID, Number: c.Number, Client: c.ClientName, Occasion: shown("occasion", c.Occasion),
		Day: d.written(c.Day), Left: left, Soon: soon, Stage: string(c.Stage),
	}
}
