package orders

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// friday is far enough ahead for the least notice and for an offer.
var friday = time.Date(2027, 1, 15, 11, 0, 0, 0, time.UTC)

func held(t testing.TB, s *Store, c Commission, at time.Time) Hold {
	t.Helper()
	h, err := s.Hold(ctx, c.ID, Fitting, InPerson, "", at)
	require.NoError(t, err, "hold")
	return h
}

func isFree(t testing.TB, s *Store, at time.Time) bool {
	t.Helper()
	free, err := s.Free(ctx, Fitting, at, at.Add(time.Minute))
	require.NoError(t, err)
	return len(free) == 1
}

func TestAHeldHourIsHersUntilItExpires(t *testing.T) {
	s, clock := newStore(t)
	c, other := sent(t, s, nil), sent(t, s, nil)
	h := held(t, s, c, friday)
	assert.Equal(t, wednesday.Add(HeldFor), h.Expires)
	assert.False(t, isFree(t, s, friday), "a held hour is offered to nobody else")
	_, err := s.Book(ctx, other.ID, Fitting, InPerson, friday)
	require.ErrorIs(t, err, ErrTaken, "not even the milliner books over it")
	_, err = s.TakeHeld(ctx, other.ID, h.ID)
	problem(t, err, "hold")

	clock.add(HeldFor - time.Millisecond)
	assert.False(t, isFree(t, s, friday), "to the last moment")
	clock.add(time.Millisecond)
	assert.True(t, isFree(t, s, friday), "free again without anybody sweeping")
	_, err = s.TakeHeld(ctx, c.ID, h.ID)
	problem(t, err, "hold")
	booked(t, s, other, friday)
}

func TestAHeldHourBecomesAnAppointment(t *testing.T) {
	s, _ := newStore(t)
	c := sent(t, s, nil)
	held(t, s, c, friday)
	h := held(t, s, c, friday.Add(2*time.Hour))
	assert.True(t, isFree(t, s, friday), "choosing another lets go of the first")
	a, err := s.TakeHeld(ctx, c.ID, h.ID)
	require.NoError(t, err)
	assert.Equal(t, Confirmed, a.State, "she chose it herself")
	assert.Equal(t, h.Start, a.Start)
	assert.Contains(t, lastLetter(t, s, c, 1).Body, "booked for Friday, 15 January 2027, at 13:00")
	assert.False(t, isFree(t, s, h.Start))
	_, err = s.TakeHeld(ctx, c.ID, h.ID)
	problem(t, err, "hold")
	lastLetter(t, s, c, 1)
}

func TestWhatAClientMayNotHold(t *testing.T) {
	s, _ := newStore(t)
	c := sent(t, s, nil)
	for name, at := range map[string]time.Time{
		"inside the least notice": wednesday.Add(2 * time.Hour), "on a Sunday": friday.AddDate(0, 0, 2), "off the quarter": friday.Add(time.Minute),
	} {
		_, err := s.Hold(ctx, c.ID, Fitting, InPerson, "", at)
		t.Log(name, problem(t, err, "start").Text)
	}
	_, err := s.Hold(ctx, c.ID, Fitting, ByPost, "", friday)
	problem(t, err, "place")
	_, err = s.Hold(ctx, c.ID, "party", InPerson, "", friday)
	require.Error(t, err)
	strange := booked(t, s, sent(t, s, nil), friday)
	_, err = s.Hold(ctx, c.ID, Fitting, InPerson, strange.ID, friday.Add(2*time.Hour))
	require.ErrorIs(t, err, ErrNotFound, "another's appointment is not hers to move")
}

