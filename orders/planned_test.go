package orders

import (
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// busy fills a store with commissions at random stages and days; some are posted, some have paid.
func busyStore(t testing.TB, n int) *Store {
	t.Helper()
	seed := uint64(time.Now().UnixNano())
	t.Logf("seed %d", seed)
	r := rand.New(rand.NewPCG(seed, 0))
	s, _ := newStore(t)
	for i := range n {
		but := map[string]string{}
		if i%3 == 0 {
			but["post_address"] = "Quill Cottage"
		}
		c := sent(t, s, but)
		if i%2 == 0 {
			_, err := s.Pay(ctx, Payment{ID: newID(), CommissionID: c.ID, Payer: "Nella", Amount: 100, Way: Ways[0], Day: "2027-01-10"}, "Wren")
			require.NoError(t, err)
		}
		day := wednesday.AddDate(0, 0, r.IntN(120)-10).Format(dayLayout)
		if i%11 == 0 {
			day = NotFixed
		}
		require.NoError(t, s.write.Exec("update commissions set stage = ?, day = ? where id = ?", Stages[r.IntN(len(Stages))], day, c.ID).Error)
	}
	return s
}

// One query finds the same as looking at each commission in turn.
func TestDueFindsWhatLookingAtEachFinds(t *testing.T) {
	s := busyStore(t, 120)
	p, err := s.Plan(ctx)
	require.NoError(t, err)
	all, err := s.Commissions(ctx)
	require.NoError(t, err)
	var want []string
	for _, c := range all {
		one, err := s.Planned(ctx, c.ID)
		require.NoError(t, err)
		assert.Equal(t, c, one.Commission)
		if p.Standing(one).Risk >= ThisWeek {
			want = append(want, c.ID)
		}
	}
	require.NotEmpty(t, want, "the random days leave something due")
	list, total, err := s.Due(ctx, p, 1000)
	require.NoError(t, err)
	var got []string
	for _, c := range list {
		got = append(got, c.ID)
		assert.GreaterOrEqual(t, p.Standing(c).Risk, ThisWeek)
	}
	assert.ElementsMatch(t, want, got)
	assert.Equal(t, len(want), total)
	assert.True(t, slices.IsSortedFunc(list, func(a, b Planned) int {
		return map[bool]int{true: 1}[a.Day < "2027-01-13"] - map[bool]int{true: 1}[b.Day < "2027-01-13"]
	}), "days gone by come last")
	few, total, err := s.Due(ctx, p, 2)
	require.NoError(t, err)
	assert.Equal(t, list[:2], few)
	assert.Equal(t, len(want), total, "all are counted")
}

// The hours of alike commissions taken together are those of each in turn.
func TestWeeksAddUpOverAllCommissions(t *testing.T) {
	s := busyStore(t, 60)
	p, err := s.Plan(ctx)
	require.NoError(t, err)
	weeks, marks, err := s.Weeks(ctx, p, 0, 30, 1000)
	require.NoError(t, err)
	taken, asked, want := 0, 0, map[bool]int{}
	for _, w := range weeks {
		taken, asked = taken+w.Taken, asked+w.Asked
	}
	all, err := s.Commissions(ctx)
	require.NoError(t, err)
	for _, c := range all {
		if slices.Contains(unfinished, c.Stage) && c.Day != NotFixed && c.Day >= "2027-01-13" {
			want[slices.Index(Stages, c.Stage) >= slices.Index(Stages, Agreed)] += p.Pace.left(c.Stage)
		}
	}
	assert.Equal(t, want[true], taken, "agreed")
	assert.Equal(t, want[false], asked, "asked for")
	assert.True(t, slices.IsSortedFunc(marks, func(a, b Mark) int { return a.By.Compare(b.By) }))
	for _, m := range marks {
		assert.NotEqual(t, HandedOver, m.Stage)
		assert.Equal(t, m.By.Before(p.Today), m.Late, "%s of %s", m.Milestone, m.Number)
	}
	tail, ahead, err := s.Weeks(ctx, p, 5, 4, 1000)
	require.NoError(t, err)
	assert.Equal(t, weeks[5:9], tail)
	from, to := weeks[5].Monday, weeks[9].Monday
	assert.Equal(t, slices.DeleteFunc(marks, func(m Mark) bool { return m.By.Before(from) || !m.By.Before(to) }), ahead)
}

func TestVerdictNeedsAPaceAndAnEnquiry(t *testing.T) {
	s, c := newStore(t)
	com := sent(t, s, nil)
	ask := func() Verdict {
		p, err := s.Plan(ctx)
		require.NoError(t, err)
		one, err := s.Planned(ctx, com.ID)
		require.NoError(t, err)
		v, err := s.Verdict(ctx, p, one)
		require.NoError(t, err)
		return v
	}
	assert.Equal(t, NoVerdict, ask(), "nobody has said how long things take")
	pace := usualPace()
	pace.WeekMinutes = 8 * 60
	_, err := s.SavePace(ctx, pace)
	require.NoError(t, err)
	assert.Equal(t, ThereIsTime, ask())
	for range 3 {
		other := sent(t, s, nil)
		require.NoError(t, s.write.Exec("update commissions set stage = ? where id = ?", Agreed, other.ID).Error)
	}
	assert.Equal(t, WeeksFull, ask(), "three agreed hats fill the weeks before that day")
	c.set(date(t, "2027-05-20"))
	assert.Equal(t, TimeShort, ask())
	c.set(date(t, "2027-06-10"))
	assert.Equal(t, TooShort, ask())
	require.NoError(t, s.write.Exec("update commissions set stage = ? where id = ?", Agreed, com.ID).Error)
	assert.Equal(t, NoVerdict, ask(), "what is agreed is agreed")
}

// What day it is, is asked in the studio's zone.
func TestTodayIsTheStudiosDate(t *testing.T) {
	s, c, _ := inZone(t, "Pacific/Auckland", 600, 1000)
	c.set(time.Date(2027, 6, 10, 13, 0, 0, 0, time.UTC))
	p, err := s.Plan(ctx)
	require.NoError(t, err)
	assert.Equal(t, date(t, "2027-06-11"), p.Today)
}

func TestWhatWaitsInTheLetterBooks(t *testing.T) {
	s, c := newStore(t)
	first, second := sent(t, s, map[string]string{"name": "Odile"}), sent(t, s, map[string]string{"name": "Pim"})
	waits := func() (names []string) {
		list, total, err := s.ToAnswer(ctx, 10)
		require.NoError(t, err)
		require.Len(t, list, total)
		for _, w := range list {
			names = append(names, w.ClientName+": "+w.Body)
		}
		return names
	}
	assert.Empty(t, waits())
	for _, com := range []Commission{second, first} {
		_, err := s.Receive(ctx, com.ID, "May I?")
		require.NoError(t, err)
		c.add(time.Minute)
	}
	_, err := s.Receive(ctx, second.ID, "Or may I not?")
	require.NoError(t, err)
	assert.Equal(t, []string{"Pim: Or may I not?", "Odile: May I?"}, waits(), "counted from her first letter that was not answered")
	few, total, err := s.ToAnswer(ctx, 1)
	require.NoError(t, err)
	assert.Len(t, few, 1)
	assert.Equal(t, 2, total)
	_, err = s.Write(ctx, first.ID, "You may.")
	require.NoError(t, err)
	_, err = s.Write(ctx, first.ID, "Twice.")
	require.NoError(t, err)
	assert.Equal(t, []string{"Pim: Or may I not?"}, waits())
	copies, total, err := s.ToCopyOut(ctx, 5)
	require.NoError(t, err)
	require.Len(t, copies, 1)
	assert.Equal(t, 1, total)
	assert.Equal(t, first, copies[0].Commission)
	assert.Equal(t, 2, copies[0].N)
	now, err := s.Commission(ctx, second.ID)
	require.NoError(t, err)
	walk(t, s, now, Lapsed)
	assert.Equal(t, []string{"Pim: Or may I not?"}, waits(), "a hat laid aside is no answer to a letter")
	require.NoError(t, s.OweNothing(ctx, second.ClientID))
	assert.Empty(t, waits(), "nothing more is to be said")
}
