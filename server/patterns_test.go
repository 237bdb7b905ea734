package server

import (
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/orders"
)

func TestPatternsComeWithTheFitSheet(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	sheet := b.signed(c)
	var files []string
	for paper, size := range map[string]string{"a4": "595.28 841.89", "letter": "612.00 792.00"} {
		at := room(c) + "/sheets/1/patterns-" + paper + ".pdf"
		shows(t, sheet, `href="`+at+`"`)
		w := b.answerTo(httptest.NewRequest(http.MethodGet, at, nil))
		require.Equal(t, http.StatusOK, w.Code, "%s: %s", at, b.log)
		assert.Equal(t, "application/pdf", w.Header().Get("Content-Type"))
		assert.Equal(t, `attachment; filename="patterns-26-001-1-`+paper+`.pdf"`, w.Header().Get("Content-Disposition"))
		assert.Equal(t, "no-store", w.Header().Get("Cache-Control"))
		body := w.Body.String()
		require.True(t, strings.HasPrefix(body, "%PDF-"), "%s is no PDF", at)
		assert.Contains(t, body, "/MediaBox [0 0 "+size+"]", "%s: the paper's size in points", at)
		assert.Contains(t, body, "26-001 / 1", "the number is its title")
		assert.Contains(t, body, "D:20260428", "dated as the sheet was signed")
		assert.Equal(t, body, b.get(at).body, "asked twice, the same bytes")
		files = append(files, body)
	}
	assert.NotEqual(t, files[0], files[1])
}

// A sheet keeps its patterns when a later one is signed.
func TestPatternsAreThoseOfTheirSheet(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	b.signed(c)
	first := b.get(room(c) + "/sheets/1/patterns-a4.pdf").body
	b.accepted(room(c)+"/settle", b.versioned(c, wholeHat("hat.base_mm", "11 cm")))
	b.accepted(room(c)+"/settle", b.versioned(c, wholeHat("hat.base_mm", "11 cm", "do", "sign", "why", "A smaller one.")))
	assert.Equal(t, first, b.get(room(c)+"/sheets/1/patterns-a4.pdf").body)
	assert.NotEqual(t, first, b.get(room(c)+"/sheets/2/patterns-a4.pdf").body)
}

func TestNoPatternsWithoutASheetOrForStrangers(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	for _, at := range []string{room(c) + "/sheets/1/patterns-a4.pdf", room(c) + "/sheets/x/patterns-a4.pdf", "/workroom/commissions/nobody/sheets/1/patterns-letter.pdf", room(c) + "/sheets/1/patterns-a3.pdf"} {
		assert.Equal(t, http.StatusNotFound, b.get(at).status, at)
	}
	b.signed(c)
	b.cookies = map[string]string{}
	got := b.get(room(c) + "/sheets/1/patterns-a4.pdf")
	assert.Equal(t, http.StatusSeeOther, got.status, "a stranger is sent to the door")
	assert.NotContains(t, got.body, "%PDF")
}
