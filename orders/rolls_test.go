package orders

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// sage is a roll of cloth of which everything has been said.
func sage() RollCloth {
	return RollCloth{Colour: "Sage green", Swatch: "#8a9a5b", Width: 905, SwatchWidth: 100, SwatchLength: 200, SwatchWeighed: 2.4, BiasMarked: 200, BiasPulled: 244, Note: "a firm one"}
}

func aRoll(t testing.TB, s *Store, made RollCloth, length int) Roll {
	t.Helper()
	r, err := s.AddRoll(ctx, made, length, "Wren")
	require.NoError(t, err)
	return r
}

func theRoll(t testing.TB, s *Store, number int) Roll {
	t.Helper()
	r, err := s.Roll(ctx, number)
	require.NoError(t, err)
	return r
}

func TestASwatchSaysWhatTheClothWeighs(t *testing.T) {
	assert.InDelta(t, 120, sage().Density(), 1e-9, "2.4 g on a fiftieth of a square metre")
	assert.InDelta(t, 0.22, sage().BiasStretch(), 1e-9, "44 mm on 20 cm")
	assert.InDelta(t, 104, RollCloth{Weight: 104}.Density(), 1e-9, "as the shop says")
	assert.Zero(t, RollCloth{}.Density())
	assert.Zero(t, RollCloth{}.BiasStretch())
}

func TestARollIsKeptAsItIsSaid(t *testing.T) {
	s, clock := newStore(t)
	made := sage()
	made.Colour, made.Swatch = "  Sage green ", "#8A9A5B"
	r := aRoll(t, s, made, 2400)
	assert.Equal(t, Roll{Number: 1, Made: sage(), Version: 1, Left: 2400, Free: 2400}, r)
	assert.Equal(t, "Roll 1, Sage green", r.Named())
	plain := aRoll(t, s, RollCloth{Colour: "Ivory"}, 0)
	assert.Equal(t, Roll{Number: 2, Made: RollCloth{Colour: "Ivory"}, Version: 1}, plain, "still to be bought")

	clock.add(time.Hour)
	id := NewEntryID()
	require.NoError(t, s.Buy(ctx, 2, id, 3000, " from the mill ", "Wren"))
	require.NoError(t, s.Buy(ctx, 2, id, 3000, "from the mill", "Wren"), "sent twice")
	counted, err := s.Count(ctx, 2, NewEntryID(), 2950, "the end is stained", "Alder")
	require.NoError(t, err)
	assert.Equal(t, 2950, counted.Free)
	list, next, err := s.Entries(ctx, 2, "", 10)
	require.NoError(t, err)
	assert.Empty(t, next)
	require.Len(t, list, 2, "once, though it was sent twice")
	counting := list[0]
	counting.ID = ""
	assert.Equal(t, RollEntry{Entry: Entry{Roll: 2, Kind: Counted, LeftBy: -50, FreeBy: -50, Left: 2950, Free: 2950, Note: "the end is stained", By: "Alder", At: clock.now().UTC()}}, counting)
	assert.Equal(t, "from the mill", list[1].Note)

	made.Colour = "Moss"
	require.NoError(t, s.SaveRoll(ctx, 1, 1, made))
	require.ErrorIs(t, s.SaveRoll(ctx, 1, 1, made), ErrConflict, "the version is old")
	require.ErrorIs(t, s.SaveRoll(ctx, 9, 1, made), ErrNotFound)
	assert.Equal(t, 2400, theRoll(t, s, 1).Left, "no length changes with what is said of it")
	_, err = s.Count(ctx, 1, "short", 5, "why", "Wren")
	require.ErrorIs(t, err, ErrNotFound, "an id that the form never had")
}

func TestRollsThatCannotBe(t *testing.T) {
	s, _ := newStore(t)
	for key, spoil := range map[string]func(*RollCloth){
		"colour":         func(r *RollCloth) { r.Colour = " " },
		"swatch":         func(r *RollCloth) { r.Swatch = "red" },
		"width":          func(r *RollCloth) { r.Width = math.NaN() },
		"weight":         func(r *RollCloth) { r.Weight = 104 }, // and a swatch
		"swatch_width":   func(r *RollCloth) { r.SwatchWidth = 0 },
		"swatch_length":  func(r *RollCloth) { r.SwatchLength = math.Inf(1) },
		"swatch_weighed": func(r *RollCloth) { r.SwatchWeighed = 240 },
		"bias_marked":    func(r *RollCloth) { r.BiasMarked = 0 },
		"bias_pulled":    func(r *RollCloth) { r.BiasPulled = 200 },
		"note":           func(r *RollCloth) { r.Note = strings.Repeat("x", 501) },
	} {
		made := sage()
		spoil(&made)
		_, err := s.AddRoll(ctx, made, 100, "Wren")
		t.Log(problem(t, err, key).Text)
	}
	for _, length := range []int{-1, MostRollLength + 1} {
		_, err := s.AddRoll(ctx, sage(), length, "Wren")
		problem(t, err, "length")
	}
	list, _, err := s.Rolls(ctx, false, 0, 10)
	require.NoError(t, err)
	require.Empty(t, list, "nothing of a refused roll stays")

	r := aRoll(t, s, sage(), 1000)
	problem(t, s.Buy(ctx, r.Number, NewEntryID(), 0, "", "Wren"), "length")
	problem(t, s.Buy(ctx, r.Number, NewEntryID(), MostRollLength, "", "Wren"), "length") // with what is there
	_, err = s.Count(ctx, r.Number, NewEntryID(), -1, "why", "Wren")
	problem(t, err, "length")
	_, err = s.Count(ctx, r.Number, NewEntryID(), 10, " ", "Wren")
	problem(t, err, "why")
	assert.Equal(t, r, theRoll(t, s, r.Number))
}

