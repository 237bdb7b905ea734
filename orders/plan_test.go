package orders

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func date(t testing.TB, text string) time.Time {
	t.Helper()
	day, err := time.Parse(dayLayout, text)
	require.NoError(t, err)
	return day
}

// tuesdayToSaturday is a usual small studio's week.
func tuesdayToSaturday() Studio {
	st := Studio{Zone: "UTC"}
	for day := time.Tuesday; day <= time.Saturday; day++ {
		st.Hours = append(st.Hours, Hours{Day: day, Opens: 600, Shuts: 1000})
	}
	return st
}

// Worked out by hand on a calendar of spring 2027, 12 June being a Saturday.
func TestLatestDatesGoBackFromTheDay(t *testing.T) {
	st := tuesdayToSaturday()
	l := usualPace().latest(date(t, "2027-06-12"), false, st.Calendar())
	for m, want := range map[Milestone]string{
		ToHandOver: "2027-06-09", // three days to spare
		ToFinish:   "2027-06-08", // the worked day before
		ToFit:      "2027-06-03", // a day dries: Monday 7 is no worked day, so Saturday 5; and two days back
		ToHave:     "2027-05-26", // two parts dry: Tuesday 1; and four days back: 29, 28, 27, 26
		ToPay:      "2027-05-05", // three weeks
		ToAgree:    "2027-04-28", // one week
	} {
		assert.Equal(t, want, l.By(m).Format(dayLayout), "%s", m)
	}
}

// By post it leaves earlier, a closed day is not counted, and with the whole studio closed for a week
// everything before it moves.
func TestLatestDatesRespectPostAndClosedDays(t *testing.T) {
	st := tuesdayToSaturday()
	worn := date(t, "2027-06-12")
	posted := usualPace().latest(worn, true, st.Calendar())
	assert.Equal(t, "2027-06-04", posted.By(ToHandOver).Format(dayLayout), "five days in the post")
	st.ClosedDays = []string{"2027-06-09", "2027-06-08", "2027-06-05"}
	l := usualPace().latest(worn, false, st.Calendar())
	assert.Equal(t, "2027-06-04", l.By(ToHandOver).Format(dayLayout), "9, 8 and 5 are closed, 7 and 6 no weekdays of the studio")
}

func TestAStudioWithoutHoursWorksEveryDay(t *testing.T) {
	c := Studio{}.Calendar()
	assert.Equal(t, 7, c.worked(date(t, "2027-06-07"), date(t, "2027-06-13")))
}

func anyPace(t *rapid.T) Pace {
	days := rapid.IntRange(0, MostLeadDays)
	p := usualPace()
	for _, d := range p.leads() {
		*d = days.Draw(t, "lead")
	}
	return p
}

// leads are all lead times of a pace.
func (p *Pace) leads() []*int {
	return []*int{&p.DepositDays, &p.ClothDays, &p.MakingDays, &p.DryingDays, &p.FinishingDays, &p.PostingDays, &p.SpareDays}
}

func anyCalendar(t *rapid.T, closed bool) Calendar {
	st := Studio{}
	for day := time.Sunday; day <= time.Saturday; day++ {
		if rapid.Bool().Draw(t, "open") {
			st.Hours = append(st.Hours, Hours{Day: day, Opens: 600, Shuts: 700})
		}
	}
	if closed {
		for range rapid.IntRange(0, 40).Draw(t, "closed days") {
			st.ClosedDays = append(st.ClosedDays, anyDay(t, "closed").Format(dayLayout))
		}
	}
	return st.Calendar()
}

func anyDay(t *rapid.T, name string) time.Time {
	return time.Date(2027, 1, 1, 0, 0, 0, 0, time.UTC).AddDate(0, 0, rapid.IntRange(0, 500).Draw(t, name))
}

func TestLatestDatesAreOrderedAndBeforeTheDay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, worn := anyCalendar(t, true), anyDay(t, "worn")
		l := anyPace(t).latest(worn, rapid.Bool().Draw(t, "posted"), c)
		before := time.Time{}
		for _, m := range Milestones {
			assert.False(t, l.By(m).Before(before), "%s comes before what comes before it", m)
			assert.False(t, l.By(m).After(worn), "%s is after the day", m)
			assert.True(t, c.Works(l.By(m)), "%s falls on a day without work", m)
			before = l.By(m)
		}
	})
}

func TestLatestDatesMoveWithTheDayByWeeks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, worn, p, posted := anyCalendar(t, false), anyDay(t, "worn"), anyPace(t), rapid.Bool().Draw(t, "posted")
		days := 7 * rapid.IntRange(-100, 100).Draw(t, "weeks")
		here, there := p.latest(worn, posted, c), p.latest(worn.AddDate(0, 0, days), posted, c)
		for _, m := range Milestones {
			assert.Equal(t, here.By(m).AddDate(0, 0, days), there.By(m), "%s", m)
		}
	})
}

