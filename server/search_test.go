package server

import (
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/orders"
)

func TestTheMillinerFindsAClientInSpiteOfASlip(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, map[string]string{"name": "Odile Marrowby"})
	other := b.enquiry(orders.DoorWeb, map[string]string{"name": "Pim Fennick"})
	_, err := b.store.Write(t.Context(), c.ID, "The <b>moss</b> dupion has come.")
	require.NoError(t, err)

	page := b.post("/workroom/search", say("sought", "marowby")).body
	shows(t, page, room(c)+`"`)
	hides(t, page, "Pim Fennick")

	page = b.post("/workroom/search", say("sought", "moss dup")).body
	shows(t, page, "<mark>moss</mark>")
	shows(t, page, room(c)+"#letters")
	shows(t, page, "&lt;b&gt;")

	shows(t, b.post("/workroom/search", say("sought", other.Number)).body, room(other)+`"`)
	shows(t, b.post("/workroom/search", say("sought", "zeppelin")).body, "Nothing was found")

	got := b.post("/workroom/search", say("sought", "  "))
	assert.Equal(t, http.StatusUnprocessableEntity, got.status)
	shows(t, got.body, "Type a name")
	assert.False(t, strings.Contains(b.log.String(), "marowby"), "what is looked for must not stand in the log")
}
