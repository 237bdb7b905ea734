package orders

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

func TestStudioIsKept(t *testing.T) {
	s, _ := newStore(t)
	first, err := s.Studio(ctx)
	require.NoError(t, err)
	require.Zero(t, first.Version, "usual settings, until she has given hers")
	want := Studio{
		Name: "Tern Lane Workroom", Place: "Saltmere", Reach: "wren@ternlane.example", Zone: "Europe/London",
		Hours: []Hours{{time.Tuesday, 600, 1020}, {time.Saturday, 600, 780}}, ClosedDays: []string{"2027-12-25"},
		BufferMinutes: 30, NoticeHours: 48, Minutes: map[string]int{Consultation: 60, Fitting: 45, Collection: 15},
		Blocks: []float64{100, 115.5, 130}, SideByTradition: "left",
	}
	saved, err := s.SaveStudio(ctx, want)
	require.NoError(t, err)
	want.Version = 1
	require.Equal(t, want, saved)
	read, err := s.Studio(ctx)
	require.NoError(t, err)
	require.Equal(t, want, read)
	_, err = s.SaveStudio(ctx, first)
	require.ErrorIs(t, err, ErrConflict, "somebody saved meanwhile")
	read.Blocks, read.Hours, read.ClosedDays = nil, nil, nil
	read, err = s.SaveStudio(ctx, read)
	require.NoError(t, err, "an empty list is a list")
	require.Empty(t, read.Blocks)
	require.Equal(t, 2, read.Version)
}

func TestStudioThatCannotBe(t *testing.T) {
	s, _ := newStore(t)
	for key, spoil := range map[string]func(*Studio){
		"name":        func(st *Studio) { st.Name = " " },
		"zone":        func(st *Studio) { st.Zone = "Atlantis/Deep" },
		"hours":       func(st *Studio) { st.Hours = []Hours{{time.Monday, 600, 600}} },
		"closed_days": func(st *Studio) { st.ClosedDays = []string{"25 December"} },
		"buffer":      func(st *Studio) { st.BufferMinutes = -1 },
		"notice":      func(st *Studio) { st.NoticeHours = 100000 },
		"minutes":     func(st *Studio) { st.Minutes[Fitting] = 0 },
		"blocks":      func(st *Studio) { st.Blocks = []float64{math.NaN()} },
		"side":        func(st *Studio) { st.SideByTradition = "middle" },
	} {
		st := firstStudio()
		spoil(&st)
		_, err := s.SaveStudio(ctx, st)
		t.Log(problem(t, err, key).Text)
	}
	st := firstStudio()
	st.Zone = "Local"
	_, err := s.SaveStudio(ctx, st)
	problem(t, err, "zone") // it would mean another zone after a move to another machine
	st, err = s.Studio(ctx)
	require.NoError(t, err)
	require.Zero(t, st.Version, "nothing was saved")
}
