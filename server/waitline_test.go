package server

import (
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/orders"
)

// The milliner sees who waits, in which order, and who was offered what until when; and in the week the
// hours that are kept.
func TestWhoWaitsAndWhatIsKept(t *testing.T) {
	b := signedInBench(t)
	shows(t, b.see("/workroom/diary/waiting"), "Nobody waits.")
	hers, first, second := b.enquiry(orders.DoorWeb, nil), b.enquiry(orders.DoorWeb, map[string]string{"name": "Tamsin Reed"}), b.enquiry(orders.DoorWeb, map[string]string{"name": "Orla Finch"})
	for _, c := range []orders.Commission{first, second} {
		page := b.accepted("/workroom/diary/waiting", say("for", c.ID, "kind", orders.Fitting, "place", orders.InPerson))
		shows(t, page, "In the line of those who wait")
	}
	shows(t, b.see("/workroom/diary"), "Who waits for an hour (2)")
	b.accepted("/workroom/diary/book", booking(t, hers, orders.Fitting, "2026-05-14 11:00"))
	a := b.booked(hers)[0]
	_, err := b.store.Cancel(t.Context(), a.ID, a.Version)
	require.NoError(t, err)

	line := inside(b.see("/workroom/diary/waiting"))
	require.Less(t, indexOf(t, line, "Tamsin Reed"), indexOf(t, line, "Orla Finch"), "who came first stands first")
	offer := indexOf(t, line, "Offered: Thu 14 May 2026, 11:00.")
	assert.Less(t, offer, indexOf(t, line, "Orla Finch"), "the offer stands with whom it was made to")
	shows(t, line, "Kept until ")
	week := b.see("/workroom/diary?week=2026-05-14")
	shows(t, week, "fell free and is offered, until")
	shows(t, week, "Tamsin Reed")

	_, err = b.store.Hold(t.Context(), second.ID, orders.Fitting, orders.ByVideo, "", hour(t, "2026-05-14 15:00"))
	require.NoError(t, err)
	shows(t, b.see("/workroom/diary?week=2026-05-14"), "kept while the client decides, until")

	line = inside(b.accepted("/workroom/diary/waiting/"+first.ID+"/stop", nil))
	hides(t, line, "Tamsin Reed</a>")
	shows(t, line, "Offered: Thu 14 May 2026, 11:00.") // it went to the next
	assert.Equal(t, http.StatusNotFound, b.post("/workroom/diary/waiting/none/stop", nil).status)
	refused := b.post("/workroom/diary/waiting", say("for", second.ID, "kind", orders.Fitting, "place", "on the moon"))
	assert.Equal(t, http.StatusUnprocessableEntity, refused.status)
	shows(t, refused.body, "Choose in person or by video.")
}

// indexOf is where words begin on a page on which they have to stand.
func indexOf(t *testing.T, page, words string) int {
	t.Helper()
	shows(t, page, words)
	return strings.Index(page, words)
}
