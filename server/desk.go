package server

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"perchbook/orders"
)

// A desk is where the milliner reads: the studio, its clock and its time zone.
type desk struct {
	studio orders.Studio
	zone   *time.Location
	now    time.Time // in the zone
}

func (s *Server) desk(ctx context.Context) (desk, error) {
	st, err := s.Store.Studio(ctx)
	if err != nil {
		return desk{}, err
	}
	zone, err := time.LoadLocation(st.Zone)
	if err != nil || st.Zone == "" {
		zone = time.UTC
	}
	return desk{st, zone, s.Now().In(zone)}, nil
}

// when says a moment in the studio's zone: "Tue 8 June 2027, 14:30".
func (d desk) when(t time.Time) string { return t.In(d.zone).Format("Mon 2 January 2006, 15:04") }

// date says the day of a moment in the studio's zone.
func (d desk) date(t time.Time) string { return t.In(d.zone).Format("2 January 2006") }

// written says a commission's day: "Sat 12 June 2027", or that it is open.
func (d desk) written(day string) string {
	t, err := time.ParseInLocation(time.DateOnly, day, d.zone)
	if err != nil {
		return "day not fixed"
	}
	return t.Format("Mon 2 January 2006")
}

const soonDays = 21 // within three weeks a hat is called soon; common practice asks six and more

// left says how many days are left until a commission's day, and whether that is soon.
func (d desk) left(c orders.Commission) (words string, soon bool) {
	day, err := time.Parse(time.DateOnly, c.Day)
	if err != nil {
		return "", false
	}
	today, _ := time.Parse(time.DateOnly, d.now.Format(time.DateOnly))
	n, open := int(day.Sub(today).Hours()/24), !slices.Contains(closed, c.Stage)
	switch {
	case n < 0:
		return count(-n, "day ago", "days ago"), open
	case n == 0:
		return "today", open
	case n == 1:
		return "tomorrow", open
	}
	return fmt.Sprintf("%d days left", n), open && n <= soonDays
}

// shown says a stored answer in people's words.
func shown(key, value string) string {
	q, ok := orders.Questions.Find(key)
	if !ok {
		return value
	}
	return q.Show(orders.Answer{Value: value, Said: value})
}

// short is the name of a question in a summary.
func short(key string) string {
	if q, ok := orders.Questions.Find(key); ok {
		return q.Short
	}
	return key
}

// title writes the first letter large.
func title(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return s
	}
	return string(unicode.ToUpper(r)) + s[n:]
}

func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// and joins words as a person does: "a, b and c".
func and(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

// tidy is what was typed into one line or area, without the carriage returns of forms.
func tidy(text string) string { return strings.TrimSpace(strings.ReplaceAll(text, "\r\n", "\n")) }
