package server

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"time"

	"perchbook/orders"
)

const dayInWords = "2 January 2006"

func closedWords(day string) string {
	t, err := time.Parse(time.DateOnly, day)
	if err != nil {
		return day
	}
	return t.Format(dayInWords)
}

func readClosed(typed string) ([]string, string) {
	var days []string
	for _, line := range lines(typed) {
		first, last, ok := readStretch(line)
		if !ok {
			return nil, fmt.Sprintf("“%.60s” can’t be read as a day. Write it like 24 December 2026, one a line, or from the first to the last within a year: 24 December 2026 – 2 January 2027.", line)
		}
		for day := first; !day.After(last); day = day.AddDate(0, 0, 1) {
			days = append(days, day.Format(time.DateOnly))
		}
	}
	slices.Sort(days)
	return slices.Compact(days), ""
}

func readDay(text string) (string, bool) {
	for _, layout := range []string{dayInWords, "2 Jan 2006", "Mon 2 January 2006", "Monday 2 January 2006", time.DateOnly} {
		if t, err := time.Parse(layout, text); err == nil {
			return t.Format(time.DateOnly), true
		}
	}
	return "", false
}

var between = regexp.MustCompile(`\s+(?:-|–|—|to|until)\s+`)

// readStretch reads a day, or the first and the last of a stretch of at most a year.
func readStretch(line string) (first, last time.Time, ok bool) {
	ends := between.Split(line, -1)
	if len(ends) > 2 {
		return first, last, false
	}
	a, okA := readDay(ends[0])
	b, okB := readDay(ends[len(ends)-1])
	first, _ = time.Parse(time.DateOnly, a)
	last, _ = time.Parse(time.DateOnly, b)
	return first, last, okA && okB && !last.Before(first) && last.Before(first.AddDate(1, 0, 1))
}

// closedLines writes closed days as they would be typed, days that follow one another as a stretch.
func closedLines(days []string) []string {
	var list []string
	for i := 0; i < len(days); {
		last := i
		for last+1 < len(days) && nextDay(days[last]) == days[last+1] {
			last++
		}
		line := closedWords(days[i])
		if last > i {
			line += " – " + closedWords(days[last])
		}
		list = append(list, line)
		i = last + 1
	}
	return list
}

func nextDay(day string) string {
	t, err := time.Parse(time.DateOnly, day)
	if err != nil {
		return ""
	}
	return t.AddDate(0, 0, 1).Format(time.DateOnly)
}

// exceptionWords writes days with other hours as they would be typed.
func exceptionWords(list []orders.DayHours) string {
	var lines []string
	for i, e := range list {
		h := []orders.Hours{{Opens: e.Opens, Shuts: e.Shuts}}
		if i > 0 && list[i-1].Day == e.Day {
			lines[len(lines)-1] += ", " + hoursWords(h, 0)
			continue
		}
		lines = append(lines, closedWords(e.Day)+": "+hoursWords(h, 0))
	}
	return strings.Join(lines, "\n")
}

// readExceptions reads "23 December 2026: 9:00–12:30", one day a line.
func readExceptions(typed string) ([]orders.DayHours, string) {
	var list []orders.DayHours
	seen := map[string]bool{}
	for _, line := range lines(typed) {
		name, spans, _ := strings.Cut(line, ":")
		day, ok := readDay(strings.TrimSpace(name))
		hours, problem := readHours(0, strings.TrimSpace(spans))
		if !ok || problem != "" || len(hours) == 0 {
			return nil, fmt.Sprintf("“%.60s” can’t be read. Write the day, a colon and its hours: 23 December 2026: 9:00–12:30.", line)
		}
		if seen[day] {
			return nil, closedWords(day) + " stands here twice. Write its hours in one line, with a comma between them."
		}
		seen[day] = true
		for _, h := range hours {
			list = append(list, orders.DayHours{Day: day, Opens: h.Opens, Shuts: h.Shuts})
		}
	}
	slices.SortStableFunc(list, func(a, b orders.DayHours) int { return strings.Compare(a.Day, b.Day) })
	return list, ""
}

// readRules reads what the diary keeps to besides the weekday hours; the problem is the exceptions'.
func readRules(typed map[string]string, note func(key, problem string)) (orders.BookingRules, string) {
	var r orders.BookingRules
	var problem string
	for _, k := range kinds {
		if typed[bufferKey(k)] == "" {
			continue
		}
		var own int
		own, problem = readWhole(typed[bufferKey(k)], 0, 240, "minutes")
		note(bufferKey(k), named("Kept free after a "+k, problem))
		if r.Buffers == nil {
			r.Buffers = map[string]int{}
		}
		r.Buffers[k] = own
	}
	r.MoveHours, problem = readWhole(typed["move_hours"], 0, 1440, "hours")
	note("move_hours", named("Moving or cancelling", problem))
	r.Exceptions, problem = readExceptions(typed["exceptions"])
	return r, problem
}