func TestAClientMovesAndCancelsWithinTheRule(t *testing.T) {
	s, clock := newStore(t)
	c := sent(t, s, nil)
	a := booked(t, s, c, friday)
	h, err := s.Hold(ctx, c.ID, "", "", a.ID, friday.Add(2*time.Hour))
	require.NoError(t, err)
	assert.False(t, isFree(t, s, friday), "she keeps what she has while she decides")
	moved, err := s.TakeHeld(ctx, c.ID, h.ID)
	require.NoError(t, err)
	assert.Equal(t, a.ID, moved.ID)
	assert.Equal(t, 1, moved.Sequence)
	assert.True(t, isFree(t, s, friday))

	clock.set(moved.Start.Add(-24 * time.Hour))
	_, err = s.CancelHers(ctx, c.ID, a.ID)
	problem(t, err, "start")
	_, err = s.Hold(ctx, c.ID, "", "", a.ID, friday.Add(72*time.Hour))
	problem(t, err, "start")
	clock.add(-time.Millisecond)
	_, err = s.CancelHers(ctx, sent(t, s, nil).ID, a.ID)
	require.ErrorIs(t, err, ErrNotFound, "another's appointment")
	gone, err := s.CancelHers(ctx, c.ID, a.ID)
	require.NoError(t, err)
	assert.Equal(t, Cancelled, gone.State)
	assert.Equal(t, 2, gone.Sequence)
}

func TestAFreedHourIsOfferedInTurn(t *testing.T) {
	s, clock := newStore(t)
	c := sent(t, s, nil)
	first, second := sent(t, s, nil), sent(t, s, nil)
	far := friday.AddDate(0, 0, 14)
	a := booked(t, s, c, far)
	for _, w := range []Commission{first, second, first} { // asking again keeps the turn
		require.NoError(t, s.WaitFor(ctx, w.ID, Fitting, InPerson))
	}
	_, err := s.CancelHers(ctx, c.ID, a.ID)
	require.NoError(t, err)
	offer := func(of Commission) []Hold {
		list, err := s.Holds(ctx, of.ID)
		require.NoError(t, err)
		return list
	}
	require.Len(t, offer(first), 1, "the first who waits is asked")
	require.Empty(t, offer(second), "and nobody else")
	assert.True(t, offer(first)[0].Offered)
	assert.Contains(t, lastLetter(t, s, first, 1).Body, "An hour has fallen free for your fitting: Friday, 29 January 2027, at 11:00")
	assert.False(t, isFree(t, s, far))

	clock.add(OfferedFor)
	require.NoError(t, s.PassOffers(ctx))
	require.NoError(t, s.PassOffers(ctx), "twice changes nothing")
	require.Empty(t, offer(first))
	require.Len(t, offer(second), 1, "an offer nobody took passes to the next")
	lastLetter(t, s, second, 1)
	lastLetter(t, s, first, 1)
	taken, err := s.TakeHeld(ctx, second.ID, offer(second)[0].ID)
	require.NoError(t, err)
	_, err = s.Waiting(ctx, second.ID)
	require.ErrorIs(t, err, ErrNotFound, "who has an hour waits no more")
	_, err = s.Waiting(ctx, first.ID)
	require.NoError(t, err, "who let one go waits on")

	_, err = s.Cancel(ctx, taken.ID, taken.Version)
	require.NoError(t, err)
	require.Len(t, offer(first), 1)
	require.NoError(t, s.LeaveHeld(ctx, first.ID, offer(first)[0].ID))
	require.NoError(t, s.LeaveHeld(ctx, first.ID, "gone"), "leaving what is gone")
	assert.True(t, isFree(t, s, far), "when nobody is left in the line it is free for all")
}

// A client who has an hour already is offered only an earlier one, and taking it moves what she has.
func TestAnEarlierHourIsOfferedToWhoHasALaterOne(t *testing.T) {
	s, _ := newStore(t)
	c, waits := sent(t, s, nil), sent(t, s, nil)
	early, late := booked(t, s, c, friday.AddDate(0, 0, 7)), booked(t, s, c, friday.AddDate(0, 0, 21))
	hers := booked(t, s, waits, friday.AddDate(0, 0, 14))
	require.NoError(t, s.WaitFor(ctx, waits.ID, Fitting, InPerson))
	_, err := s.Cancel(ctx, late.ID, late.Version)
	require.NoError(t, err)
	list, err := s.Holds(ctx, waits.ID)
	require.NoError(t, err)
	require.Empty(t, list, "a later hour helps nobody")
	_, err = s.Cancel(ctx, early.ID, early.Version)
	require.NoError(t, err)
	list, err = s.Holds(ctx, waits.ID)
	require.NoError(t, err)
	require.Len(t, list, 1)
	moved, err := s.TakeHeld(ctx, waits.ID, list[0].ID)
	require.NoError(t, err)
	assert.Equal(t, hers.ID, moved.ID)
	assert.Equal(t, early.Start, moved.Start)
}

