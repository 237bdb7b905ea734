package main

import (
	"bytes"
	"encoding/json"
	"image/jpeg"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/alexedwards/argon2id"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/orders"
)

func demoStore(t *testing.T) *orders.Store {
	t.Helper()
	s, err := orders.Open(t.Context(), t.TempDir(), orders.Settings{Origin: "http://localhost:8017"})
	require.NoError(t, err)
	t.Cleanup(func() { _ = s.Close() })
	require.NoError(t, fillDemo(t.Context(), s))
	return s
}

func TestDemoHasACommissionInEveryStage(t *testing.T) {
	s := demoStore(t)
	all, err := s.Commissions(t.Context())
	require.NoError(t, err)
	seen := map[orders.Stage]bool{}
	for _, c := range all {
		seen[c.Stage] = true
	}
	for _, stage := range orders.Stages {
		assert.True(t, seen[stage], "no commission is %q", stage)
	}
	require.NoError(t, fillDemo(t.Context(), s), "started again")
	again, err := s.Commissions(t.Context())
	require.NoError(t, err)
	require.Equal(t, all, again, "the demonstration is filled once")
}

// Whatever day the program is tried on, the demonstration has its hours on both sides of it.
func TestDemoCanBeFilledOnAnyDay(t *testing.T) {
	first := time.Date(2026, 12, 21, 3, 0, 0, 0, time.UTC) // over Christmas, and from there through the year
	for i := range 12 {
		now := first.Add(time.Duration(i) * (31*day + 7*time.Hour))
		if i > 5 {
			now = first.Add(time.Duration(i) * 26 * time.Hour)
		}
		s, err := orders.Open(t.Context(), t.TempDir(), orders.Settings{Now: func() time.Time { return now }})
		require.NoError(t, err)
		require.NoError(t, fillDemoAt(t.Context(), s, now), now)
		past, err := s.Diary(t.Context(), now.Add(-8*week), now)
		require.NoError(t, err)
		coming, err := s.Diary(t.Context(), now, now.Add(3*week))
		require.NoError(t, err)
		assert.Len(t, past, 5, "past hours on %s", now)
		assert.Len(t, coming, 6, "coming hours on %s", now)
		line, _, err := s.WaitLine(t.Context(), 5)
		require.NoError(t, err)
		require.Len(t, line, 2, "who waits on %s", now)
		assert.NotNil(t, line[0].Offer, "an hour is offered to the first on %s", now)
		require.NoError(t, s.Close())
	}
}

func TestDemoLeavesAWorkroomInUseAlone(t *testing.T) {
	s, err := orders.Open(t.Context(), t.TempDir(), orders.Settings{})
	require.NoError(t, err)
	t.Cleanup(func() { _ = s.Close() })
	_, err = s.SaveMaker(t.Context(), orders.Maker{Name: "Ash", PasswordHash: "x"})
	require.NoError(t, err)
	require.NoError(t, fillDemo(t.Context(), s))
	all, err := s.Commissions(t.Context())
	require.NoError(t, err)
	require.Empty(t, all)
}

func TestDemoHasLearnedFromFittings(t *testing.T) {
	notes, on, err := demoStore(t).Fittings(t.Context())
	require.NoError(t, err)
	assert.True(t, on)
	assert.Len(t, notes, 3)
}

func TestDemoMakerCanEnter(t *testing.T) {
	m, err := demoStore(t).MakerByName(t.Context(), demoMaker)
	require.NoError(t, err)
	ok, err := argon2id.ComparePasswordAndHash(demoPassword, m.PasswordHash)
	require.NoError(t, err)
	require.True(t, ok, "the password that is printed opens the workroom")
}

// signedBy says which stages imply a signed fit sheet.
func signedBy(stage orders.Stage) bool {
	switch stage {
	case orders.Enquiry, orders.Measured, orders.Withdrawn, orders.Lapsed:
		return false
	}
	return true
}

