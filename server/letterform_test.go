package server

import (
	"bytes"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/orders"
)

func aPDF(size int) []byte {
	return []byte("%PDF-1.7\n" + strings.Repeat("<script>", size/8) + "\n%%EOF\n")
}

func TestPDFFilesAreHandedOutToBeSavedOnly(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	other := b.enquiry(orders.DoorWeb, map[string]string{"name": "Pim Fennick"})
	hers := orders.CommissionPath + b.store.CommissionLink(c)
	require.Equal(t, http.StatusSeeOther, b.letterWith(room(c)+"/letters", "How to measure.", aPDF(3000)).status)
	require.Equal(t, http.StatusSeeOther, b.letterWith(hers+"/letters", "The invitation.", aPDF(800), aPhotograph(t)).status)
	letters := b.letters(c)
	require.Len(t, letters, 2)
	for i, size := range []int{3000, 800} {
		at := "/letters/papers/" + letters[i].Papers[0] + "/enclosed.pdf"
		for _, door := range []string{room(c), hers} {
			shows(t, b.see(door), `href="`+door+at+`" download`)
			w := b.answerTo(httptest.NewRequest(http.MethodGet, door+at, nil))
			require.Equal(t, http.StatusOK, w.Code)
			assert.Equal(t, "application/pdf", w.Header().Get("Content-Type"))
			assert.Equal(t, `attachment; filename="enclosed.pdf"`, w.Header().Get("Content-Disposition"), "never shown here, and called by no name of hers")
			assert.Equal(t, "nosniff", w.Header().Get("X-Content-Type-Options"))
			assert.Equal(t, "no-store", w.Header().Get("Cache-Control"))
			assert.True(t, bytes.Equal(aPDF(size), w.Body.Bytes()), "as it came")
		}
		for _, door := range []string{room(other), orders.CommissionPath + b.store.CommissionLink(other)} {
			assert.Equal(t, http.StatusNotFound, b.get(door+at).status, "somebody else's")
		}
	}
	for _, door := range []string{room(c), hers} {
		bad := b.letterWith(door+"/letters", "Typed with care.", []byte("%PDF-1.7 cut sho"))
		assert.Equal(t, http.StatusUnprocessableEntity, bad.status)
		shows(t, bad.body, "Typed with care.")
		shows(t, bad.body, `id="f-enclosed-problem"`)
	}
	require.Len(t, b.letters(c), 2, "nothing of it was kept")
}

// What was typed stays, however large the files are and wherever the line breaks.
func TestALetterSurvivesFilesThatAreTooLarge(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	tenth := bytes.Repeat([]byte{0xff}, 10<<20)
	for _, door := range []string{room(c), orders.CommissionPath + b.store.CommissionLink(c)} {
		for what, files := range map[string][][]byte{
			"one beyond what a photograph may have": {bytes.Repeat([]byte{0xff}, 13<<20)},
			"together beyond what is kept":          {tenth, tenth},
			"far beyond the form":                   {bytes.Repeat([]byte{0xff}, 40<<20)},
		} {
			got := b.letterWith(door+"/letters", "Typed with care: "+what, files...)
			require.Equal(t, http.StatusUnprocessableEntity, got.status, what)
			shows(t, got.body, "Typed with care: "+what)
			shows(t, got.body, `id="f-enclosed-problem">One of these files is larger than 12 MB`)
			shows(t, got.body, "<title>Problem")
		}
		large := aForm(t, "Typed with care.", bytes.Repeat([]byte{0xff}, 30<<20))
		b.do(large.request(door + "/letters"))
		require.Zero(t, large.Len(), "it is read to its end, or a browser that is still sending would not hear the answer")
		train := aForm(t, "Typed in a train.", aPhotograph(t))
		train.Truncate(train.Len() - 40) // and then a tunnel
		got := b.do(train.request(door + "/letters"))
		require.Equal(t, http.StatusUnprocessableEntity, got.status)
		shows(t, got.body, "Typed in a train.")
		shows(t, got.body, "The files did not arrive whole.")
	}
	require.Empty(t, b.letters(c), "nothing of them was kept")
}

// The rest of the house keeps its own bound, also on these routes when no files come.
func TestOnlyLettersWithFilesMayBeLarge(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	endless := say("body", strings.Repeat("a", maxBody+1))
	got := b.post(room(c)+"/letters", endless)
	require.Equal(t, http.StatusUnprocessableEntity, got.status)
	require.Less(t, len(got.body), maxBody, "nothing of it is read")
}
