package orders

import (
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// worn is a commission that lived long and was handed over.
func worn(t testing.TB, s *Store, word string) Commission {
	t.Helper()
	c := lived(t, s, word)
	fitted(t, s, c, word, tomorrow)
	require.NoError(t, s.writes(ctx).Exec("delete from kept_on where commission_id = ?", c.ID).Error) // nobody has decided
	c, err := s.Commission(ctx, c.ID)
	require.NoError(t, err)
	return walk(t, s, c, Ready, HandedOver)
}

func past(t testing.TB, s *Store) (numbers []string) {
	t.Helper()
	list, total, err := s.PastKeeping(ctx, 10)
	require.NoError(t, err)
	require.Len(t, list, total)
	for _, c := range list {
		numbers = append(numbers, c.Number)
	}
	return numbers
}

func TestTheMillinerIsAskedWhenThePeriodHasPassed(t *testing.T) {
	s, clock := newStore(t)
	c, underWay := worn(t, s, "Quill"), sent(t, s, nil)
	require.NoError(t, s.SaveKeeping(ctx, Keeping{Months: 6, DraftDays: 30}))
	h, err := s.Held(ctx, c.ID)
	require.NoError(t, err)
	assert.Equal(t, wednesday.AddDate(0, 6, 0), h.Until)
	assert.Equal(t, []int{2, 1, 3}, []int{h.Cards, h.Sheets, h.Photographs}, "cards, sheets and photographs: hers, one with a letter, one of the fitting")
	clock.set(wednesday.AddDate(0, 6, 0))
	assert.Empty(t, past(t, s), "not before it has passed")
	clock.add(time.Minute)
	assert.Equal(t, []string{c.Number}, past(t, s), "a hat under way needs its measurements")

	var problem *Problem
	require.ErrorAs(t, s.KeepOn(ctx, c.ID, "  ", "Wren"), &problem)
	assert.Equal(t, "why", problem.Key)
	require.NoError(t, s.KeepOn(ctx, c.ID, "Quill wants a second one in spring", "Wren"))
	assert.Empty(t, past(t, s), "it was decided")
	clock.set(wednesday.AddDate(0, 12, 0).Add(2 * time.Minute))
	assert.Equal(t, []string{c.Number}, past(t, s), "and is asked again after another period")
	h, err = s.Held(ctx, c.ID)
	require.NoError(t, err)
	require.Len(t, h.Decisions, 1)
	assert.Equal(t, "Quill wants a second one in spring", h.Decisions[0].Why)

	require.ErrorIs(t, s.EraseMeasures(ctx, underWay.ID), ErrConflict)
	require.NoError(t, s.EraseMeasures(ctx, c.ID))
	assert.Empty(t, past(t, s))
}

func TestMeasurementsGoAndTheBooksStay(t *testing.T) {
	dir := t.TempDir()
	s, clock := openAt(t, dir)
	c, other := worn(t, s, "Quill"), lived(t, s, "Marsh")
	before := seenOf(t, s, other)
	backup := filepath.Join(t.TempDir(), "monday.db")
	require.NoError(t, s.Backup(ctx, backup))
	clock.add(time.Hour)
	require.NoError(t, s.EraseMeasures(ctx, c.ID))
	gone := func(s *Store) {
		h, err := s.Held(ctx, c.ID)
		require.NoError(t, err)
		assert.False(t, h.Any(), "%+v is left", h)
		assert.False(t, h.Erased.IsZero())
		d, err := s.Draft(ctx, c.DraftID)
		require.NoError(t, err)
		for _, q := range Questions {
			if q.OfBody() {
				assert.Empty(t, d.Answers[q.Key], "%s is left", q.Key)
			}
		}
		assert.NotEmpty(t, d.Answers["name"].Value)
		amended, err := s.Amendments(ctx, c.DraftID)
		require.NoError(t, err)
		for _, a := range amended {
			q, _ := Questions.Find(a.Key)
			assert.False(t, q.OfBody(), "the change of %s is left", a.Key)
		}
		paid, err := s.Payments(ctx, c.ID)
		require.NoError(t, err)
		assert.NotEmpty(t, paid, "the books stay")
		history, err := s.History(ctx, c.ID)
		require.NoError(t, err)
		assert.NotEmpty(t, history)
		letters, err := s.Letters(ctx, c.ClientID)
		require.NoError(t, err)
		require.NotEmpty(t, letters, "what was written stays")
		for _, l := range letters {
			assert.Equal(t, LetterTalk, l.Kind, "what was typed in the chat holds her figures")
		}
		f, err := s.Fitted(ctx, c.ID)
		require.NoError(t, err)
		assert.NotEmpty(t, f.Missing, "nothing is proposed from nothing")
		nowhere(t, dir, "tender spot", "latex")
	}
	assert.Equal(t, before, seenOf(t, s, other), "nobody else's go")
	_, err := s.Answer(ctx, other.DraftID, "health_consent", Answer{Said: "no"})
	require.NoError(t, err)
	require.NoError(t, s.Erase(ctx, other.ID))
	gone(s)
	require.NoError(t, s.Close())
	s = putBack(t, backup, dir)
	gone(s)
	_, err = s.At(tomorrow).AddCard(ctx, MeasureCard{CommissionID: c.ID, TakenBy: ByMaker, Girth: []float64{575}, NapeToCrown: []float64{231}})
	require.NoError(t, err)
	assert.ErrorContains(t, s.writes(ctx).Exec("delete from measure_cards where commission_id = ?", c.ID).Error, "never removed", "a later card is kept like any other")
}

func TestDraftsStayAsLongAsIsSet(t *testing.T) {
	s, clock := newStore(t)
	k := Keeping{Months: 24, DraftDays: 3}
	require.NoError(t, s.SaveKeeping(ctx, k))
	require.ErrorIs(t, s.SaveKeeping(ctx, k), ErrConflict)
	for _, wrong := range []Keeping{{0, 60, 1}, {121, 60, 1}, {24, 0, 1}, {24, 366, 1}} {
		require.ErrorAs(t, s.SaveKeeping(ctx, wrong), new(*Problem))
	}
	begun(t, s, nil)
	clock.add(72*time.Hour + time.Millisecond)
	n, err := s.Sweep(ctx)
	require.NoError(t, err)
	assert.Equal(t, 1, n)
}