func TestManyAtOnceHoldAndBookOneHour(t *testing.T) {
	s, _ := newStore(t)
	c := make([]Commission, 12)
	for i := range c {
		c[i] = sent(t, s, nil)
	}
	var wait sync.WaitGroup
	failed := make([]error, len(c))
	for i := range c {
		wait.Go(func() {
			if i%2 == 0 {
				_, failed[i] = s.Book(ctx, c[i].ID, Fitting, InPerson, friday.Add(-quarter))
				return
			}
			_, failed[i] = s.Hold(ctx, c[i].ID, Consultation, InPerson, "", friday)
		})
	}
	wait.Wait()
	won := 0
	for _, err := range failed {
		if err == nil {
			won++
		} else {
			require.ErrorIs(t, err, ErrTaken)
		}
	}
	require.Equal(t, 1, won, "of holds and bookings over one quarter exactly one stands")
}

func TestMissedIsCountedAndNobodyScolded(t *testing.T) {
	s, clock := newStore(t)
	c := sent(t, s, nil)
	a := booked(t, s, c, friday)
	_, err := s.MarkMissed(ctx, a.ID, a.Version, true)
	problem(t, err, "start")
	clock.set(friday.Add(time.Hour))
	_, err = s.MarkMissed(ctx, a.ID, a.Version+1, true)
	require.ErrorIs(t, err, ErrConflict)
	a, err = s.MarkMissed(ctx, a.ID, a.Version, true)
	require.NoError(t, err)
	require.True(t, a.Missed)
	n, err := s.MissedBy(ctx, c.ID)
	require.NoError(t, err)
	require.Equal(t, 1, n)
	lastLetter(t, s, c, 1)
	_, err = s.MarkMissed(ctx, a.ID, a.Version, false)
	require.NoError(t, err)
	n, err = s.MissedBy(ctx, c.ID)
	require.NoError(t, err)
	require.Zero(t, n, "taken back")
}

func TestLettersSayTheHourInBothZones(t *testing.T) {
	for zone, want := range map[string]string{
		"Asia/Kathmandu":   "at 11:00 in the studio’s time, which is Friday, 15 January 2027, at 16:45 in yours",
		"Pacific/Auckland": "at 11:00 in the studio’s time, which is Saturday, 16 January 2027, at 00:00 in yours",
		"Europe/Lisbon":    "Friday, 15 January 2027, at 11:00. Please",
	} {
		s, _ := newStore(t)
		c := sent(t, s, nil)
		require.NoError(t, s.SetZone(ctx, c.ClientID, zone))
		booked(t, s, c, friday)
		assert.Contains(t, lastLetter(t, s, c, 1).Body, want, zone)
		problem(t, s.SetZone(ctx, c.ClientID, "Nowhere/Town"), "zone")
	}
}

func TestADayMayHaveHoursOfItsOwn(t *testing.T) {
	s, _ := newStore(t)
	st := firstStudio()
	st.Rules.Exceptions = []DayHours{{"2027-01-15", 18 * 60, 20 * 60}, {"2027-01-17", 10 * 60, 11 * 60}}
	st.Rules.Buffers = map[string]int{Fitting: 60}
	_, err := s.SaveStudio(ctx, st)
	require.NoError(t, err)
	free, err := s.Free(ctx, Fitting, friday.Add(-11*time.Hour), friday.AddDate(0, 0, 3).Add(-11*time.Hour))
	require.NoError(t, err)
	assert.Equal(t, []string{"15 18:00", "15 18:15", "15 18:30", "15 18:45", "15 19:00", "15 19:15", "17 10:00", "17 10:15"}, walls(free, time.UTC, "02 15:04"))
	booked(t, s, sent(t, s, nil), friday.Add(7*time.Hour)) // 18:00 to 18:45, and an hour for itself
	assert.False(t, isFree(t, s, friday.Add(8*time.Hour+30*time.Minute-quarter*4)))
	assert.False(t, isFree(t, s, friday.Add(8*time.Hour+15*time.Minute)))
	st.Version, st.Rules.Exceptions = 1, []DayHours{{"2027-01-15", 900, 800}}
	_, err = s.SaveStudio(ctx, st)
	problem(t, err, "exceptions")
}

