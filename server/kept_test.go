package server

import (
	"bytes"
	"encoding/json"
	"image/jpeg"
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/orders"
)

func TestACopyIsHandedOver(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, map[string]string{"name": "Odile <Marrowby>"})
	_, err := b.store.AddPhoto(t.Context(), c.DraftID, "photographs", aPhotograph(t))
	require.NoError(t, err)
	shows(t, b.see(room(c)), `href="`+room(c)+`/copy"`)

	got := b.get(room(c) + "/copy")
	require.Equal(t, http.StatusOK, got.status)
	assert.Equal(t, "application/json; charset=utf-8", got.kind)
	var everything orders.Copy
	require.NoError(t, json.Unmarshal([]byte(got.body), &everything), "it can be read by any program")
	assert.Equal(t, "Odile <Marrowby>", everything.Name)
	require.Len(t, everything.Commissions, 1)
	require.Len(t, everything.Commissions[0].Photographs, 1)
	_, err = jpeg.Decode(bytes.NewReader(everything.Commissions[0].Photographs[0].JPEG))
	require.NoError(t, err, "the photograph is a picture")

	assert.Equal(t, http.StatusNotFound, b.get("/workroom/commissions/x/copy").status)
	b.cookies = map[string]string{}
	assert.Equal(t, "/enter", b.get(room(c)+"/copy").location, "nobody else takes one")
}

func TestACopyIsAFileToSave(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	r, err := http.NewRequest(http.MethodGet, room(c)+"/copy", nil)
	require.NoError(t, err)
	w := b.answerTo(r)
	assert.Equal(t, `attachment; filename="kept-`+c.Number+`.json"`, w.Header().Get("Content-Disposition"))
	assert.Equal(t, "no-store", w.Header().Get("Cache-Control"), "no browser keeps it besides")
}

func TestACommissionIsErasedByItsNumber(t *testing.T) {
	b := signedInBench(t)
	c, other := b.enquiry(orders.DoorWeb, map[string]string{"name": "Odile Marrowby"}), b.enquiry(orders.DoorWeb, map[string]string{"name": "Pim Fennick"})
	hers := orders.CommissionPath + b.store.CommissionLink(c)
	shows(t, b.see(room(c)), `href="`+room(c)+`/erase"`)
	page := b.see(room(c) + "/erase")
	shows(t, page, "cannot be undone")
	shows(t, page, c.Number)
	for _, wrong := range []string{"", "yes", other.Number, "<script>"} {
		page = b.refused(http.StatusUnprocessableEntity, room(c)+"/erase", say("number", wrong))
		shows(t, page, "nothing was erased")
	}
	shows(t, b.see(room(c)), "Odile Marrowby")

	page = b.accepted(room(c)+"/erase", say("number", " "+strings.Replace(c.Number, "-", "–", 1)+" "))
	shows(t, page, c.Number+" is erased")
	hides(t, page, "Odile")
	shows(t, page, "Pim Fennick")
	for _, gone := range []string{room(c), room(c) + "/erase", room(c) + "/copy", room(c) + "/settle", hers, hers + "/check"} {
		assert.Equal(t, http.StatusNotFound, b.get(gone).status, "%s", gone)
	}
	assert.Equal(t, http.StatusNotFound, b.post(room(c)+"/erase", say("number", c.Number)).status, "pressed twice")
	assert.NotContains(t, b.log.String(), "Odile", "the log")
}

func TestAnErasedRehearsalBeginsAfresh(t *testing.T) {
	b := signedInBench(t)
	b.accepted("/workroom/rehearsal/again", nil)
	c := b.rehearsed()
	require.NoError(t, b.store.Erase(t.Context(), c.ID))
	shows(t, b.see("/workroom/rehearsal"), "Nothing has been said yet")
	shows(t, b.accepted("/workroom/rehearsal", say("text", "hello")), "Nothing is kept until you agree")
}

func TestSheErasesHerOwnDraft(t *testing.T) {
	s := newClientSite(t)
	base := s.begin()
	s.answerAll(base)
	for _, path := range []string{base, base + "/check"} {
		shows(t, s.see(path), `href="`+base+`/erase"`)
	}
	page := s.see(base + "/erase")
	shows(t, page, "Erase your answers?")
	shows(t, page, `href="`+base+`"`) // she may keep them
	require.NotEmpty(t, s.draft(base).Answers, "nothing goes before she has confirmed")
	got := s.post(base+"/erase", nil)
	require.Equal(t, "/erased", got.location)
	shows(t, s.see(got.location), "Your answers are erased")
	for _, path := range []string{base, base + "/check", base + "/ask/you", base + "/erase"} {
		assert.Equal(t, http.StatusNotFound, s.get(path).status, "%s is gone", path)
	}
	assert.Equal(t, http.StatusNotFound, s.post(base+"/erase", nil).status, "pressed twice")
	assert.Equal(t, http.StatusNotFound, s.post(base+"/ask/you", say("name", "Wren", "reach", "wren@post.example")).status, "an old tab keeps nothing")
}

func TestTheNoticeSaysHowLong(t *testing.T) {
	s := newClientSite(t)
	page := s.see("/begin")
	shows(t, page, "erased 60 days after the last one")
	shows(t, page, "backups")
	shows(t, page, "messenger")
}
