package server

import (
	"compress/gzip"
	"io"
	"net/http"
	"net/http/httptest"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func fetched(h http.Handler, path, encodings string, cookies ...*http.Cookie) *httptest.ResponseRecorder {
	r, w := httptest.NewRequest(http.MethodGet, path, nil), httptest.NewRecorder()
	if encodings != "" {
		r.Header.Set("Accept-Encoding", encodings)
	}
	for _, c := range cookies {
		r.AddCookie(c)
	}
	h.ServeHTTP(w, r)
	return w
}

func unpacked(t *testing.T, body io.Reader) string {
	t.Helper()
	r, err := gzip.NewReader(body)
	require.NoError(t, err, "what is said to be packed is not")
	text, err := io.ReadAll(r)
	require.NoError(t, err)
	return string(text)
}

func TestPagesAndAssetsArePackedForWhoUnpacks(t *testing.T) {
	s := newClientSite(t)
	plain := fetched(s.h, "/", "").Body.String()
	style := regexp.MustCompile(`/assets/base[.][0-9a-f]+[.]css`).FindString(plain)
	require.NotEmpty(t, style, "the first page has a style sheet")
	for path, kind := range map[string]string{"/": "text/html; charset=utf-8", style: "text/css; charset=utf-8"} {
		whole := fetched(s.h, path, "").Body.String()
		for encodings, packs := range map[string]bool{"gzip": true, "br, gzip, deflate": true, "br;q=1.0, gzip;q=0.5": true, "": false, "br": false, "gzip;q=0": false, "gzip; q=0.0": false, "xgzip": false} {
			w := fetched(s.h, path, encodings)
			require.Equal(t, http.StatusOK, w.Code)
			assert.Equal(t, kind, w.Header().Get("Content-Type"), path)
			assert.Equal(t, "Accept-Encoding", w.Header().Get("Vary"), "%s: a cache must not hand a packed one to everybody", path)
			require.Equal(t, packs, w.Header().Get("Content-Encoding") == "gzip", "%s with %q", path, encodings)
			if packs {
				assert.Less(t, w.Body.Len(), len(whole)*2/3, "%s is hardly smaller", path)
				assert.Equal(t, whole, unpacked(t, w.Body), path)
			} else {
				assert.Equal(t, whole, w.Body.String(), path)
			}
		}
	}
	assert.Contains(t, fetched(s.h, style, "gzip").Header().Get("Cache-Control"), "immutable")
	assert.Equal(t, http.StatusNotFound, fetched(s.h, strings.Replace(style, "base.", "base.0", 1), "gzip").Code, "an old fingerprint")
}

// What was typed beside secrets is never packed: the length would give them away.
func TestTheWorkroomIsNotPacked(t *testing.T) {
	b := signedInBench(t)
	r := httptest.NewRequest(http.MethodGet, "/workroom", nil)
	r.Header.Set("Accept-Encoding", "gzip")
	w := b.answerTo(r)
	require.Equal(t, http.StatusOK, w.Code)
	assert.Empty(t, w.Header().Get("Content-Encoding"))
	assert.Contains(t, w.Body.String(), "Sign out")
}
