package server

import (
	"context"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"time"

	"github.com/gin-gonic/gin"

	"perchbook/orders"
)

// diaryView is one week of the diary, and what is being booked in it, if anything.
type diaryView struct {
	Heading, Zone, Earlier, Later, Now string
	Notice                             string // why the nearest hours are not offered
	Problems                           []mend
	Booking                            *bookingView
	Days                               []dayView
	Week                               string // 2027-06-07, its Monday
	Keep                               []pair // kept when another week is chosen
	Waiting                            int    // how many wait for an hour to fall free
}

type pair struct{ Name, Value string }

// A dayView is one day: appointments and free time in order.
type dayView struct {
	Name, Date, Hours string
	Today, Past       bool
	Entries           []entry
}

// An entry is an appointment, an hour kept for a client, a stretch of free time, or an hour to choose.
type entry struct {
	Appointment *appointmentRow
	Kept        *keptHour
	Free        string
	Choice      *stageChoice
	at          time.Time
}

// An appointmentRow is one appointment in a list.
type appointmentRow struct {
	Href, Commission, When, Day, Hours, Kind, Place, Client, Number, State, Wish string
	Past, Asked, Gone                                                            bool
}

// diaryQuery is what the address of the diary asks for.
type diaryQuery struct {
	monday        time.Time
	forID, moveID string
	kind, place   string
	start, on, at string
	problem       *orders.Problem
}

func (s *Server) showDiary(c *gin.Context) error {
	d, err := s.desk(c.Request.Context())
	if err != nil {
		return err
	}
	return s.diaryPage(c, http.StatusOK, d, diaryQuery{
		monday: d.weekOf(c.Query("week")), forID: c.Query("for"), moveID: c.Query("move"), kind: c.Query("kind"),
	})
}

// weekOf is the Monday of the week in which a day lies; of this week when that is no day at all.
func (d desk) weekOf(day string) time.Time {
	t, err := time.ParseInLocation(time.DateOnly, day, d.zone)
	if err != nil || t.Year() < 2000 || t.Year() > 2200 {
		t = d.now
	}
	back := (int(t.Weekday()) + 6) % 7
	return time.Date(t.Year(), t.Month(), t.Day()-back, 0, 0, 0, 0, d.zone)
}

func (s *Server) diaryPage(c *gin.Context, status int, d desk, q diaryQuery) error {
	ctx := c.Request.Context()
	view := diaryView{
		Heading: weekWords(q.monday), Zone: d.zone.String(), Week: q.monday.Format(time.DateOnly),
		Earlier: q.week(-7), Later: q.week(7), Now: q.link(d.weekOf("")),
	}
	if n := d.studio.NoticeHours; n > 0 && q.monday.Before(d.now.Add(time.Duration(n)*time.Hour)) && q.monday.AddDate(0, 0, 7).After(d.now) {
		view.Notice = "Free hours begin after the least notice, " + count(n, "hour", "hours") + " from now."
	}
	booking, err := s.booking(ctx, d, &q)
	if err != nil {
		return err
	}
	if booking != nil {
		booking.On, booking.At, booking.Other = q.on, q.at, q.on+q.at != ""
		booking.Written = q.start == writtenHour || q.start == "" && booking.Other
	}
	view.Booking, view.Keep = booking, q.kept()
	if view.Days, err = s.week(ctx, d, q); err != nil {
		return err
	}
	if booking == nil {
		if _, view.Waiting, err = s.Store.WaitLine(ctx, 1); err != nil {
			return err
		}
	}
	if q.problem != nil {
		view.Problems = []mend{{"hours", q.problem.Text}}
	}
	name := "Diary, " + view.Heading
	if booking != nil {
		name = booking.Heading
	}
	if q.problem != nil {
		name = "Problem: " + name
	}
	f := s.frame(c, name)
	for i := range f.Nav {
		f.Nav[i].Here = f.Nav[i].Href == "/workroom/diary"
	}
	s.render(c, status, "diary", f, view)
	return nil
}

func weekWords(monday time.Time) string {
	sunday := monday.AddDate(0, 0, 6)
	switch {
	case monday.Year() != sunday.Year():
		return monday.Format("2 January 2006") + " to " + sunday.Format("2 January 2006")
	case monday.Month() != sunday.Month():
		return monday.Format("2 January") + " to " + sunday.Format("2 January 2006")
	}
	return monday.Format("2") + " to " + sunday.Format("2 January 2006")
}

// kept are the parts of the address that another week keeps.
func (q diaryQuery) kept() []pair {
	var list []pair
	for _, p := range []pair{{"for", q.forID}, {"move", q.moveID}, {"kind", q.kind}} {
		if p.Value != "" {
			list = append(list, p)
		}
	}
	return list
}

func (q diaryQuery) link(monday time.Time) string {
	v := url.Values{"week": {monday.Format(time.DateOnly)}}
	for _, p := range q.kept() {
		v.Set(p.Name, p.Value)
	}
	return "/workroom/diary?" + v.Encode()
}

func (q diaryQuery) week(days int) string { return q.link(q.monday.AddDate(0, 0, days)) }

