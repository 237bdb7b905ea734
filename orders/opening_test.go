package orders

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// inZone is a store of a studio in that zone that is open in these hours on every day.
func inZone(t *testing.T, zone string, opens, shuts int) (*Store, *clock, *time.Location) {
	t.Helper()
	s, c := newStore(t)
	st := firstStudio()
	st.Zone, st.NoticeHours, st.Hours = zone, 0, nil
	for day := time.Sunday; day <= time.Saturday; day++ {
		st.Hours = append(st.Hours, Hours{Day: day, Opens: opens, Shuts: shuts})
	}
	_, err := s.SaveStudio(ctx, st)
	require.NoError(t, err)
	loc, err := time.LoadLocation(zone)
	require.NoError(t, err)
	return s, c, loc
}

// walls are the clock times of starts in a zone, with the offset from UTC where it matters.
func walls(list []time.Time, loc *time.Location, layout string) []string {
	var words []string
	for _, t := range list {
		words = append(words, t.In(loc).Format(layout))
	}
	return words
}

// On the days when the clock is moved a workroom opens and shuts by the clock on its wall as ever.
func TestOpeningFollowsTheWallClockWhenItIsMoved(t *testing.T) {
	for zone, days := range map[string][]string{
		"Europe/London":       {"2027-03-27", "2027-03-28", "2027-03-29", "2027-10-30", "2027-10-31", "2027-11-01"},
		"America/New_York":    {"2027-03-13", "2027-03-14", "2027-03-15", "2027-11-06", "2027-11-07", "2027-11-08"},
		"Australia/Lord_Howe": {"2027-04-03", "2027-04-04", "2027-04-05", "2027-10-02", "2027-10-03", "2027-10-04"},
	} {
		s, clock, loc := inZone(t, zone, 10*60, 12*60)
		for _, day := range days {
			midnight, err := time.ParseInLocation(time.DateOnly, day, loc)
			require.NoError(t, err)
			clock.set(midnight.Add(-time.Hour))
			free, err := s.Free(ctx, Fitting, midnight, midnight.AddDate(0, 0, 1))
			require.NoError(t, err)
			assert.Equal(t, []string{"10:00", "10:15", "10:30", "10:45", "11:00", "11:15"}, walls(free, loc, "15:04"), "%s on %s", zone, day)
		}
	}
}

// A workroom that is open while the clock is moved loses the hour that does not exist, and has the
// one that comes twice.
func TestOpeningWhileTheClockIsMoved(t *testing.T) {
	for name, row := range map[string]struct {
		zone, day string
		want      []string
	}{
		"London, an hour is skipped": {"Europe/London", "2027-03-28",
			[]string{"00:30 +0000", "00:45 +0000", "02:00 +0100", "02:15 +0100"}},
		"London, an hour comes twice": {"Europe/London", "2027-10-31",
			[]string{"00:30 +0100", "00:45 +0100", "01:00 +0100", "01:15 +0100", "01:30 +0100", "01:45 +0100",
				"01:00 +0000", "01:15 +0000", "01:30 +0000", "01:45 +0000", "02:00 +0000", "02:15 +0000"}},
		"New York, an hour is skipped": {"America/New_York", "2027-03-14",
			[]string{"00:30 -0500", "00:45 -0500", "01:00 -0500", "01:15 -0500", "01:30 -0500", "01:45 -0500"}},
		"Lord Howe, half an hour is skipped": {"Australia/Lord_Howe", "2027-10-03",
			[]string{"00:30 +1030", "00:45 +1030", "01:00 +1030", "01:15 +1030", "01:30 +1030", "01:45 +1030"}},
		"Lord Howe, half an hour comes twice": {"Australia/Lord_Howe", "2027-04-04",
			[]string{"00:30 +1100", "00:45 +1100", "01:00 +1100", "01:15 +1100", "01:30 +1100", "01:45 +1100",
				"01:30 +1030", "01:45 +1030", "02:00 +1030", "02:15 +1030"}},
	} {
		s, clock, loc := inZone(t, row.zone, 30, 2*60+30) // half past midnight to half past two
		midnight, err := time.ParseInLocation(time.DateOnly, row.day, loc)
		require.NoError(t, err)
		clock.set(midnight.Add(-time.Hour))
		free, err := s.Free(ctx, Collection, midnight, midnight.Add(6*time.Hour))
		require.NoError(t, err)
		assert.Equal(t, row.want, walls(free, loc, "15:04 -0700"), name)
		for i, at := range free {
			if i%2 == 0 { // each has a buffer of a quarter after it
				booked := sent(t, s, nil)
				_, err := s.Book(ctx, booked.ID, Collection, InPerson, at)
				require.NoError(t, err, "%s: what is free at %s can be booked", name, at.In(loc))
			}
		}
	}
}

