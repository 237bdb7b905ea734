package orders

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var tomorrow = time.Date(2027, 1, 14, 11, 0, 0, 0, time.UTC)

func booked(t testing.TB, s *Store, c Commission, at time.Time) Appointment {
	t.Helper()
	a, err := s.Book(ctx, c.ID, Fitting, InPerson, at)
	require.NoError(t, err, "book")
	return a
}

// lastLetter is the newest in a client's book, of which there must be so many.
func lastLetter(t testing.TB, s *Store, c Commission, count int) Letter {
	t.Helper()
	letters, err := s.Letters(ctx, c.ClientID)
	require.NoError(t, err)
	require.Len(t, letters, count, "letters in the book")
	return letters[count-1]
}

func TestBookAndWhatFollows(t *testing.T) {
	s, _ := newStore(t)
	c := sent(t, s, nil)
	a := booked(t, s, c, tomorrow)
	assert.Equal(t, Appointment{
		ID: a.ID, CommissionID: c.ID, CommissionNumber: c.Number, ClientName: "Nella Quill", Kind: Fitting, Place: InPerson,
		State: Booked, Start: tomorrow, End: tomorrow.Add(45 * time.Minute), Changed: wednesday, Version: 1,
	}, a)
	l := lastLetter(t, s, c, 1)
	assert.Contains(t, l.Body, "fitting is booked for Thursday, 14 January 2027, at 11:00")

	a, err := s.Confirm(ctx, a.ID)
	require.NoError(t, err)
	assert.Equal(t, Confirmed, a.State)
	lastLetter(t, s, c, 2)
	a, err = s.Confirm(ctx, a.ID)
	require.NoError(t, err, "confirming again")
	lastLetter(t, s, c, 2)

	a, err = s.AskToMove(ctx, a.ID, "  not before noon ")
	require.NoError(t, err)
	assert.Equal(t, MoveAsked, a.State)
	assert.Equal(t, "not before noon", a.Wish)
	letters, err := s.Letters(ctx, c.ClientID)
	require.NoError(t, err)
	require.Len(t, letters, 4, "her wish and the answer to it")
	assert.Equal(t, "not before noon", letters[2].Body)
	assert.Equal(t, Received, letters[2].State)
	assert.False(t, letters[2].Out)

	later := tomorrow.Add(2 * time.Hour)
	a, err = s.Rebook(ctx, a.ID, a.Version, later)
	require.NoError(t, err)
	assert.Equal(t, Booked, a.State, "a new time is confirmed anew")
	assert.Empty(t, a.Wish)
	assert.Equal(t, later, a.Start)
	assert.Equal(t, 1, a.Sequence, "calendars take it for a change")
	assert.Contains(t, lastLetter(t, s, c, 5).Body, "moved to Thursday, 14 January 2027, at 13:00")
	booked(t, s, c, tomorrow) // the old hour is free again

	a, err = s.Cancel(ctx, a.ID, a.Version)
	require.NoError(t, err)
	assert.Equal(t, Cancelled, a.State)
	assert.Equal(t, 2, a.Sequence)
	assert.Contains(t, lastLetter(t, s, c, 7).Body, "cancelled")
	booked(t, s, c, later) // and so is this one

	_, err = s.Confirm(ctx, a.ID)
	problem(t, err, "start")
	_, err = s.Rebook(ctx, a.ID, a.Version, later.Add(time.Hour))
	problem(t, err, "start")
}

func TestWhatCannotBeBooked(t *testing.T) {
	s, _ := newStore(t)
	c := sent(t, s, nil)
	st, err := s.SaveStudio(ctx, func() Studio { st := firstStudio(); st.ClosedDays = []string{"2027-01-15"}; return st }())
	require.NoError(t, err)
	require.Equal(t, 1, st.Version)
	for name, at := range map[string]time.Time{
		"in the past":             wednesday.Add(-24 * time.Hour).Add(2 * time.Hour),
		"this very moment":        wednesday,
		"off the quarter":         tomorrow.Add(time.Minute),
		"half a second off":       tomorrow.Add(500 * time.Millisecond),
		"before opening":          tomorrow.Add(-2 * time.Hour),
		"ending after closing":    time.Date(2027, 1, 14, 16, 30, 0, 0, time.UTC),
		"on a Sunday":             time.Date(2027, 1, 17, 11, 0, 0, 0, time.UTC),
		"on a closed day":         time.Date(2027, 1, 15, 11, 0, 0, 0, time.UTC),
		"in a year far from here": time.Date(2072, 1, 14, 11, 0, 0, 0, time.UTC),
		"at no time":              {},
	} {
		_, err := s.Book(ctx, c.ID, Fitting, InPerson, at)
		t.Log(name, problem(t, err, "start").Text)
	}
	_, err = s.Book(ctx, c.ID, "party", InPerson, tomorrow)
	problem(t, err, "kind")
	_, err = s.Book(ctx, c.ID, Fitting, "on the moon", tomorrow)
	problem(t, err, "place")
	_, err = s.Book(ctx, newID(), Fitting, InPerson, tomorrow)
	require.ErrorIs(t, err, ErrNotFound)
	all, err := s.Appointments(ctx, c.ID)
	require.NoError(t, err)
	require.Empty(t, all, "none of them was written")
	letters, err := s.Letters(ctx, c.ClientID)
	require.NoError(t, err)
	require.Empty(t, letters, "and the client was told of none")
}

