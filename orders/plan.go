package orders

import "time"

// A Calendar says on which days the studio works. A day is midnight UTC of its date: what date it is
// somewhere is asked once, at the door, so that no clock that is moved can shift a plan.
type Calendar struct {
	open   [7]bool
	closed map[time.Time]bool
}

// Calendar is that of the opening weekdays and closed days. While no opening hours are set, every
// weekday counts as worked.
func (st Studio) Calendar() Calendar {
	c := Calendar{closed: map[time.Time]bool{}}
	for _, h := range st.Hours {
		c.open[h.Day] = true
	}
	if len(st.Hours) == 0 {
		c.open = [7]bool{true, true, true, true, true, true, true}
	}
	for _, date := range st.ClosedDays {
		if day, err := time.Parse(time.DateOnly, date); err == nil {
			c.closed[day] = true
		}
	}
	return c
}

// Works says whether the studio works on that day.
func (c Calendar) Works(day time.Time) bool { return c.open[day.Weekday()] && !c.closed[day] }

// onOrBefore is the day itself when it is worked, else the last worked day before it.
func (c Calendar) onOrBefore(day time.Time) time.Time {
	for !c.Works(day) {
		day = day.AddDate(0, 0, -1)
	}
	return day
}

// back is the worked day n worked days before the last worked one up to day.
func (c Calendar) back(day time.Time, n int) time.Time {
	day = c.onOrBefore(day)
	for range n {
		day = c.onOrBefore(day.AddDate(0, 0, -1))
	}
	return day
}

// early is the last worked day at least n days of the calendar before day.
func (c Calendar) early(day time.Time, n int) time.Time {
	return c.onOrBefore(day.AddDate(0, 0, -n))
}

// worked counts the worked days from the first to the last, both with.
func (c Calendar) worked(first, last time.Time) int {
	n := 0
	for d := first; !d.After(last); d = d.AddDate(0, 0, 1) {
		if c.Works(d) {
			n++
		}
	}
	return n
}

// A Milestone is what a hat must have reached by a day.
type Milestone string

// The milestones of a hat, in their order.
const (
	ToAgree    Milestone = "agree"
	ToPay      Milestone = "deposit"
	ToHave     Milestone = "cloth"
	ToFit      Milestone = "fitting"
	ToFinish   Milestone = "finishing"
	ToHandOver Milestone = "hand-over"
)

// Milestones lists them all in order.
var Milestones = []Milestone{ToAgree, ToPay, ToHave, ToFit, ToFinish, ToHandOver}

// Latest are the days on which each milestone can be reached at the latest, for a hat to be worn on
// one day. They are worked days, none is later than the next, and none is later than the day.
type Latest struct {
	by   [6]time.Time // as Milestones
	Worn time.Time
}

// By is the latest day for a milestone.
func (l Latest) By(m Milestone) time.Time {
	for i, name := range Milestones {
		if name == m {
			return l.by[i]
		}
	}
	return time.Time{}
}

// dryings is how many parts dry before the fitting, one after the other: base and brim. A modelling
// choice, as is that one more drying follows the fitting.
const dryings = 2

// latest works back from the day on which a hat is worn; posted when it goes by post.
func (p Pace) latest(worn time.Time, posted bool, c Calendar) Latest {
	travel := p.SpareDays
	if posted {
		travel += p.PostingDays
	}
	over := c.early(worn, travel)
	finished := c.back(over, 1) // the finishing check and the box have a day of their own
	fitted := c.back(c.early(finished, p.DryingDays), p.FinishingDays)
	cloth := c.back(c.early(fitted, dryings*p.DryingDays), p.MakingDays)
	paid := c.early(cloth, p.ClothDays)
	return Latest{Worn: worn, by: [6]time.Time{c.early(paid, p.DepositDays), paid, cloth, fitted, finished, over}}
}

// next is the milestone that a commission at a stage has before it, and false when there is none.
func next(stage Stage, paid bool) (Milestone, bool) {
	switch stage {
	case Enquiry, Measured, Proposed:
		return ToAgree, true
	case Agreed:
		if !paid {
			return ToPay, true
		}
		return ToHave, true
	case InHand:
		return ToFit, true
	case InFitting, Finishing:
		return ToFinish, true
	case Ready:
		return ToHandOver, true
	}
	return "", false
}

// A Risk is how a commission stands against its latest dates.
type Risk int

// The risks, the least first.
const (
	NoRisk   Risk = iota // nothing is left to do, or the day is not fixed
	InTime               // more than a week is left for what comes next
	ThisWeek             // it has to be done within seven days
	Late                 // the latest day for it has passed
	DayPast              // the day of wearing has passed and the hat is still here
)

// A Standing is what a commission has before it and by when.
type Standing struct {
	Risk Risk
	Next Milestone
	By   time.Time
	Days int // left until then; below nothing when it has passed
	Latest
}

const soon = 7 // days

// standing says how a commission stands on a day; worn is its day as kept, which may be not fixed.
func (p Pace) standing(stage Stage, worn string, posted, paid bool, today time.Time, c Calendar) Standing {
	day, err := time.Parse(dayLayout, worn)
	m, left := next(stage, paid)
	if err != nil || !left {
		return Standing{}
	}
	st := Standing{Latest: p.latest(day, posted, c), Next: m}
	st.By = st.Latest.By(m)
	st.Days = daysBetween(today, st.By)
	switch {
	case day.Before(today):
		st.Risk = DayPast
	case st.Days < 0:
		st.Risk = Late
	case st.Days < soon:
		st.Risk = ThisWeek
	default:
		st.Risk = InTime
	}
	return st
}

func daysBetween(from, to time.Time) int { return int(to.Sub(from) / (24 * time.Hour)) }

// dayOf is the date at a moment in a zone.
func dayOf(t time.Time, zone *time.Location) time.Time {
	y, m, d := t.In(zone).Date()
	return time.Date(y, m, d, 0, 0, 0, 0, time.UTC)
}

// Monday begins the week of a day.
func Monday(day time.Time) time.Time { return day.AddDate(0, 0, -(int(day.Weekday())+6)%7) }