// The line is played by a child that is killed after every statement in turn.
func offersInChild() error {
	return killed(func(s *Store) error {
		hers, waits := os.Getenv("PERCHBOOK_TEST_HERS"), os.Getenv("PERCHBOOK_TEST_WAITS")
		h, err := s.Hold(ctx, hers, Fitting, InPerson, "", friday.AddDate(0, 0, 14))
		if err != nil {
			return err
		}
		a, err := s.TakeHeld(ctx, hers, h.ID)
		if err != nil {
			return err
		}
		fmt.Println("SAID taken")
		if _, err := s.CancelHers(ctx, hers, a.ID); err != nil {
			return err
		}
		fmt.Println("SAID offered")
		list, err := s.Holds(ctx, waits)
		if err == nil && len(list) == 1 {
			_, err = s.TakeHeld(ctx, waits, list[0].ID)
		}
		fmt.Println("SAID accepted")
		return err
	})
}

func TestBookingsOfTheirOwnSurviveEveryKill(t *testing.T) {
	for n, alive := 1, false; !alive; n++ {
		require.Less(t, n, 100, "the scene does not end")
		dir := t.TempDir()
		s, _ := openAt(t, dir)
		hers, waits := sent(t, s, nil), sent(t, s, nil)
		require.NoError(t, s.WaitFor(ctx, waits.ID, Fitting, InPerson))
		require.NoError(t, s.Close())
		cmd := exec.Command(os.Args[0])
		cmd.Env = append(os.Environ(), childKey+"=offers", "PERCHBOOK_TEST_DIR="+dir, "PERCHBOOK_TEST_HERS="+hers.ID, "PERCHBOOK_TEST_WAITS="+waits.ID, fmt.Sprintf("PERCHBOOK_TEST_DIE_AT=%d", n))
		out, err := cmd.CombinedOutput()
		require.NotContains(t, string(out), "FAILED")
		alive = err == nil
		afterOffers(t, dir, hers, waits, string(out), n)
		if alive {
			require.Greater(t, n, 12, "the child was not killed where it should be")
		}
	}
}

// afterOffers checks that the hour belongs to one whole step of the scene.
func afterOffers(t *testing.T, dir string, hers, waits Commission, said string, n int) {
	t.Helper()
	s, _ := openAt(t, dir)
	defer func() { require.NoError(t, s.Close()) }()
	mine, err := s.Appointments(ctx, hers.ID)
	require.NoError(t, err)
	theirs, err := s.Appointments(ctx, waits.ID)
	require.NoError(t, err)
	held, err := s.Holds(ctx, hers.ID)
	require.NoError(t, err)
	offered, err := s.Holds(ctx, waits.ID)
	require.NoError(t, err)
	lettersOf := func(c Commission) int {
		list, err := s.Letters(ctx, c.ClientID)
		require.NoError(t, err)
		return len(list)
	}
	_, still := s.Waiting(ctx, waits.ID)
	var quarters int64
	require.NoError(t, s.reads(ctx).Model(&quarterRow{}).Count(&quarters).Error)
	stands := len(mine) == 1 && mine[0].State != Cancelled
	state := fmt.Sprint(len(held), stands, len(offered), len(theirs), quarters, lettersOf(hers), lettersOf(waits), errors.Is(still, ErrNotFound))
	whole := map[string]int{"0 false 0 0 0 0 0 false": 0, "1 false 0 0 4 0 0 false": 0, "0 true 0 0 4 1 0 false": 1, "0 false 1 0 4 2 1 false": 2, "0 false 0 1 4 2 2 true": 3}
	step, ok := whole[state]
	require.True(t, ok, "killed after statement %d: half a step is seen: %s", n, state)
	for i, word := range []string{"taken", "offered", "accepted"} {
		if strings.Contains(said, "SAID "+word) {
			require.Greater(t, step, i, "killed after statement %d: %q was said and is lost", n, word)
		}
	}
}
