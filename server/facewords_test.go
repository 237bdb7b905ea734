package server

import (
	"bytes"
	"compress/gzip"
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/orders"
	"perchbook/templates"
)

// Points are shown to the milliner with what a picture leaves in doubt; an outline is its own word.
func TestAFaceByPointsIsShownWithItsDoubt(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, map[string]string{"face": "points", "face_points": "1.384 0.780 0.820"})
	for _, path := range []string{room(c), room(c) + "/settle"} {
		page := b.see(path)
		shows(t, page, "1.33 ± 0.12 times as long as wide at the cheekbones (1.35 is usual)") // 1.384 less 55 mm in 1500
		shows(t, page, "A picture tells no size. Most like ")
	}
	c = b.enquiry(orders.DoorWeb, map[string]string{"face": "tapes", "face_length": "200.0", "face_cheekbones": "130.0"})
	shows(t, b.see(room(c)), "1.54 times as long as wide (1.35 is usual). Most like long (")
	c = b.enquiry(orders.DoorWeb, map[string]string{"face": "round", "face_points": "1.384 0.780 0.820"})
	hides(t, b.see(room(c)), "Face, as read")
	hides(t, b.see(room(c)), "times as long as it is wide")
}

// Only the page where points are marked may show a picture from the device.
func TestPicturesOfTheDeviceOnOnePage(t *testing.T) {
	s := newClientSite(t)
	base := s.begin()
	s.post(base+"/ask/face", say("face", "points"))
	const at = "/ask/face_points"
	local := func(r reply) bool { return strings.Contains(r.headers.Get("Content-Security-Policy"), "blob:") }
	assert.True(t, local(s.get(base+at)))
	wrong := s.post(base+at, say("face_points", "9 0.8 0.8"))
	require.Equal(t, http.StatusUnprocessableEntity, wrong.status)
	assert.True(t, local(wrong), "and when it is shown again")
	shows(t, wrong.body, "do not make a face")
	assert.Empty(t, s.draft(base).Answers["face_points"].Value)
	for _, other := range []string{base + "/ask/face", base + "/ask/photographs", base + "/more", "/"} {
		assert.False(t, local(s.get(other)), "%s", other)
	}
	page := s.see(base + at)
	shows(t, page, "never sent")
	shows(t, page, `<noscript>`)
	file := page[strings.Index(page, `<input type="file"`):]
	assert.NotContains(t, file[:strings.Index(file, ">")], "name=", "no field of the form carries the picture")
}

// The script is our own, whole, and small: less than 6 kB packed.
func TestTheScriptForPointsIsSmall(t *testing.T) {
	pages, err := templates.Load()
	require.NoError(t, err)
	script := pages.Assets()["points.js"].Body
	var packed bytes.Buffer
	w := gzip.NewWriter(&packed)
	_, err = w.Write(script)
	require.NoError(t, err)
	require.NoError(t, w.Close())
	assert.Less(t, packed.Len(), 6000)
	for _, way := range []string{"fetch", "XMLHttpRequest", "sendBeacon", "WebSocket", "FileReader", "toDataURL", "toBlob", "localStorage", "import"} {
		assert.NotContains(t, string(script), way, "a way for the picture to leave or to stay")
	}
}