// week fills the seven days with appointments, hours kept for clients, and free time.
func (s *Server) week(ctx context.Context, d desk, q diaryQuery) ([]dayView, error) {
	end := q.monday.AddDate(0, 0, 7)
	booked, err := s.Store.Diary(ctx, q.monday, end)
	if err != nil {
		return nil, err
	}
	held, err := s.Store.HeldHours(ctx, q.monday, end)
	if err != nil {
		return nil, err
	}
	kind := q.kind
	if kind == "" {
		kind = orders.Fitting
	}
	free, err := s.Store.Free(ctx, kind, q.monday, end)
	if err != nil {
		return nil, err
	}
	choosing := q.forID != "" || q.moveID != ""
	length := time.Duration(d.studio.Minutes[kind]) * time.Minute
	var days []dayView
	for i := range 7 {
		day := q.monday.AddDate(0, 0, i)
		v := d.day(day)
		next := day.AddDate(0, 0, 1)
		for _, a := range booked {
			if !a.Start.Before(day) && a.Start.Before(next) {
				row := d.appointment(a)
				v.Entries = append(v.Entries, entry{Appointment: &row, at: a.Start})
			}
		}
		for _, h := range held {
			if !h.Start.Before(day) && h.Start.Before(next) {
				kept := d.keptHour(h)
				v.Entries = append(v.Entries, entry{Kept: &kept, at: h.Start})
			}
		}
		starts := slices.DeleteFunc(slices.Clone(free), func(t time.Time) bool { return t.Before(day) || !t.Before(next) })
		if choosing {
			v.Entries = append(v.Entries, d.choices(starts, q.start)...)
		} else {
			v.Entries = append(v.Entries, d.stretches(starts, length)...)
		}
		slices.SortStableFunc(v.Entries, func(a, b entry) int { return a.at.Compare(b.at) })
		days = append(days, v)
	}
	return days, nil
}

func (d desk) day(day time.Time) dayView {
	date := day.Format(time.DateOnly)
	v := dayView{
		Name: day.Format("Monday"), Date: day.Format("2 January"),
		Today: date == d.now.Format(time.DateOnly), Past: date < d.now.Format(time.DateOnly),
	}
	v.Hours = hoursWords(d.studio.HoursOn(day), day.Weekday())
	if v.Hours == "" {
		v.Hours = "closed"
	}
	return v
}

// hoursWords writes a weekday's opening hours as they are typed: "9:00–12:30, 13:30–17:00".
func hoursWords(hours []orders.Hours, day time.Weekday) string {
	words := ""
	for _, h := range hours {
		if h.Day != day {
			continue
		}
		if words != "" {
			words += ", "
		}
		words += fmt.Sprintf("%d:%02d–%d:%02d", h.Opens/60, h.Opens%60, h.Shuts/60, h.Shuts%60)
	}
	return words
}

const onTheClock = "15:04"

func (d desk) choices(starts []time.Time, chosen string) []entry {
	var list []entry
	for _, t := range starts {
		value := t.Format(time.RFC3339)
		list = append(list, entry{Choice: &stageChoice{value, t.In(d.zone).Format(onTheClock), value == chosen}, at: t})
	}
	return list
}

// stretches joins free starts a quarter of an hour apart into stretches of free time.
func (d desk) stretches(starts []time.Time, length time.Duration) []entry {
	var list []entry
	for i := 0; i < len(starts); {
		last := i
		for last+1 < len(starts) && starts[last+1].Sub(starts[last]) <= 15*time.Minute {
			last++
		}
		words := starts[i].In(d.zone).Format(onTheClock) + "–" + starts[last].Add(length).In(d.zone).Format(onTheClock)
		list = append(list, entry{Free: words, at: starts[i]})
		i = last + 1
	}
	return list
}

var stateOfHour = map[string]string{
	orders.Booked: "not yet confirmed", orders.Confirmed: "confirmed", orders.MoveAsked: "asks to move", orders.Cancelled: "cancelled",
}

func stateOf(a orders.Appointment) string {
	if a.Missed {
		return "did not come"
	}
	return stateOfHour[a.State]
}

func (d desk) appointment(a orders.Appointment) appointmentRow {
	return appointmentRow{
		Href: "/workroom/diary/appointments/" + a.ID, Commission: "/workroom/commissions/" + a.CommissionID,
		When: d.when(a.Start), Day: a.Start.In(d.zone).Format("Mon 2 January"), Hours: a.Start.In(d.zone).Format(onTheClock) + "–" + a.End.In(d.zone).Format(onTheClock),
		Kind: title(a.Kind), Place: a.Place, Client: a.ClientName, Number: a.CommissionNumber,
		State: stateOf(a), Wish: a.Wish,
		Past: a.End.Before(d.now), Asked: a.State == orders.MoveAsked, Gone: a.State == orders.Cancelled,
	}
}

func (d desk) appointments(list []orders.Appointment) []appointmentRow {
	rows := make([]appointmentRow, len(list))
	for i, a := range list {
		rows[i] = d.appointment(a)
	}
	return rows
}