func TestMoreLeadNeverGivesLaterDates(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, worn, p, posted := anyCalendar(t, true), anyDay(t, "worn"), anyPace(t), rapid.Bool().Draw(t, "posted")
		before := p.latest(worn, posted, c)
		longer := p.leads()[rapid.IntRange(0, 6).Draw(t, "which")]
		*longer += rapid.IntRange(0, 60).Draw(t, "more")
		after, byPost, earlier := p.latest(worn, posted, c), p.latest(worn, true, c), p.latest(worn.AddDate(0, 0, -1), posted, c)
		for _, m := range Milestones {
			assert.False(t, after.By(m).After(before.By(m)), "%s with more lead", m)
			assert.False(t, byPost.By(m).After(after.By(m)), "%s by post", m)
			assert.False(t, earlier.By(m).After(after.By(m)), "%s for an earlier day", m)
		}
	})
}

func TestStandingSaysWhatIsAtRisk(t *testing.T) {
	c, p := tuesdayToSaturday().Calendar(), usualPace()
	for name, is := range map[string]struct {
		stage       Stage
		worn, today string
		paid        bool
		risk        Risk
		next        Milestone
		days        int
	}{
		"plenty":              {Enquiry, "2027-06-12", "2027-04-01", false, InTime, ToAgree, 27},
		"seven days are left": {Proposed, "2027-06-12", "2027-04-21", false, InTime, ToAgree, 7},
		"six days are left":   {Proposed, "2027-06-12", "2027-04-22", false, ThisWeek, ToAgree, 6},
		"on the day":          {Measured, "2027-06-12", "2027-04-28", false, ThisWeek, ToAgree, 0},
		"a day late":          {Measured, "2027-06-12", "2027-04-29", false, Late, ToAgree, -1},
		"deposit":             {Agreed, "2027-06-12", "2027-04-29", false, ThisWeek, ToPay, 6},
		"paid":                {Agreed, "2027-06-12", "2027-04-29", true, InTime, ToHave, 27},
		"in hand":             {InHand, "2027-06-12", "2027-06-04", true, Late, ToFit, -1},
		"in fitting":          {InFitting, "2027-06-12", "2027-06-04", true, ThisWeek, ToFinish, 4},
		"ready":               {Ready, "2027-06-12", "2027-06-12", true, Late, ToHandOver, -3},
		"the day has passed":  {Ready, "2027-06-12", "2027-06-13", true, DayPast, ToHandOver, -4},
		"handed over":         {HandedOver, "2027-06-12", "2027-06-13", true, NoRisk, "", 0},
		"lapsed":              {Lapsed, "2027-06-12", "2027-01-13", true, NoRisk, "", 0},
		"not fixed":           {Agreed, NotFixed, "2027-06-13", true, NoRisk, "", 0},
	} {
		st := p.standing(is.stage, is.worn, false, is.paid, date(t, is.today), c)
		assert.Equal(t, is.risk, st.Risk, name)
		assert.Equal(t, is.next, st.Next, name)
		assert.Equal(t, is.days, st.Days, name)
	}
}

func TestAPaceThatCannotBeMeantIsRefusedBesideItsField(t *testing.T) {
	s, _ := newStore(t)
	for key, spoil := range map[string]func(*Pace){
		"deposit_days":   func(p *Pace) { p.DepositDays = -1 },
		"cloth_days":     func(p *Pace) { p.ClothDays = MostLeadDays + 1 },
		"making_days":    func(p *Pace) { p.MakingDays = 1 << 40 },
		"drying_days":    func(p *Pace) { p.DryingDays = -1 },
		"finishing_days": func(p *Pace) { p.FinishingDays = -1 },
		"posting_days":   func(p *Pace) { p.PostingDays = 1000 },
		"spare_days":     func(p *Pace) { p.SpareDays = -7 },
		"week":           func(p *Pace) { p.WeekMinutes = MostWeekMinutes + 1 },
		"left-agreed":    func(p *Pace) { p.Left[Agreed] = -1 },
		"left-in-hand":   func(p *Pace) { p.Left[InHand] = p.Left[Agreed] + 1 },
		"rush_fee":       func(p *Pace) { p.RushFee = -1 },
		"currency":       func(p *Pace) { p.Currency = "SHELLS" },
	} {
		p := usualPace()
		spoil(&p)
		_, err := s.SavePace(ctx, p)
		var problem *Problem
		require.ErrorAs(t, err, &problem, key)
		assert.Equal(t, key, problem.Key)
		assert.NotEmpty(t, problem.Text)
	}
	p, err := s.SavePace(ctx, usualPace())
	require.NoError(t, err)
	kept, err := s.Pace(ctx)
	require.NoError(t, err)
	assert.Equal(t, p, kept)
	_, err = s.SavePace(ctx, usualPace())
	require.ErrorIs(t, err, ErrConflict, "saved by somebody who had not seen it")
}
