package orders

import "time"

// A Week is seven days of the bench from a Monday, in minutes.
type Week struct {
	Monday time.Time
	Room   int // what is still to come of the week's hours
	Taken  int // by hats that are agreed
	Asked  int // by hats that are asked for and not agreed
}

// Free is what is left of the room; below nothing when the week is more than full.
func (w Week) Free() int { return w.Room - w.Taken }

// A task is bench work that lies between two days.
type task struct {
	first, last time.Time
	minutes     int
	agreed      bool
}

// taskOf is the work that n alike commissions still want. It lies from the day the cloth is there, or
// for a hat in fitting from the fitting, to the day it has to be finished; what is late lies before
// it all the same, from today on. That it is spread evenly over these days is a modelling choice.
func (p Pace) taskOf(stage Stage, l Latest, n int, today time.Time) task {
	from := l.By(ToHave)
	if stage == InFitting || stage == Finishing {
		from = l.By(ToFit)
	}
	agreed := stage != Enquiry && stage != Measured && stage != Proposed
	return task{first: later(from, today), last: later(l.By(ToFinish), today), minutes: n * p.left(stage), agreed: agreed}
}

// weeks lays tasks into the n weeks from today's on.
func (p Pace) weeks(c Calendar, today time.Time, n int, tasks []task) []Week {
	list := make([]Week, n)
	start := Monday(today)
	usual := max(1, c.usual())
	for i := range list {
		monday := start.AddDate(0, 0, 7*i)
		list[i] = Week{Monday: monday, Room: p.WeekMinutes * c.worked(later(monday, today), monday.AddDate(0, 0, 6)) / usual}
	}
	for _, t := range tasks {
		c.lay(t, func(day time.Time, minutes int) {
			i := daysBetween(start, day) / 7
			switch {
			case i < 0 || i >= n:
			case t.agreed:
				list[i].Taken += minutes
			default:
				list[i].Asked += minutes
			}
		})
	}
	return list
}

// usual is how many days of a week are worked when none is closed.
func (c Calendar) usual() int {
	n := 0
	for _, open := range c.open {
		if open {
			n++
		}
	}
	return n
}

// lay spreads a task over its worked days, whole minutes that add up to it. When none of its days is
// worked, all of it lies on the next worked day.
func (c Calendar) lay(t task, on func(day time.Time, minutes int)) {
	n := c.worked(t.first, t.last)
	if n == 0 {
		for n = 1; !c.Works(t.last); {
			t.last = t.last.AddDate(0, 0, 1)
		}
		t.first = t.last
	}
	done := 0
	for d, i := t.first, 0; !d.After(t.last); d = d.AddDate(0, 0, 1) {
		if c.Works(d) {
			i++
			on(d, t.minutes*i/n-done)
			done = t.minutes * i / n
		}
	}
}

// A Verdict is the truth about a hat that is asked for: whether it can be made by its day.
type Verdict int

// The verdicts.
const (
	NoVerdict Verdict = iota // the day is not fixed or past, it is agreed already, or nobody has said how long things take
	ThereIsTime
	WeeksFull // there is time, and the hours in it belong to others
	TimeShort // it should have been agreed already
	TooShort  // less time is left than the making takes, with the cloth at hand
)

// verdict compares a hat that is asked for with the hours that others leave free.
func (p Pace) verdict(c Calendar, l Latest, today time.Time, others []task) Verdict {
	switch {
	case l.Worn.Before(today):
		return NoVerdict
	case l.By(ToHave).Before(today):
		return TooShort
	case l.By(ToAgree).Before(today):
		return TimeShort
	case p.WeekMinutes > 0 && !p.fits(c, l, today, others):
		return WeeksFull
	}
	return ThereIsTime
}

func (p Pace) fits(c Calendar, l Latest, today time.Time, others []task) bool {
	n := daysBetween(Monday(today), l.By(ToFinish))/7 + 1
	own := p.taskOf(Agreed, l, 1, today)
	taken, hers := p.weeks(c, today, n, others), p.weeks(c, today, n, []task{own})
	for i := range taken {
		if hers[i].Taken > 0 && taken[i].Taken+hers[i].Taken > taken[i].Room {
			return false
		}
	}
	return true
}
