package orders

import (
	"slices"
	"time"
)

// quarter is the grid of the diary.
const quarter = 15 * time.Minute

// An opening answers when the studio is open. It looks at what the clock on the wall shows at a given
// moment, never the other way about, so that the days on which the clock is moved need no care.
type opening struct {
	zone   *time.Location
	hours  []Hours
	closed []string
	other  []DayHours
}

func (st Studio) opening() (opening, error) {
	zone, err := time.LoadLocation(st.Zone)
	return opening{zone, st.Hours, st.ClosedDays, st.Rules.Exceptions}, err
}

// during says whether the studio is open from start to end, both on the quarter hour.
func (o opening) during(start, end time.Time) bool {
	for t := start; t.Before(end); t = t.Add(quarter) {
		if !o.quarterAt(t) {
			return false
		}
	}
	return start.Before(end)
}

func (o opening) quarterAt(t time.Time) bool {
	wall := t.In(o.zone)
	minute := wall.Hour()*60 + wall.Minute()
	open := slices.ContainsFunc(o.on(wall), func(h Hours) bool { return h.Opens <= minute && minute+15 <= h.Shuts })
	return open && !slices.Contains(o.closed, wall.Format(time.DateOnly))
}

// on lists the hours of the day on the wall: its own if it has any, else those of its weekday.
func (o opening) on(wall time.Time) []Hours {
	var own, usual []Hours
	date := wall.Format(time.DateOnly)
	for _, e := range o.other {
		if e.Day == date {
			own = append(own, Hours{wall.Weekday(), e.Opens, e.Shuts})
		}
	}
	for _, h := range o.hours {
		if h.Day == wall.Weekday() {
			usual = append(usual, h)
		}
	}
	if own != nil {
		return own
	}
	return usual
}

// HoursOn lists when the studio is open on a day, as the clock in its zone shows it; none when it is closed.
func (st Studio) HoursOn(day time.Time) []Hours {
	if slices.Contains(st.ClosedDays, day.Format(time.DateOnly)) {
		return nil
	}
	return opening{hours: st.Hours, other: st.Rules.Exceptions}.on(day)
}

// onGrid says whether a moment lies on the quarter hour.
func onGrid(t time.Time) bool { return t.Truncate(quarter).Equal(t) }

// length is how long an appointment takes, in whole quarters.
func (st Studio) length(kind string) time.Duration { return inQuarters(st.Minutes[kind]) }

// buffer is what is kept free after it.
func (st Studio) buffer(kind string) time.Duration {
	if own, ok := st.Rules.Buffers[kind]; ok {
		return inQuarters(own)
	}
	return inQuarters(st.BufferMinutes)
}

func inQuarters(minutes int) time.Duration { return time.Duration((minutes+14)/15) * quarter }

// quartersOf numbers the quarters from start to end, counted from 1970.
func quartersOf(start, end time.Time) []int64 {
	var list []int64
	for t := start; t.Before(end); t = t.Add(quarter) {
		list = append(list, t.Unix()/int64(quarter/time.Second))
	}
	return list
}
