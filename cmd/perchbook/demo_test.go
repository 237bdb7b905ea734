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
		assert.Len(t, coming, 5, "coming hours on %s", now)
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
	s, ctx := demoStore(t), t.Context()
	all, err := s.Commissions(ctx)
	require.NoError(t, err)
	slices.SortFunc(all, func(a, b orders.Commission) int { return a.Made.Compare(b.Made) })
	require.True(t, slices.IsSortedFunc(all, func(a, b orders.Commission) int { return strings.Compare(a.Number, b.Number) }), "numbers run with time")
	var past, coming, in, out, photos, children, missing, refused int
	states := map[string]int{}
	for _, c := range all {
		d, err := s.Draft(ctx, c.DraftID)
		require.NoError(t, err, c.Number)
		_, again := orders.Questions.Next(d.Answers)
		assert.False(t, again, "%s was sent with a needed answer missing", c.Number)
		f, err := s.Fitted(ctx, c.ID)
		require.NoError(t, err, c.Number)
		if f.Child {
			children++
		}
		if len(f.Missing) > 0 {
			missing++
		}
		if f.Broken != nil {
			refused++
			t.Errorf("%s (%s): %s", c.Number, c.Stage, f.Broken.Why)
		}
		sheets, err := s.Sheets(ctx, c.ID)
		require.NoError(t, err)
		if signedBy(c.Stage) {
			assert.NotEmpty(t, sheets, "%s is %s without a fit sheet", c.Number, c.Stage)
		}
		for _, sheet := range sheets {
			in, out, err := sheet.Read()
			require.NoError(t, err)
			assert.Positive(t, out.Elastic.Cut.Millimetres())
			assert.True(t, in.Hat.Complete(), "the sheet holds the whole hat")
			assert.True(t, json.Valid(sheet.Proposal))
		}
		history, err := s.History(ctx, c.ID)
		require.NoError(t, err)
		for i, m := range history {
			assert.False(t, m.At.After(time.Now()), "%s moves in the future", c.Number)
			assert.True(t, i == 0 || !m.At.Before(history[i-1].At), "the history of %s goes back in time", c.Number)
		}
		hours, err := s.Appointments(ctx, c.ID)
		require.NoError(t, err)
		for _, a := range hours {
			states[a.State]++
			if a.Start.After(time.Now()) {
				coming++
			} else {
				past++
			}
		}
		letters, err := s.Letters(ctx, c.ClientID)
		require.NoError(t, err)
		for _, l := range letters {
			_, err := s.FillLinks(ctx, l)
			require.NoError(t, err)
			assert.False(t, l.At.After(time.Now()), "a letter of %s is from the future", c.Number)
			if l.Out {
				out++
			} else {
				in++
			}
		}
		for _, id := range bytes.Fields([]byte(d.Answers["photographs"].Value)) {
			p, err := s.Photo(ctx, d.ID, string(id))
			require.NoError(t, err)
			_, err = jpeg.Decode(bytes.NewReader(p.JPEG))
			require.NoError(t, err)
			photos++
		}
		byLink, err := s.CommissionByLink(ctx, s.CommissionLink(c))
		require.NoError(t, err)
		assert.Equal(t, c, byLink)
	}
	for what, n := range map[string]int{"past hours": past, "coming hours": coming, "letters in": in, "letters out": out,
		"photographs": photos, "children": children, "missing tapes": missing} {
		assert.Positive(t, n, "the demonstration shows no %s", what)
	}
	for _, state := range []string{orders.Booked, orders.Confirmed, orders.MoveAsked, orders.Cancelled} {
		assert.Positive(t, states[state], "no appointment is %s", state)
	}
}
