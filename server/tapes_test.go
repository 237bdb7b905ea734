package server

import (
	"net/http"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/orders"
)

// What is used of her readings, and how good it is, stands on the next page and in the summary.
func TestTheValueUsedAndItsDoubtAreTold(t *testing.T) {
	s := newClientSite(t)
	base := s.begin()
	s.answerAll(base)
	for _, page := range []string{"/ask/nape?kept=girth", "/check"} {
		shows(t, s.see(base+page), "57.1 cm (22 1/2 in), the average of 57.2, 57.2 and 57.0; good to ± 1.2 cm (1/2 in)")
	}
}

// The third tape is offered once, and what it says of the others is told.
func TestEarToEarChecksTheOthers(t *testing.T) {
	s := newClientSite(t)
	base := s.begin()
	s.answerAll(base)
	hides(t, s.see(base+"/ask/hair_measured?kept=ear_to_ear"), "tapes agree") // it was left out
	shows(t, s.see(base+"/check"), base+"/ask/ear_to_ear?from=check")         // and may still be given

	at := base + "/ask/ear_to_ear"
	got := s.post(at, say("ear_to_ear", "34.8", "ear_to_ear", "34.9", "ear_to_ear", "34.7"))
	require.Equal(t, base+"/ask/hair_measured?kept=ear_to_ear", got.location)
	shows(t, s.see(got.location), "Your 3 tapes agree")
	shows(t, s.see(base+"/check"), "Your 3 tapes agree")

	long := say("ear_to_ear", "38", "ear_to_ear", "38", "ear_to_ear", "38")
	got = s.post(at, long)
	require.Equal(t, http.StatusSeeOther, got.status, got.body)
	page := s.see(got.location)
	shows(t, page, "do not quite agree: the one from ear to ear is about")
	for _, tape := range []string{"girth", "nape", "ear_to_ear"} {
		shows(t, page, `href="`+base+`/ask/`+tape+`?from=check"`) // one tap from taking it again
	}
	shows(t, s.see(base+"/check"), "do not quite agree")
	assert.Equal(t, http.StatusSeeOther, s.post(base+"/send", nil).status, "it keeps nobody from sending")
}

// What a client kept when she was asked about it is marked on the card and where the hat is settled.
func TestAKeptTapeIsMarkedForTheMilliner(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	hides(t, b.see(room(c)), "asked, and kept")
	d, err := b.store.Draft(t.Context(), c.DraftID)
	require.NoError(t, err)
	a := orders.Answer{Value: "640.0 641.0 642.0", Said: "64; 64.1; 64.2", Confirmed: true}
	_, err = b.store.Answer(t.Context(), d.ID, "girth", a)
	require.NoError(t, err)
	page := b.see(room(c))
	shows(t, page, `<p class="kept-mark">unlikely; asked, and kept</p>`)       // on the card
	shows(t, page, `<span class="kept-mark">unlikely; asked, and kept</span>`) // beside the answer
	shows(t, b.see(room(c)+"/settle"), "Round the head: the client was asked about this tape")
}