func TestAFinishedRollIsPutAwayAndTakenOut(t *testing.T) {
	s, clock := newStore(t)
	r := aRoll(t, s, sage(), 120)
	require.NoError(t, s.PutRollAway(ctx, r.Number, r.Version, "Wren"))
	away := theRoll(t, s, r.Number)
	assert.Equal(t, []any{0, 0, clock.now().UTC()}, []any{away.Left, away.Free, away.PutAway}, "what was left is written off")
	problem(t, s.Buy(ctx, r.Number, NewEntryID(), 100, "", "Wren"), "length")
	at, _, err := s.Rolls(ctx, false, 0, 10)
	require.NoError(t, err)
	assert.Empty(t, at)
	gone, _, err := s.Rolls(ctx, true, 0, 10)
	require.NoError(t, err)
	assert.Len(t, gone, 1)
	require.ErrorIs(t, s.TakeRollOut(ctx, r.Number, r.Version), ErrConflict)
	require.NoError(t, s.TakeRollOut(ctx, r.Number, away.Version))
	assert.Zero(t, theRoll(t, s, r.Number).Left, "until it is counted")
}

func TestRollsAreListedInPages(t *testing.T) {
	s, _ := newStore(t)
	for i := range 7 {
		aRoll(t, s, RollCloth{Colour: fmt.Sprint("Colour ", i)}, 100*i)
	}
	var got []int
	for from := 1; from != 0; {
		list, next, err := s.Rolls(ctx, false, from, 3)
		require.NoError(t, err)
		require.LessOrEqual(t, len(list), 3)
		for _, r := range list {
			got = append(got, r.Number)
		}
		from = next
	}
	assert.Equal(t, []int{1, 2, 3, 4, 5, 6, 7}, got)
	for range 9 {
		require.NoError(t, s.Buy(ctx, 3, NewEntryID(), 10, "", "Wren"))
	}
	var sums []int
	for from := ""; ; {
		list, next, err := s.Entries(ctx, 3, from, 4)
		require.NoError(t, err)
		for _, e := range list {
			sums = append(sums, e.Left)
		}
		if from = next; from == "" {
			break
		}
	}
	assert.Equal(t, []int{290, 280, 270, 260, 250, 240, 230, 220, 210, 200}, sums, "the newest first")
}

// The database itself holds the sums, whoever writes.
func TestNobodyEditsALength(t *testing.T) {
	s, _ := newStore(t)
	r := aRoll(t, s, sage(), 1000)
	for what, statement := range map[string]string{
		"never changed":                  "update roll_entries set left_by = 5",
		"never removed":                  "delete from roll_entries",
		"put away and never removed":     "delete from rolls",
		"only what is empty is put away": "update rolls set put_away = 1",
	} {
		assert.ErrorContains(t, s.writes(ctx).Exec(statement).Error, what)
	}
	entry := entryRow{ID: newID(), Roll: r.Number, Kind: Bought, LeftBy: 5, FreeBy: 5, LeftAfter: 2000, FreeAfter: 2000, Who: "Wren", At: 1}
	assert.ErrorContains(t, s.writes(ctx).Create(&entry).Error, "sums of its entries")
	for what, spoil := range map[string]func(*entryRow){
		"bought below nothing":  func(e *entryRow) { e.LeftBy, e.FreeBy = -5, -5 },
		"a count without a why": func(e *entryRow) { e.Kind = Counted },
		"an unknown kind":       func(e *entryRow) { e.Kind = "lost" },
		"a cut of nothing":      func(e *entryRow) { e.Kind = Used },
		"reserved for nobody":   func(e *entryRow) { e.Kind, e.LeftBy, e.FreeBy = Reserved, 0, -5 },
		"less than nothing":     func(e *entryRow) { e.Kind, e.Note, e.LeftBy, e.FreeBy = Counted, "x", -1001, -1001 },
	} {
		bad := entryRow{ID: newID(), Roll: r.Number, Kind: Bought, LeftBy: 5, FreeBy: 5, Who: "Wren", At: 1}
		spoil(&bad)
		bad.LeftAfter, bad.FreeAfter = 1000+bad.LeftBy, 1000+bad.FreeBy
		assert.Error(t, s.writes(ctx).Create(&bad).Error, what)
	}
	assert.Equal(t, r, theRoll(t, s, r.Number))
}

func TestNotionsAreKeptMarkedAndStruckOff(t *testing.T) {
	s, _ := newStore(t)
	require.NoError(t, s.AddNotion(ctx, " Wire ", false))
	require.NoError(t, s.AddNotion(ctx, "combs", true))
	problem(t, s.AddNotion(ctx, "WIRE", false), "notion")
	problem(t, s.AddNotion(ctx, " ", false), "notion")
	problem(t, s.AddNotion(ctx, strings.Repeat("x", 61), false), "notion")
	list, err := s.Notions(ctx)
	require.NoError(t, err)
	require.Equal(t, []Notion{{list[0].ID, "combs", true}, {list[1].ID, "Wire", false}}, list)
	require.NoError(t, s.MarkNotions(ctx, map[string]bool{list[0].ID: false, list[1].ID: true, newID(): true}))
	require.NoError(t, s.StrikeNotion(ctx, list[0].ID))
	require.NoError(t, s.StrikeNotion(ctx, list[0].ID), "twice")
	left, err := s.Notions(ctx)
	require.NoError(t, err)
	require.Equal(t, []Notion{{list[1].ID, "Wire", true}}, left)
	for i := range MostNotions - 1 {
		require.NoError(t, s.AddNotion(ctx, fmt.Sprint("thread ", i), false))
	}
	problem(t, s.AddNotion(ctx, "one more", false), "notion")
}
