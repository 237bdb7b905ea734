package server

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/orders"
)

// Every swatch has its name beside it, in the same label; the shade has a field of its own.
func TestColoursAreSwatchesWithNames(t *testing.T) {
	s := newClientSite(t)
	base := s.begin()
	page := s.see(base + "/ask/outfit_colours")
	q, ok := orders.Questions.Find("outfit_colours")
	require.True(t, ok)
	for _, o := range q.Options {
		at := strings.Index(page, `value="`+o.Value+`"`)
		require.Positive(t, at, o.Label)
		label := page[at : at+strings.Index(page[at:], "</label>")]
		assert.Contains(t, label, "<span>"+o.Label+"</span>")
		if colour := q.Swatch(o.Value); colour != "" {
			assert.Contains(t, label, `fill="`+colour+`"`, o.Label)
		} else {
			assert.NotContains(t, label, "<svg", o.Label)
		}
	}
	got := s.post(base+"/ask/outfit_colours", url.Values{"outfit_colours": {"navy", "ivory"}, "outfit_shade": {"  the blue of   ink "}})
	require.Equal(t, http.StatusSeeOther, got.status)
	assert.Equal(t, "ivory navy", s.draft(base).Answers["outfit_colours"].Value)
	assert.Equal(t, "the blue of ink", s.draft(base).Answers["outfit_shade"].Value)
	got = s.post(base+"/ask/outfit_colours", url.Values{"outfit_colours": {"navy", "none"}, "outfit_shade": {"ink"}})
	require.Equal(t, http.StatusUnprocessableEntity, got.status)
	shows(t, got.body, "one or the other")
	got = s.post(base+"/ask/outfit_colours", url.Values{"outfit_colours": {"navy"}, "skip": {"outfit_colours"}})
	require.Equal(t, http.StatusSeeOther, got.status)
	assert.Empty(t, s.draft(base).Answers["outfit_colours"].Value, "left out")
}

// The milliner sees the outfit's colours, and the elastic's wherever it is looked for.
func TestColoursReachTheBench(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, map[string]string{"outfit_colours": "ivory navy", "hair_colour": "dark_brown"})
	q, _ := orders.Questions.Find("outfit_colours")
	page := b.see(room(c))
	shows(t, page, "Ivory, Navy")
	shows(t, page, `fill="`+q.Swatch("navy")+`"`)
	shows(t, b.see(room(c)+"/settle"), "dark brown, or black")
	f, err := b.store.Fitted(t.Context(), c.ID)
	require.NoError(t, err)
	sheet := cuttingSheetOf(f.Input, f.Settled.Result)
	found := false
	for _, row := range sheet.Besides {
		found = found || strings.HasPrefix(row.Remark, "dark brown, or black")
	}
	assert.True(t, found, "the cutting sheet says which elastic to fetch: %v", sheet.Besides)
	var said strings.Builder
	require.NoError(t, SayFit(&said, f.Settled.Result))
	assert.Equal(t, 2, strings.Count(said.String(), "dark brown, or black"), "among the sizes and among what the hat takes:\n%s", said.String())
}
