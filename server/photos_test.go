package server

import (
	"bytes"
	"image"
	"image/jpeg"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func aPhotograph(t *testing.T) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, 40, 60)), nil))
	return b.Bytes()
}

// upload sends a file as a browser would, with the button that was pressed. No file is an empty field.
func (s *clientSite) upload(path string, file []byte, pressed ...string) reply {
	s.t.Helper()
	var b bytes.Buffer
	w := multipart.NewWriter(&b)
	for _, button := range pressed {
		require.NoError(s.t, w.WriteField(button, "photographs"))
	}
	if file != nil {
		part, err := w.CreateFormFile("photographs", "me.jpg")
		require.NoError(s.t, err)
		_, err = part.Write(file)
		require.NoError(s.t, err)
	}
	require.NoError(s.t, w.Close())
	r := httptest.NewRequest(http.MethodPost, path, &b)
	r.Header.Set("Content-Type", w.FormDataContentType())
	return s.do(r)
}

func TestAPhotographIsAddedShownAndRemoved(t *testing.T) {
	s := newClientSite(t)
	base := s.begin()
	s.answerAll(base)
	got := s.upload(base+"/photographs/photographs/add", aPhotograph(t))
	require.Equal(t, http.StatusSeeOther, got.status, "it is taken:\n%s", got.body)
	require.Equal(t, base+"/ask/photographs", got.location)
	id := s.draft(base).Answers["photographs"].Value
	require.NotEmpty(t, id)
	shows(t, s.see(base+"/ask/photographs"), base+"/photographs/"+id)
	shows(t, s.see(base+"/check"), "1 photograph")

	picture := s.get(base + "/photographs/" + id)
	assert.Equal(t, http.StatusOK, picture.status)
	assert.Equal(t, "image/jpeg", picture.kind)
	_, err := jpeg.Decode(strings.NewReader(picture.body))
	require.NoError(t, err, "what is shown is a picture")
	assert.Equal(t, http.StatusNotFound, s.get(s.begin()+"/photographs/"+id).status, "nobody else sees it")

	s.post(base+"/send", nil)
	hat := s.get(base).location
	assert.Equal(t, http.StatusOK, s.get(hat+"/photographs/"+id).status, "she sees it after sending too")
	for range 2 { // the second time it is gone already
		got = s.post(hat+"/photographs/photographs/remove", say("photo", id))
		assert.Equal(t, http.StatusSeeOther, got.status)
	}
	assert.Equal(t, http.StatusNotFound, s.get(hat+"/photographs/"+id).status, "removed is removed")
	hides(t, s.see(hat+"/ask/photographs"), id)
}

func TestWhatIsNoPhotographIsRefusedKindly(t *testing.T) {
	s := newClientSite(t)
	base := s.begin()
	s.answerAll(base)
	at := base + "/photographs/photographs/add"
	for what, c := range map[string]struct {
		file   []byte
		status int
	}{
		"words":             {[]byte("this is a letter"), http.StatusUnprocessableEntity},
		"nothing":           {[]byte{}, http.StatusUnprocessableEntity},
		"half a photograph": {aPhotograph(t)[:200], http.StatusUnprocessableEntity},
		"more than 12 MB":   {bytes.Repeat([]byte("x"), 13<<20), http.StatusRequestEntityTooLarge},
		"more than a body":  {bytes.Repeat([]byte("x"), 20<<20), http.StatusRequestEntityTooLarge},
	} {
		got := s.upload(at, c.file)
		assert.Equal(t, c.status, got.status, "%s", what)
		shows(t, got.body, `role="alert">`)
	}
	assert.Equal(t, http.StatusUnprocessableEntity, s.post(at, nil).status, "no file at all")
	assert.Equal(t, http.StatusNotFound, s.upload(base+"/photographs/name/add", aPhotograph(t)).status, "a question about something else")
	assert.Empty(t, s.draft(base).Answers["photographs"].Value)
}

// A photograph is for the client and the milliner, and no cache keeps it.
func TestPhotographsAreForNobodyElse(t *testing.T) {
	s := newClientSite(t)
	base := s.begin()
	s.answerAll(base)
	require.Equal(t, http.StatusSeeOther, s.upload(base+"/photographs/photographs/add", aPhotograph(t)).status)
	id := s.draft(base).Answers["photographs"].Value
	s.post(base+"/send", nil)
	hat := s.get(base).location
	got := s.get(hat + "/photographs/" + id)
	require.Equal(t, http.StatusOK, got.status)
	assert.Equal(t, "private, no-store", got.headers.Get("Cache-Control"))
	assert.Equal(t, "nosniff", got.headers.Get("X-Content-Type-Options"))
	assert.Equal(t, "same-origin", got.headers.Get("Cross-Origin-Resource-Policy"))

	other := s.begin()
	s.answerAll(other)
	assert.Equal(t, http.StatusNotFound, s.get(other+"/photographs/"+id).status, "the draft of another client")
	assert.Equal(t, http.StatusNotFound, s.post(other+"/photographs/"+id+"/remove", say("photo", id)).status, "who can't take it away either")
	s.post(other+"/send", nil)
	assert.Equal(t, http.StatusNotFound, s.get(s.get(other).location+"/photographs/"+id).status, "the hat of another client")
	at := strings.LastIndex(hat, "/") + 1
	for what, path := range map[string]string{
		"no link": "/hat/photographs/" + id, "the id for a link": "/hat/" + id + "/photographs/" + id, "the picture alone": "/photographs/" + id,
		"a link by one letter": hat[:at] + "a" + hat[at:] + "/photographs/" + id,
	} {
		assert.Equal(t, http.StatusNotFound, s.get(path).status, what)
	}
	commission, err := s.store.CommissionByLink(t.Context(), hat[at:])
	require.NoError(t, err)
	stranger := s.get("/workroom/commissions/" + commission.ID + "/photographs/" + id)
	assert.Equal(t, http.StatusSeeOther, stranger.status, "who is not signed in is asked to")
	assert.Equal(t, "/enter", stranger.location)
}