func TestOverlapsAreTakenBuffersIncluded(t *testing.T) {
	s, _ := newStore(t)
	c := sent(t, s, nil)
	booked(t, s, c, tomorrow) // 11:00 to 11:45, free again from 12:00
	for name, at := range map[string]time.Time{
		"the same hour":             tomorrow,
		"beginning within it":       tomorrow.Add(30 * time.Minute),
		"beginning in its buffer":   tomorrow.Add(45 * time.Minute),
		"ending within it":          tomorrow.Add(-15 * time.Minute),
		"with its own buffer in it": tomorrow.Add(-45 * time.Minute),
	} {
		_, err := s.Book(ctx, c.ID, Fitting, ByVideo, at)
		require.ErrorIs(t, err, ErrTaken, name)
	}
	_, err := s.Book(ctx, c.ID, Consultation, ByVideo, tomorrow.Add(-time.Hour)) // 60 minutes and a buffer of 15
	require.ErrorIs(t, err, ErrTaken, "a longer kind")
	booked(t, s, c, tomorrow.Add(time.Hour))
	booked(t, s, c, tomorrow.Add(-time.Hour))
	lastLetter(t, s, c, 3)
}

func TestMovingIntoATakenHourChangesNothing(t *testing.T) {
	s, _ := newStore(t)
	c := sent(t, s, nil)
	booked(t, s, c, tomorrow)
	a := booked(t, s, c, tomorrow.Add(2*time.Hour))
	_, err := s.Rebook(ctx, a.ID, a.Version, tomorrow.Add(30*time.Minute))
	require.ErrorIs(t, err, ErrTaken)
	after, err := s.Appointment(ctx, a.ID)
	require.NoError(t, err)
	require.Equal(t, a, after, "it stays where it was")
	_, err = s.Book(ctx, c.ID, Fitting, InPerson, a.Start)
	require.ErrorIs(t, err, ErrTaken, "and keeps its hour")
	moved, err := s.Rebook(ctx, a.ID, a.Version, a.Start.Add(15*time.Minute))
	require.NoError(t, err, "its own hour does not stand in its way")
	_, err = s.Rebook(ctx, a.ID, a.Version, a.Start)
	require.ErrorIs(t, err, ErrConflict, "an old version")
	_, err = s.Cancel(ctx, a.ID, a.Version)
	require.ErrorIs(t, err, ErrConflict, "an old version")
	require.Equal(t, a.Version+1, moved.Version)
}

func TestWhatHasPassedIsNotConfirmed(t *testing.T) {
	s, clock := newStore(t)
	a := booked(t, s, sent(t, s, nil), tomorrow)
	clock.set(tomorrow.Add(time.Minute))
	_, err := s.Confirm(ctx, a.ID)
	problem(t, err, "start")
	_, err = s.AskToMove(ctx, a.ID, "later")
	problem(t, err, "start")
	_, err = s.AskToMove(ctx, a.ID, "  ")
	problem(t, err, "wish")
}

func TestDiaryShowsWhatOverlaps(t *testing.T) {
	s, _ := newStore(t)
	c := sent(t, s, nil)
	first, second := booked(t, s, c, tomorrow), booked(t, s, c, tomorrow.Add(3*time.Hour))
	gone := booked(t, s, c, tomorrow.Add(5*time.Hour))
	_, err := s.Cancel(ctx, gone.ID, gone.Version)
	require.NoError(t, err)
	list, err := s.Diary(ctx, tomorrow.Add(44*time.Minute), tomorrow.Add(24*time.Hour))
	require.NoError(t, err)
	require.Equal(t, []Appointment{first, second}, list, "what runs at the beginning is shown, what was cancelled is not")
	list, err = s.Diary(ctx, first.End, second.Start)
	require.NoError(t, err)
	require.Empty(t, list, "touching is no overlap")
}

func TestPlacesOfEachKind(t *testing.T) {
	s, _ := newStore(t)
	c := sent(t, s, nil)
	for kind, place := range map[string]string{Collection: ByVideo, Fitting: ByPost, Consultation: "on the moon"} {
		_, err := s.Book(ctx, c.ID, kind, place, tomorrow)
		var p *Problem
		require.ErrorAs(t, err, &p, "a %s %s", kind, place)
		require.Equal(t, "place", p.Key)
	}
	_, err := s.Book(ctx, c.ID, Collection, ByPost, tomorrow)
	require.NoError(t, err, "a hat may go by post")
}
