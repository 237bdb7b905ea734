package server

import (
	"encoding/json"
	"net/http"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/orders"
)

// hatOf is a client's own page.
func (b *benchSite) hatOf(c orders.Commission) string {
	return orders.CommissionPath + b.store.CommissionLink(c)
}

func TestSheTakesACopyHerself(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, map[string]string{"name": "Odile Marrowby"})
	b.enquiry(orders.DoorWeb, map[string]string{"name": "Pim Fennick"})
	b.cookies = map[string]string{} // she is not signed in
	hers := b.hatOf(c)
	shows(t, b.see(hers), `href="`+hers+`/kept"`)
	shows(t, b.see(hers+"/kept"), `href="`+hers+`/copy"`)
	got := b.get(hers + "/copy")
	require.Equal(t, http.StatusOK, got.status)
	var everything orders.Copy
	require.NoError(t, json.Unmarshal([]byte(got.body), &everything))
	assert.Equal(t, "Odile Marrowby", everything.Name)
	assert.NotContains(t, got.body, "Fennick")
	assert.Equal(t, http.StatusNotFound, b.get(orders.CommissionPath+"x/copy").status)
}

func TestSheTakesACopyOfWhatSheHasNotSent(t *testing.T) {
	s := newClientSite(t)
	base := s.begin()
	s.answerAll(base)
	page := s.see(base + "/kept")
	shows(t, page, `href="`+base+`/copy"`)
	got := s.get(base + "/copy")
	require.Equal(t, http.StatusOK, got.status)
	var everything orders.Copy
	require.NoError(t, json.Unmarshal([]byte(got.body), &everything))
	require.Len(t, everything.Commissions, 1)
	assert.Equal(t, s.draft(base).Answers["girth"].Said, everything.Commissions[0].Answers[slices.IndexFunc(everything.Commissions[0].Answers, func(a orders.CopiedAnswer) bool { return a.Key == "girth" })].Said)
}

func TestSheErasesHerHat(t *testing.T) {
	b := signedInBench(t)
	c, other := b.enquiry(orders.DoorWeb, map[string]string{"name": "Odile Marrowby"}), b.enquiry(orders.DoorWeb, map[string]string{"name": "Pim Fennick"})
	hers := b.hatOf(c)
	shows(t, b.see(hers+"/kept"), `href="`+hers+`/erase"`)
	shows(t, b.see(hers+"/erase"), c.Number)
	for _, wrong := range []string{"", "yes", other.Number} {
		shows(t, b.refused(http.StatusUnprocessableEntity, hers+"/erase", say("number", wrong)), "nothing was erased")
	}
	b.see(hers)
	shows(t, b.accepted(hers+"/erase", say("number", c.Number)), "Nothing of yours is kept here any more")
	for _, gone := range []string{hers, hers + "/copy", hers + "/kept", hers + "/erase", room(c)} {
		assert.Equal(t, http.StatusNotFound, b.get(gone).status, "%s", gone)
	}
	today := b.see("/workroom")
	shows(t, today, "Erased by the client")
	shows(t, today, c.Number)
	hides(t, today, "Odile")
	b.see(b.hatOf(other))
}

// A page for erasing a draft that was sent in meanwhile must not erase the hat.
func TestALatePressErasesNoHat(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	d, err := b.store.Draft(t.Context(), c.DraftID)
	require.NoError(t, err)
	got := b.post(orders.DraftPath+b.store.DraftLink(d)+"/erase", say("number", c.Number))
	assert.Equal(t, http.StatusSeeOther, got.status)
	assert.Equal(t, b.hatOf(c), got.location)
	b.see(b.hatOf(c))
}

func TestSheErasesANoteByItself(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	hers := b.hatOf(c)
	hides(t, b.see(hers+"/kept"), "Erase this note")
	for _, a := range []string{"health_consent", "health"} {
		value := map[string]string{"health_consent": orders.Yes, "health": "latex makes me itch"}[a]
		_, err := b.store.Answer(t.Context(), c.DraftID, a, orders.Answer{Value: value, Said: value})
		require.NoError(t, err)
	}
	shows(t, b.see(hers+"/kept"), "latex makes me itch")
	assert.Equal(t, http.StatusNotFound, b.post(hers+"/kept/notes", say("note", "name")).status, "only what has a consent of its own")
	page := b.accepted(hers+"/kept/notes", say("note", "health"))
	hides(t, page, "latex")
	shows(t, page, "is erased")
	d, err := b.store.Draft(t.Context(), c.DraftID)
	require.NoError(t, err)
	assert.Empty(t, d.Answers["health"].Value)
	assert.Empty(t, d.Answers["health_consent"].Value, "the consent is taken back with it")
	assert.NotEmpty(t, d.Answers["girth"].Value, "nothing else goes")
	assert.False(t, strings.Contains(b.see(room(c)), "latex"), "the workroom shows it no more")
}
