package server

import (
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The tape to print is reached from where she measures and before she begins, on both papers.
func TestAPaperTapeCanBePrinted(t *testing.T) {
	s := newClientSite(t)
	base := s.begin()
	s.answerAll(base)
	for _, page := range []string{"/", base + "/ask/girth", base + "/ask/nape", base + "/ask/ear_to_ear", base + "/ask/brow_to_nape"} {
		shows(t, s.see(page), `href="/paper-tape"`)
	}
	page := s.see("/paper-tape")
	shows(t, page, "85.6 × 53.98 mm")
	for paper, size := range map[string]string{"a4": "595.28 841.89", "letter": "612.00 792.00"} {
		shows(t, page, `href="/paper-tape/`+paper+`.pdf"`)
		got := s.get("/paper-tape/" + paper + ".pdf")
		require.Equal(t, http.StatusOK, got.status, paper)
		assert.True(t, strings.HasPrefix(got.body, "%PDF-"), paper)
		assert.Contains(t, got.body, "/MediaBox [0 0 "+size+"]", "%s: the paper's size in points", paper)
	}
	assert.Equal(t, http.StatusNotFound, s.get("/paper-tape/a3.pdf").status)
}
