package orders

import (
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestAQuotationBeingWrittenIsKeptAsTyped(t *testing.T) {
	s, clock := newStore(t)
	c := sent(t, s, nil)
	none, err := s.QuotationDraft(ctx, c.ID)
	require.NoError(t, err)
	require.Zero(t, none.Version)
	d, err := s.KeepQuotation(ctx, QuotationDraft{CommissionID: c.ID, Typed: map[string]string{"says": "A hat", "hours": "many", "rush": ""}}, "Wren")
	require.NoError(t, err)
	again, err := s.QuotationDraft(ctx, c.ID)
	require.NoError(t, err)
	require.Equal(t, QuotationDraft{c.ID, map[string]string{"says": "A hat", "hours": "many"}, 0, "Wren", clock.now().UTC(), 1}, again, "right or wrong, as it was typed")
	require.Equal(t, d, again)

	d.Typed["hours"] = "6"
	_, err = s.KeepQuotation(ctx, d, "Alder")
	require.NoError(t, err)
	for _, version := range []int{0, 1} { // a page that saw none, and one that saw the first
		_, err = s.KeepQuotation(ctx, QuotationDraft{CommissionID: c.ID, Version: version, Typed: map[string]string{"hours": "9"}}, "Wren")
		require.ErrorIs(t, err, ErrConflict, "version %d is old", version)
	}
	require.ErrorIs(t, s.DropQuotation(ctx, c.ID, 1), ErrConflict)
	again, err = s.QuotationDraft(ctx, c.ID)
	require.NoError(t, err)
	require.Equal(t, "6", again.Typed["hours"], "nothing was written over it")

	_, err = s.KeepQuotation(ctx, QuotationDraft{CommissionID: c.ID, Version: 2, Typed: map[string]string{"says": strings.Repeat("a", mostForm)}}, "Wren")
	problem(t, err, "says")
	_, err = s.KeepQuotation(ctx, QuotationDraft{CommissionID: "nothing"}, "Wren")
	require.ErrorIs(t, err, ErrNotFound)
	require.NoError(t, s.DropQuotation(ctx, c.ID, 2))
	none, err = s.QuotationDraft(ctx, c.ID)
	require.NoError(t, err)
	require.Zero(t, none.Version)
}

func TestSendingTakesWhatWasBeingWrittenWithIt(t *testing.T) {
	s, _ := newStore(t)
	c := sent(t, s, nil)
	d, err := s.KeepQuotation(ctx, QuotationDraft{CommissionID: c.ID, Typed: map[string]string{"says": "A hat"}}, "Wren")
	require.NoError(t, err)
	old := d
	d, err = s.KeepQuotation(ctx, d, "Wren")
	require.NoError(t, err)
	_, err = s.QuoteKept(ctx, aQuotation(c, "A hat"), old, "Wren")
	require.ErrorIs(t, err, ErrConflict, "another page has written since")
	_, err = s.QuoteKept(ctx, aQuotation(c, ""), d, "Wren")
	problem(t, err, "says")
	kept, err := s.QuotationDraft(ctx, c.ID)
	require.NoError(t, err)
	require.Equal(t, d, kept, "what can't be sent stays")
	_, err = s.QuoteKept(ctx, aQuotation(c, "A hat"), d, "Wren")
	require.NoError(t, err)
	kept, err = s.QuotationDraft(ctx, c.ID)
	require.NoError(t, err)
	require.Zero(t, kept.Version)
	_, err = s.QuoteKept(ctx, aQuotation(c, "A hat"), d, "Wren")
	require.ErrorIs(t, err, ErrConflict, "pressed twice, sent once")
	_, err = s.KeepQuotation(ctx, d, "Wren")
	require.ErrorIs(t, err, ErrConflict, "a page left open")
}

func TestOfManyPagesThatKeepAtOnceOneCounts(t *testing.T) {
	s, _ := newStore(t)
	c := sent(t, s, nil)
	for version := range 3 {
		var all sync.WaitGroup
		failed := make([]error, 8)
		for i := range failed {
			all.Go(func() {
				_, failed[i] = s.KeepQuotation(ctx, QuotationDraft{CommissionID: c.ID, Version: version}, "Wren")
			})
		}
		all.Wait()
		won := 0
		for _, err := range failed {
			if err == nil {
				won++
			} else {
				assert.ErrorIs(t, err, ErrConflict)
			}
		}
		require.Equal(t, 1, won, "over version %d", version)
	}
}
