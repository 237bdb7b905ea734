package server

import (
	"bytes"
	"fmt"
	"html"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"net/url"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/orders"
)

// A formOfParts is a letter as a browser sends it with files.
type formOfParts struct {
	bytes.Buffer
	kind string
}

func aForm(t testing.TB, body string, files ...[]byte) *formOfParts {
	t.Helper()
	f := &formOfParts{}
	w := multipart.NewWriter(f)
	f.kind = w.FormDataContentType()
	require.NoError(t, w.WriteField("body", body))
	for _, file := range files {
		part, err := w.CreateFormFile("enclosed", "cloth.jpg")
		require.NoError(t, err)
		_, err = part.Write(file)
		require.NoError(t, err)
	}
	require.NoError(t, w.Close())
	return f
}

func (f *formOfParts) request(path string) *http.Request {
	r := httptest.NewRequest(http.MethodPost, path, f)
	r.Header.Set("Content-Type", f.kind)
	return r
}

// letterWith posts a letter with files.
func (b *benchSite) letterWith(path, body string, files ...[]byte) reply {
	b.t.Helper()
	return b.do(aForm(b.t, body, files...).request(path))
}

func TestAnAnswerIsMarkedAsNeededOrNot(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	_, err := b.store.Receive(t.Context(), c.ID, "Thank you, that is all.")
	require.NoError(t, err)
	shows(t, b.see("/workroom"), `id="to-answer"`)
	shows(t, b.see(room(c)), "<b>Needs an answer</b> since Tue 28 April 2026, 10:20")
	page := b.accepted(room(c)+"/owed", say("owed", "no"))
	shows(t, page, "Mark as needing an answer")
	hides(t, b.see("/workroom"), `id="to-answer"`) // without a word sent
	require.Len(t, b.letters(c), 1)
	shows(t, b.accepted(room(c)+"/owed", say("owed", "yes")), "<b>Needs an answer</b>")
	shows(t, b.see("/workroom"), `id="to-answer"`)
	assert.Equal(t, http.StatusNotFound, b.post("/workroom/commissions/nothing/owed", nil).status)
}

func TestANoteStandsAmongTheLettersAndNowhereElse(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	page := b.accepted(room(c)+"/notes", say("aside", "Wary of <pins>."))
	shows(t, page, "Wary of &lt;pins&gt;.")
	shows(t, page, "note for the workroom; never sent")
	hides(t, b.see(orders.CommissionPath+b.store.CommissionLink(c)), "Wary of")
	assert.Empty(t, b.letters(c), "it is no letter")
	shows(t, b.refused(http.StatusUnprocessableEntity, room(c)+"/notes", say("aside", " ")), "Write something first.")
}

func TestALetterToSendByHandOpensTheMailProgram(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	page := b.accepted(room(c)+"/letters", say("body", "Ivory & gold?\nYours, 100 %"))
	shows(t, page, "to send by hand")
	found := regexp.MustCompile(`href="(mailto:[^"]*body[^"]*)"`).FindStringSubmatch(page)
	require.NotNil(t, found, "a link opens her mail program")
	at, err := url.Parse(html.UnescapeString(found[1]))
	require.NoError(t, err)
	assert.Equal(t, "nella@post.example", at.Opaque)
	assert.Equal(t, "Ivory & gold?\r\nYours, 100 %", at.Query().Get("body"))
	assert.NotContains(t, at.RawQuery, "+", "mail programs do not read a plus as a space")

	called := b.enquiry(orders.DoorWeb, map[string]string{"reach": "+44 1632 960001"})
	page = b.accepted(room(called)+"/letters", say("body", "Hello."))
	hides(t, page, "mailto:")
	shows(t, page, "Hello.</textarea>")
}

func TestAClientIsWrittenToAsShePrefers(t *testing.T) {
	b := signedInBench(t)
	b.accepted("/workroom/rehearsal/again", nil)
	c := b.rehearsed()
	page := b.accepted(room(c)+"/prefers", say("prefers", orders.ByHand))
	shows(t, page, "as the client prefers")
	shows(t, b.accepted(room(c)+"/letters", say("body", "By hand.")), "By hand.</textarea>")
	assert.Equal(t, http.StatusUnprocessableEntity, b.post(room(c)+"/prefers", say("prefers", "pigeon")).status)
	shows(t, b.accepted(room(c)+"/prefers", say("prefers", "")), "It goes out by the client’s chat.")
}