func TestAnAppointmentKeepsItsLengthAcrossTheChange(t *testing.T) {
	s, clock, loc := inZone(t, "Europe/London", 0, 24*60)
	clock.set(time.Date(2027, 3, 27, 12, 0, 0, 0, time.UTC))
	a, err := s.Book(ctx, sent(t, s, nil).ID, Consultation, InPerson, time.Date(2027, 3, 28, 0, 30, 0, 0, time.UTC))
	require.NoError(t, err)
	require.Equal(t, time.Hour, a.End.Sub(a.Start), "an hour is an hour")
	require.Equal(t, "02:30", a.End.In(loc).Format("15:04"), "though the wall shows two more")
}

func TestFreeLeavesOutWhatCannotBeHad(t *testing.T) {
	s, clock := newStore(t)
	st := firstStudio()
	st.NoticeHours = 2
	st.ClosedDays = []string{"2027-01-14"}
	st.Hours = []Hours{{time.Wednesday, 10 * 60, 12 * 60}, {time.Wednesday, 13 * 60, 14 * 60}, {time.Thursday, 10 * 60, 12 * 60}, {time.Friday, 10*60 + 5, 11*60 + 5}}
	_, err := s.SaveStudio(ctx, st)
	require.NoError(t, err)
	booked(t, s, sent(t, s, nil), time.Date(2027, 1, 13, 13, 15, 0, 0, time.UTC))
	clock.add(20 * time.Minute) // 09:20: notice until 11:20
	free, err := s.Free(ctx, Collection, wednesday.Add(-72*time.Hour), wednesday.Add(72*time.Hour))
	require.NoError(t, err)
	require.Equal(t, []string{"13 11:30", "13 11:45", "15 10:15", "15 10:30", "15 10:45"}, walls(free, time.UTC, "02 15:04"),
		"not before the notice, not over lunch, not against the buffer at 13:00, not on the closed day, not over ragged edges")
	free, err = s.Free(ctx, Collection, wednesday, wednesday)
	require.NoError(t, err)
	require.Empty(t, free)
	_, err = s.Free(ctx, "party", wednesday, wednesday.Add(time.Hour))
	problem(t, err, "kind")
}

func TestEverythingFreeCanBeBookedAndNothingElse(t *testing.T) {
	s, _ := newStore(t)
	c := sent(t, s, nil)
	for _, at := range []time.Time{tomorrow, tomorrow.Add(150 * time.Minute)} {
		booked(t, s, c, at)
	}
	from, to := tomorrow.Add(-4*time.Hour), tomorrow.Add(8*time.Hour)
	free, err := s.Free(ctx, Consultation, from, to)
	require.NoError(t, err)
	isFree := map[int64]bool{}
	for _, at := range free {
		isFree[at.Unix()] = true
	}
	for at := from; at.Before(to); at = at.Add(quarter) {
		a, err := s.Book(ctx, c.ID, Consultation, ByVideo, at)
		require.Equal(t, isFree[at.Unix()], err == nil, "%s: %v", at, err)
		if err == nil {
			_, err = s.Cancel(ctx, a.ID, a.Version)
			require.NoError(t, err)
		}
	}
}
