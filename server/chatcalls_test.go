package server

import (
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The messenger is no browser: no cookie, no origin. Its call must come through whatever stands before pages.
func TestTheMessengersCallsComeThrough(t *testing.T) {
	s := newClientSite(t)
	call := func(h http.Handler, method string) int {
		req := httptest.NewRequest(method, testOrigin+ChatPath, strings.NewReader(`{"update_id":1}`))
		w := httptest.NewRecorder()
		h.ServeHTTP(w, req)
		return w.Code
	}
	assert.Equal(t, http.StatusNotFound, call(s.h, http.MethodPost), "without a chat that calls there is no such address")
	heard := ""
	srv, err := New(Config{Store: s.store, Log: slog.New(slog.DiscardHandler), PublicURL: testOrigin, ChatCalls: http.HandlerFunc(func(_ http.ResponseWriter, r *http.Request) {
		body, _ := io.ReadAll(r.Body)
		heard = string(body)
	})})
	require.NoError(t, err)
	h, err := srv.Handler()
	require.NoError(t, err)
	assert.Equal(t, http.StatusNotFound, call(h, http.MethodGet))
	assert.Empty(t, heard)
	assert.Equal(t, http.StatusOK, call(h, http.MethodPost))
	assert.Equal(t, `{"update_id":1}`, heard)
}