func TestPhotographsGoWithLettersBothWays(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	other := b.enquiry(orders.DoorWeb, map[string]string{"name": "Pim Fennick"})
	hers := orders.CommissionPath + b.store.CommissionLink(c)
	require.Equal(t, http.StatusSeeOther, b.letterWith(room(c)+"/letters", "This is the cloth.", aPhotograph(t)).status)
	require.Equal(t, http.StatusSeeOther, b.letterWith(hers+"/letters", "And this is the dress.", aPhotograph(t), aPhotograph(t)).status)
	letters := b.letters(c)
	require.Len(t, letters, 2)
	require.Len(t, letters[1].Photos, 2)
	for _, l := range letters {
		for _, id := range l.Photos {
			shows(t, b.see(room(c)), room(c)+"/letters/photographs/"+id)
			shows(t, b.see(hers), hers+"/letters/photographs/"+id)
			assert.Equal(t, "image/jpeg", b.get(room(c)+"/letters/photographs/"+id).kind)
			assert.Equal(t, "image/jpeg", b.get(hers+"/letters/photographs/"+id).kind)
			assert.Equal(t, http.StatusNotFound, b.get(room(other)+"/letters/photographs/"+id).status, "another client's commission")
			assert.Equal(t, http.StatusNotFound, b.get(orders.CommissionPath+b.store.CommissionLink(other)+"/letters/photographs/"+id).status, "another client's page")
		}
	}
	bad := b.letterWith(room(c)+"/letters", "Typed with care.", []byte("no picture"))
	assert.Equal(t, http.StatusUnprocessableEntity, bad.status)
	shows(t, bad.body, "Typed with care.")
	require.Len(t, b.letters(c), 2, "nothing of it was kept")
}

func TestWordingsAreWrittenReadAndUsed(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	shows(t, b.see("/workroom/studio"), `href="/workroom/studio/wordings"`)
	shows(t, b.see("/workroom/studio/wordings"), "Ready for collection")
	at := "/workroom/studio/wordings/" + orders.HatReady
	wrong := b.refused(http.StatusUnprocessableEntity, at, say("version", "0", "body", "Dear {nmae}, come."))
	shows(t, wrong, "I do not know the field {nmae}")
	shows(t, wrong, "Dear {nmae}, come.")

	read := b.post(at, say("version", "0", "body", "Dear {name}, hat {number} is here: {link}", "for", c.Number, "do", "read"))
	require.Equal(t, http.StatusOK, read.status)
	shows(t, read.body, "Dear Nella Quill, hat "+c.Number+" is here: ")
	shows(t, read.body, orders.CommissionPath+b.store.CommissionLink(c))
	shows(t, b.see("/workroom/studio/wordings"), "is finished") // reading keeps nothing
	shows(t, b.refused(http.StatusUnprocessableEntity, at, say("version", "0", "body", "Come.", "for", "99-999", "do", "read")), "no commission of that number")

	shows(t, b.accepted(at, say("version", "0", "body", "Dear {name}, hat {number} is here: {link}")), "your own")
	late := b.refused(http.StatusConflict, at, say("version", "0", "body", "Mine, from an old page."))
	shows(t, late, "Mine, from an old page.")
	shows(t, b.see(room(c)+"?wording="+orders.HatReady), "Dear Nella Quill, hat "+c.Number+" is here: {link}</textarea>")
	assert.Equal(t, inside(b.see(room(c))), inside(b.see(room(c)+"?wording=nonsense")), "no such wording: an empty sheet")
	assert.Equal(t, http.StatusNotFound, b.get("/workroom/studio/wordings/nonsense").status)
}

func TestALetterGoesWithAMove(t *testing.T) {
	b := signedInBench(t)
	c := b.finishing()
	b.accepted(room(c)+"/finishing", say("item", "pins", "item", "wire", "item", "knots", "item", "label"))
	before := len(b.letters(c))
	page := b.accepted(room(c)+"/move", b.moved(c, orders.Ready, "tell", "yes"))
	shows(t, page, "send the letter by hand")
	letters := b.letters(c)
	require.Len(t, letters, before+1)
	assert.Contains(t, letters[before].Body, "your hat "+c.Number+" is finished")
	b.accepted(room(c)+"/move", b.moved(c, orders.Finishing, "tell", "yes", "why", "A loose end."))
	require.Len(t, b.letters(c), before+1, "no wording is for that stage")
	b.refused(http.StatusUnprocessableEntity, room(c)+"/move", b.moved(c, orders.Ready, "tell", "yes"))
	require.Len(t, b.letters(c), before+1, "no move, no letter")
}

// A long thread opens at its newest letters; what waits to be sent by hand is never folded away.
func TestOnlyTheNewestLettersStandOpen(t *testing.T) {
	b := signedInBench(t)
	receive := func(c orders.Commission) {
		for i := range 6 {
			_, err := b.store.Receive(t.Context(), c.ID, fmt.Sprintf("Letter %d", i))
			require.NoError(t, err)
			b.now = b.now.Add(time.Minute)
		}
	}
	long := b.enquiry(orders.DoorWeb, nil)
	receive(long)
	_, book, found := strings.Cut(b.see(room(long)), "Earlier letters (2)")
	require.True(t, found, "two of six are folded away")
	folded, open, _ := strings.Cut(book, "</details>")
	shows(t, folded, "Letter 1")
	hides(t, folded, "Letter 2")
	shows(t, open, "Letter 2")

	owing := b.enquiry(orders.DoorWeb, map[string]string{"name": "Tamsin Reed"})
	b.accepted(room(owing)+"/letters", say("body", "By hand, please."))
	receive(owing)
	hides(t, b.see(room(owing)), "Earlier letters")
}
