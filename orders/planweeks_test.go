package orders

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Whatever days a task has, its minutes add up, and lie on worked days only.
func TestWorkIsLaidWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, first := anyCalendar(t, true), anyDay(t, "first")
		work := task{first: first, last: first.AddDate(0, 0, rapid.IntRange(0, 60).Draw(t, "length")), minutes: rapid.IntRange(0, 5000).Draw(t, "minutes")}
		sum := 0
		c.lay(work, func(day time.Time, minutes int) {
			assert.True(t, c.Works(day), "%s", day)
			assert.GreaterOrEqual(t, minutes, 0)
			sum += minutes
		})
		assert.Equal(t, work.minutes, sum)
	})
}

func TestWeeksCountRoomAndWhatIsTaken(t *testing.T) {
	st := tuesdayToSaturday()
	st.ClosedDays = []string{"2027-05-18", "2027-05-19"}
	p, c := usualPace(), st.Calendar()
	today := date(t, "2027-05-06") // a Thursday: three of five days are left
	l := p.latest(date(t, "2027-06-12"), false, c)
	tasks := []task{p.taskOf(Agreed, l, 1, today), p.taskOf(Enquiry, l, 2, today)}
	weeks := p.weeks(c, today, 6, tasks)
	room := []int{720, 1200, 720, 1200, 1200, 1200} // twenty hours, less for the days gone or closed
	sum := 0
	for i, w := range weeks {
		assert.Equal(t, room[i], w.Room, "room of the week of %s", w.Monday)
		assert.Equal(t, 2*w.Taken, w.Asked, "twice as much is asked for, of the same days")
		sum += w.Taken
	}
	assert.Equal(t, date(t, "2027-05-03"), weeks[0].Monday)
	// 26 May to 8 June are ten worked days, 48 minutes each: 26–29, 1–5, 8
	assert.Equal(t, []int{0, 0, 0, 192, 240, 48}, []int{weeks[0].Taken, weeks[1].Taken, weeks[2].Taken, weeks[3].Taken, weeks[4].Taken, weeks[5].Taken})
	assert.Equal(t, 480, sum)
}

func TestVerdictTellsTheTruth(t *testing.T) {
	p, c := usualPace(), tuesdayToSaturday().Calendar()
	l := p.latest(date(t, "2027-06-12"), false, c)
	others := []task{p.taskOf(Agreed, l, 5, date(t, "2027-03-01"))} // forty hours: 240 minutes a day
	for name, is := range map[string]struct {
		today string
		tasks []task
		want  Verdict
	}{
		"nobody else":             {"2027-03-01", nil, ThereIsTime},
		"on the last day":         {"2027-04-28", nil, ThereIsTime},
		"a day after":             {"2027-04-29", nil, TimeShort},
		"with the cloth at hand":  {"2027-05-26", nil, TimeShort},
		"not even then":           {"2027-05-27", nil, TooShort},
		"others need it all":      {"2027-03-01", others, WeeksFull},
		"the day has passed":      {"2027-06-13", nil, NoVerdict},
		"one fewer leaves room":   {"2027-03-01", []task{p.taskOf(Agreed, l, 1, date(t, "2027-03-01"))}, ThereIsTime},
		"others in other weeks":   {"2027-03-01", []task{p.taskOf(Agreed, p.latest(date(t, "2027-04-24"), false, c), 9, date(t, "2027-03-01"))}, ThereIsTime},
		"full and late is “late”": {"2027-04-29", others, TimeShort},
	} {
		assert.Equal(t, is.want, p.verdict(c, l, date(t, is.today), is.tasks), name)
	}
	p.WeekMinutes = 0
	assert.Equal(t, ThereIsTime, p.verdict(c, l, date(t, "2027-03-01"), others), "without hours no week is called full")
}

// What falls due by a day is found by one day of wearing for each milestone.
func TestLastDayParts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := Plan{Pace: anyPace(t), Days: anyCalendar(t, true), Today: anyDay(t, "today")}
		m := Milestones[rapid.IntRange(0, 5).Draw(t, "milestone")]
		limit := p.Today.AddDate(0, 0, rapid.IntRange(0, 60).Draw(t, "limit"))
		last, err := time.Parse(dayLayout, p.lastDay(m, true, limit))
		require.NoError(t, err)
		assert.False(t, p.Pace.latest(last, true, p.Days).By(m).After(limit), "the day itself is due")
		assert.True(t, p.Pace.latest(last.AddDate(0, 0, 1), true, p.Days).By(m).After(limit), "the day after is not")
	})
}