func TestDemoIsComplete(t *testing.T) {
	s := demoStore(t)
	all, err := s.Commissions(t.Context())
	require.NoError(t, err)
	slices.SortFunc(all, func(a, b orders.Commission) int { return a.Made.Compare(b.Made) })
	require.True(t, slices.IsSortedFunc(all, func(a, b orders.Commission) int { return strings.Compare(a.Number, b.Number) }), "numbers run with time")
	seen := tally{}
	for _, c := range all {
		seen.fit(t, s, c)
		seen.story(t, s, c)
		seen.photographs(t, s, c)
		byLink, err := s.CommissionByLink(t.Context(), s.CommissionLink(c))
		require.NoError(t, err)
		assert.Equal(t, c, byLink)
	}
	for _, what := range []string{"past", "coming", orders.Booked, orders.Confirmed, orders.MoveAsked, orders.Cancelled,
		"letter in", "letter out", "photograph", "child", "tape missing", "proposal alone", "sheet"} {
		assert.Positive(t, seen[what], "the demonstration shows no %s", what)
	}
}

// A tally counts what the demonstration has to show, and checks each on the way.
type tally map[string]int

func (n tally) fit(t *testing.T, s *orders.Store, c orders.Commission) {
	f, err := s.Fitted(t.Context(), c.ID)
	require.NoError(t, err, c.Number)
	switch {
	case f.Child:
		n["child"]++
	case len(f.Missing) > 0:
		n["tape missing"]++
	case f.Broken != nil:
		t.Errorf("%s (%s): %s", c.Number, c.Stage, f.Broken.Why)
	case len(f.Working.Figures) == 0:
		n["proposal alone"]++
	}
	sheets, err := s.Sheets(t.Context(), c.ID)
	require.NoError(t, err)
	assert.True(t, len(sheets) > 0 || !signedBy(c.Stage), "%s is %s without a fit sheet", c.Number, c.Stage)
	for _, sheet := range sheets {
		in, out, err := sheet.Read()
		require.NoError(t, err)
		assert.Positive(t, out.Elastic.Cut.Millimetres())
		assert.True(t, in.Hat.Complete(), "the sheet holds the whole hat")
		assert.True(t, json.Valid(sheet.Proposal))
		n["sheet"]++
	}
}

// story checks that nothing of the past lies in the future, or before what led to it.
func (n tally) story(t *testing.T, s *orders.Store, c orders.Commission) {
	now := time.Now()
	history, err := s.History(t.Context(), c.ID)
	require.NoError(t, err)
	for i, m := range history {
		assert.False(t, m.At.After(now), "%s moves in the future", c.Number)
		assert.True(t, i == 0 || !m.At.Before(history[i-1].At), "the history of %s goes back in time", c.Number)
	}
	hours, err := s.Appointments(t.Context(), c.ID)
	require.NoError(t, err)
	for _, a := range hours {
		n[a.State]++
		n[map[bool]string{true: "coming", false: "past"}[a.Start.After(now)]]++
	}
	letters, err := s.Letters(t.Context(), c.ClientID)
	require.NoError(t, err)
	for _, l := range letters {
		_, err := s.FillLinks(t.Context(), l)
		require.NoError(t, err)
		assert.False(t, l.At.After(now), "a letter of %s is from the future", c.Number)
		n[map[bool]string{true: "letter out", false: "letter in"}[l.Out]]++
	}
}

func (n tally) photographs(t *testing.T, s *orders.Store, c orders.Commission) {
	d, err := s.Draft(t.Context(), c.DraftID)
	require.NoError(t, err, c.Number)
	_, again := orders.Questions.Missing(d.Answers)
	assert.False(t, again, "%s was sent with a needed answer missing", c.Number)
	for id := range strings.FieldsSeq(d.Answers["photographs"].Value) {
		p, err := s.Photo(t.Context(), d.ID, id)
		require.NoError(t, err)
		_, err = jpeg.Decode(bytes.NewReader(p.JPEG))
		require.NoError(t, err)
		n["photograph"]++
	}
}
