package server

import (
	"bytes"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/orders"
)

// noteFitting posts the form of a fitting note with files.
func (b *benchSite) noteFitting(c orders.Commission, fields map[string]string, files ...[]byte) reply {
	b.t.Helper()
	var body bytes.Buffer
	w := multipart.NewWriter(&body)
	for key, value := range fields {
		require.NoError(b.t, w.WriteField(key, value))
	}
	for _, f := range files {
		part, err := w.CreateFormFile("photographs", "fitting.png")
		require.NoError(b.t, err)
		_, err = part.Write(f)
		require.NoError(b.t, err)
	}
	require.NoError(b.t, w.Close())
	r := httptest.NewRequest(http.MethodPost, room(c)+"/fitting", &body)
	r.Header.Set("Content-Type", w.FormDataContentType())
	return b.do(r)
}

func TestAFittingIsWrittenDownAndLearnedFrom(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	shows(t, b.see(room(c)+"/fitting"), "Sign off a fit sheet first")
	b.signed(c)
	page := b.see(room(c) + "/fitting")
	cut := b.fitted(c.ID).Settled.Result.Elastic.Cut
	shows(t, page, tape(cut.Millimetres()).Figure)

	got := b.noteFitting(c, map[string]string{"elastic.cut_mm": shortest(cut.Millimetres()/10-2, 1) + " cm", "hat.sideways_deg": "30", "hat.sideways_deg.way": "-",
		"comfort": "a little tight", "hold": "stays where it is", "changed": "Let out by a finger.", "said": "It feels like nothing.", "reel": "fine round"}, aPhotograph(t))
	require.Equal(t, http.StatusSeeOther, got.status, "%s", inside(got.body))
	page = b.see(room(c) + "/fitting")
	for _, words := range []string{"a little tight", "Let out by a finger.", "It feels like nothing.", "30° her right", "/fittings/"} {
		shows(t, page, words)
	}
	notes, err := b.store.FittingNotes(t.Context(), c.ID)
	require.NoError(t, err)
	require.Len(t, notes, 1)
	require.Len(t, notes[0].Photos, 1)
	assert.Equal(t, "image/jpeg", b.get(room(c)+"/fittings/"+notes[0].Photos[0]).kind)
	other := b.enquiry(orders.DoorWeb, map[string]string{"name": "Pim Fennick"})
	assert.Equal(t, http.StatusNotFound, b.get(room(other)+"/fittings/"+notes[0].Photos[0]).status)

	after := b.fitted(other.ID).Proposal.Result
	assert.Negative(t, float64(after.Elastic.Learned), "the next elastic is cut a little shorter")
	page = b.see("/workroom/learned")
	shows(t, page, "fine round: cut 5 mm shorter")
	shows(t, page, c.Number)
	page = b.accepted("/workroom/learned", say("learning", "off"))
	shows(t, page, "engine alone")
	assert.Zero(t, b.fitted(other.ID).Proposal.Result.Elastic.Learned)
	b.accepted("/workroom/learned", say("learning", "on"))
	assert.NotZero(t, b.fitted(other.ID).Proposal.Result.Elastic.Learned)
}

func TestAFittingNoteSaysBesideTheFieldWhatIsWrong(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	b.signed(c)
	got := b.noteFitting(c, map[string]string{"elastic.cut_mm": "long", "hat.forward_deg": "-5", "said": "Lovely."})
	require.Equal(t, http.StatusUnprocessableEntity, got.status)
	for _, key := range []string{"elastic.cut_mm", "hat.forward_deg"} {
		assert.Contains(t, got.body, `id="f-`+key+`-problem"`)
	}
	shows(t, got.body, "Lovely.")
	got = b.noteFitting(c, map[string]string{"said": ""})
	require.Equal(t, http.StatusUnprocessableEntity, got.status)
	shows(t, got.body, "at least one thing")
	got = b.noteFitting(c, map[string]string{"said": "Lovely."}, []byte("no picture"))
	require.Equal(t, http.StatusUnprocessableEntity, got.status)
	shows(t, got.body, "JPEG or a PNG")
	got = b.noteFitting(c, map[string]string{"comfort": "heavenly"})
	require.Equal(t, http.StatusUnprocessableEntity, got.status)
}

// At a fitting the next thing is to write it down, and after a step back for a second one to write that
// down too.
func TestTheFittingNoteIsTheNextThingAtAFitting(t *testing.T) {
	b := signedInBench(t)
	c := b.finishing()
	step := func() string {
		_, after, _ := strings.Cut(b.see(room(c)), `<div class="next">`)
		words, _, _ := strings.Cut(after, "</div>")
		return words
	}
	b.now = b.now.Add(time.Hour)
	b.accepted(room(c)+"/move", b.moved(c, orders.InFitting, "why", "The brim sits too high."))
	shows(t, step(), room(c)+"/fitting")
	b.now = b.now.Add(time.Minute)
	require.Equal(t, http.StatusSeeOther, b.noteFitting(c, map[string]string{"changed": "Brim steamed again."}).status)
	shows(t, step(), "Move on")
	b.now = b.now.Add(time.Minute)
	b.accepted(room(c)+"/move", b.moved(c, orders.Finishing))
	b.accepted(room(c)+"/move", b.moved(c, orders.InFitting, "why", "Once more."))
	shows(t, step(), "Write a fitting note")
}
