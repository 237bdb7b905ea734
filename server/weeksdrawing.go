package server

import (
	"fmt"
	"time"

	"perchbook/orders"
)

// A shape stands for a milestone in the drawing: told apart by its outline, not by colour. Path is
// drawn round 0 0, within 5 to each side.
type shape struct {
	Milestone orders.Milestone
	Name      string
	Path      string
	Solid     bool
}

var shapes = []shape{
	{orders.ToAgree, "agreed", "M-4.5 0a4.5 4.5 0 1 0 9 0a4.5 4.5 0 1 0-9 0Z", false},                                                     // a loop of thread
	{orders.ToPay, "deposit here", "M-4.5 0a4.5 4.5 0 1 0 9 0a4.5 4.5 0 1 0-9 0ZM-1.6 0a1.6 1.6 0 1 0 3.2 0a1.6 1.6 0 1 0-3.2 0Z", false}, // a coin
	{orders.ToHave, "cloth here", "M0-5L5 0L0 5L-5 0Z", false},                                                                            // a square on the bias
	{orders.ToFit, "fitting over", "M-4.5-4.5L4.5 4.5M4.5-4.5L-4.5 4.5", false},                                                           // two pins
	{orders.ToFinish, "finished", "M-4.5-4L4.5-4L0 4.5Z", false},                                                                          // a notch
	{orders.ToHandOver, "handed over", "M-4.5-3.5H4.5V4H-4.5ZM-4.5-.8H4.5", false},                                                        // a box with its lid
	{"", "the day it is worn", "M-5 3.5H5M-3.5 3.5A3.5 4.5 0 0 1 3.5 3.5Z", true},                                                         // a small hat
}

func shapeOf(m orders.Milestone) shape {
	for _, s := range shapes {
		if s.Milestone == m {
			return s
		}
	}
	return shape{}
}

// A tapeDrawing is one week as a tape as long as the hours there are: hatched on the bias where they are
// taken, dotted where they are asked for, crossed where they do not reach. Under it stand the seven days
// with the latest dates.
type tapeDrawing struct {
	Height        int
	Label, Hours  string
	Room          int // widths
	Taken         int
	Over, OverX   int
	Asked, AskedX int
	Ticks         []hourTick
	Days          []dayDrawing
	Marks         []markDrawing
}

type hourTick struct{ X, Length int }

type dayDrawing struct {
	X     int
	Name  string
	Works bool
	Today bool
}

type markDrawing struct {
	X, Y   int
	Shape  shape
	Number string
}

// The drawing of a week in its own units; the template holds the same upper edge of the tape and its
// height, and the line on which the days stand.
const (
	drawnWidth = 406
	dayWidth   = 58
	daysY      = 54
	laneHeight = 17
	lanes      = 3 // marks under one day
)

func drawWeek(p orders.Plan, w orders.Week, longest int, marks []orders.Mark) tapeDrawing {
	t := drawTape(w, longest)
	t.drawDays(p, w.Monday)
	t.drawMarks(marks, w.Monday)
	return t
}

// longestWeek is how many minutes the longest tape of some weeks stands for.
func longestWeek(p orders.Plan, weeks []orders.Week) int {
	longest := max(p.Pace.WeekMinutes, 60)
	for _, w := range weeks {
		longest = max(longest, w.Room, w.Taken+w.Asked)
	}
	return longest
}

func drawTape(w orders.Week, longest int) tapeDrawing {
	wide := func(minutes int) int { return int(int64(minutes) * (drawnWidth - 2) / int64(longest)) }
	t := tapeDrawing{
		Label: w.Monday.Format("2 January"), Hours: tapeWords(w), Room: wide(w.Room),
		Taken: wide(min(w.Taken, w.Room)), OverX: wide(w.Room), Over: wide(max(0, w.Taken-w.Room)), AskedX: wide(w.Taken), Asked: wide(w.Asked),
	}
	step := 60
	for longest/step > 50 {
		step *= 5
	}
	for n := 1; n*step < w.Room; n++ {
		length := 4
		if n%5 == 0 {
			length = 8
		}
		t.Ticks = append(t.Ticks, hourTick{wide(n * step), length})
	}
	return t
}

func tapeWords(w orders.Week) string {
	switch {
	case w.Free() < 0:
		return benchHours(-w.Free()) + " too much"
	case w.Room == 0:
		return "closed"
	}
	return benchHours(w.Free()) + " of " + benchHours(w.Room) + " free"
}

func (t *tapeDrawing) drawDays(p orders.Plan, monday time.Time) {
	for i := range 7 {
		day := monday.AddDate(0, 0, i)
		t.Days = append(t.Days, dayDrawing{X: i*dayWidth + 2, Name: day.Format("Mon 2"), Works: p.Days.Works(day), Today: day.Equal(p.Today)})
	}
}

// drawMarks puts each mark under its day; what has no room is counted.
func (t *tapeDrawing) drawMarks(marks []orders.Mark, monday time.Time) {
	var used [7]int
	deepest := 0
	for _, m := range marks {
		day := int(m.By.Sub(monday) / (24 * time.Hour))
		used[day]++
		if used[day] > lanes {
			continue
		}
		deepest = max(deepest, used[day])
		t.Marks = append(t.Marks, markDrawing{X: day*dayWidth + 6, Y: daysY + used[day]*laneHeight - 3, Shape: shapeOf(m.Milestone), Number: m.Number})
	}
	for day, n := range used {
		if n > lanes {
			deepest = lanes + 1
			t.Marks = append(t.Marks, markDrawing{X: day*dayWidth + 6, Y: daysY + deepest*laneHeight - 3, Number: fmt.Sprintf("%d more", n-lanes)})
		}
	}
	t.Height = daysY + 6 + deepest*laneHeight
}
