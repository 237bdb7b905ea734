package server

import (
	"context"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"time"

	"github.com/gin-gonic/gin"

	"perchbook/orders"
)

// commissionList is all commissions, by stage.
type commissionList struct {
	Empty   bool
	Waiting []commissionGroup
	Filters []filter
	Stages  []commissionGroup
	Begin   string // address at which a client begins
}

// A commissionGroup is commissions under one heading.
type commissionGroup struct {
	ID, Heading, Lead string
	Rows              []commissionRow
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

func (s *Server) showCommissions(c *gin.Context) error {
	ctx := c.Request.Context()
	all, err := s.Store.Commissions(ctx)
	if err != nil {
		return err
	}
	desk, err := s.desk(ctx)
	if err != nil {
		return err
	}
	view := commissionList{Empty: len(all) == 0, Begin: s.Store.Origin() + "/"}
	only := orders.Stage(c.Query("stage"))
	if !slices.Contains(orders.Stages, only) {
		only = ""
	}
	view.Filters = stageFilters(all, only)
	rest := all
	if only == "" {
		if view.Waiting, err = s.waiting(ctx, desk, all); err != nil {
			return err
		}
		rest = without(all, view.Waiting)
	}
	view.Stages = desk.byStage(rest, only)
	s.render(c, http.StatusOK, "commissions", s.frame(c, "Commissions"), view)
	return nil
}

// without are the commissions that do not stand in any of the groups.
func without(all []orders.Commission, groups []commissionGroup) []orders.Commission {
	return slices.DeleteFunc(slices.Clone(all), func(c orders.Commission) bool {
		return slices.ContainsFunc(groups, func(g commissionGroup) bool {
			return slices.ContainsFunc(g.Rows, func(r commissionRow) bool { return r.Number == c.Number })
		})
	})
}

func stageFilters(all []orders.Commission, only orders.Stage) []filter {
	count := map[orders.Stage]int{}
	open := 0
	for _, c := range all {
		count[c.Stage]++
		if !slices.Contains(closed, c.Stage) {
			open++
		}
	}
	list := []filter{{"/workroom/commissions", "All open", open, only == ""}}
	for _, st := range orders.Stages {
		if count[st] > 0 || st == only {
			list = append(list, filter{"/workroom/commissions?stage=" + url.QueryEscape(string(st)), title(string(st)), count[st], st == only})
		}
	}
	return list
}

// byStage groups the open commissions, or only those of one stage.
func (d desk) byStage(all []orders.Commission, only orders.Stage) []commissionGroup {
	var groups []commissionGroup
	for i, st := range orders.Stages {
		if only != "" && st != only || only == "" && slices.Contains(closed, st) {
			continue
		}
		g := commissionGroup{ID: fmt.Sprintf("stage-%d", i), Heading: title(string(st))}
		for _, c := range all {
			if c.Stage == st {
				g.Rows = append(g.Rows, d.row(c))
			}
		}
		if len(g.Rows) > 0 || only != "" {
			groups = append(groups, g)
		}
	}
	return groups
}

// waiting lists what waits for the milliner. One commission may stand under several headings.
func (s *Server) waiting(ctx context.Context, d desk, all []orders.Commission) ([]commissionGroup, error) {
	moves, err := s.askedToMove(ctx, d, all)
	if err != nil {
		return nil, err
	}
	toAnswer, toCopy, err := s.lettersWaiting(ctx, d, all)
	if err != nil {
		return nil, err
	}
	groups := []commissionGroup{
		{ID: "asked", Heading: "Asked to move", Lead: "Find another hour, or answer.", Rows: moves},
		{ID: "to-answer", Heading: "Letters to answer", Lead: "The client wrote last.", Rows: toAnswer},
		{ID: "to-settle", Heading: "To settle", Lead: "Measured; look at the proposal and sign it off.", Rows: d.waits(all, orders.Measured, "/settle", "Settle the hat")},
		{ID: "to-copy", Heading: "Letters to copy", Lead: "These clients have no chat: send the words your own way.", Rows: toCopy},
		{ID: "new", Heading: "New", Lead: "Enquiries whose tapes are still wanting.", Rows: d.waits(all, orders.Enquiry, "/measure", "Write a measure card")},
	}
	return slices.DeleteFunc(groups, func(g commissionGroup) bool { return len(g.Rows) == 0 }), nil
}

func (d desk) waits(all []orders.Commission, in orders.Stage, page, action string) []commissionRow {
	var rows []commissionRow
	for _, c := range all {
		if c.Stage == in {
			row := d.row(c)
			row.Act = nextStep{Href: row.Href + page, Label: action}
			rows = append(rows, row)
		}
	}
	return rows
}

// diaryReach is how far back and ahead the list looks for appointments that someone asked to move.
const diaryReach = 400 * 24 * time.Hour

func (s *Server) askedToMove(ctx context.Context, d desk, all []orders.Commission) ([]commissionRow, error) {
	booked, err := s.Store.Diary(ctx, d.now.Add(-diaryReach), d.now.Add(diaryReach))
	if err != nil {
		return nil, err
	}
	var rows []commissionRow
	for _, a := range booked {
		if a.State != orders.MoveAsked {
			continue
		}
		i := slices.IndexFunc(all, func(c orders.Commission) bool { return c.ID == a.CommissionID })
		if i < 0 {
			continue
		}
		row := d.row(all[i])
		row.Words, row.Act = title(a.Kind)+" on "+d.when(a.Start), nextStep{Href: "/workroom/diary/appointments/" + a.ID, Label: "Find another hour"}
		if a.Wish != "" {
			row.Words += ": “" + a.Wish + "”"
		}
		rows = append(rows, row)
	}
	return rows, nil
}

// lettersWaiting reads the letter books of the open commissions: those in which the client wrote last,
// and those with letters to copy.
func (s *Server) lettersWaiting(ctx context.Context, d desk, all []orders.Commission) (toAnswer, toCopy []commissionRow, err error) {
	for _, c := range all {
		if slices.Contains(closed, c.Stage) {
			continue
		}
		letters, err := s.Store.Letters(ctx, c.ClientID)
		if err != nil {
			return nil, nil, err
		}
		n, hers := 0, ""
		for _, l := range letters {
			if l.State == orders.ToCopy && l.CommissionID == c.ID {
				n++
			}
			switch {
			case l.Kind != orders.LetterTalk || l.CommissionID != "" && l.CommissionID != c.ID:
			case l.Out:
				hers = ""
			default:
				hers = l.Body
			}
		}
		row := d.row(c)
		if n > 0 {
			row.Act = nextStep{Href: row.Href + "#letters", Label: "Copy " + count(n, "letter", "letters")}
			toCopy = append(toCopy, row)
		}
		if hers != "" {
			row.Words, row.Act = "“"+shortened(hers)+"”", nextStep{Href: row.Href + "#letters", Label: "Read and answer"}
			toAnswer = append(toAnswer, row)
		}
	}
	return toAnswer, toCopy, nil
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
