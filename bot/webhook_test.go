package bot

import (
	"context"
	"errors"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/orders"
)

// called sets a Bot to work that Telegram calls.
func called(t *testing.T, s *standIn, store *orders.Store) *run {
	t.Helper()
	r := &run{standIn: s, store: store, log: &journal{}}
	b := New(store, testToken, s.server.URL, slog.New(slog.NewTextHandler(r.log, nil))).every(10 * time.Millisecond)
	site := httptest.NewServer(nil)
	site.Config.Handler = b.CalledAt(site.URL)
	ctx, stop := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- b.Run(ctx) }()
	go s.callOut(ctx)
	t.Cleanup(func() { stop(); assert.NoError(t, <-ended); site.Close() })
	s.until("the address to be told", func() bool { return s.hook != nil })
	return r
}

func TestTheWholeIntakeByCalls(t *testing.T) {
	r := called(t, newStandIn(t), open(t, t.TempDir()))
	play(t, &messenger{run: r, chat: odile, seen: buttonsSeen{}}, overTelegram+needed+sending)
	all, err := r.store.Commissions(t.Context())
	require.NoError(t, err)
	require.Len(t, all, 1, "the enquiry did not arrive; log:\n%s", r.log)
	assert.NotContains(t, r.log.String(), r.hook.Get("secret_token"), "the secret stands in the log")
}

func TestACallWithoutTheSecretIsNotHeard(t *testing.T) {
	r := called(t, newStandIn(t), open(t, t.TempDir()))
	raw := `{"update_id":5001,` + says(odile, "hello") + `}`
	address := r.hook.Get("url")
	assert.Equal(t, http.StatusUnauthorized, callHook(t.Context(), address, "", raw))
	assert.Equal(t, http.StatusUnauthorized, callHook(t.Context(), address, r.hook.Get("secret_token")+"x", raw))
	assert.Equal(t, http.StatusBadRequest, callHook(t.Context(), address, r.hook.Get("secret_token"), "no update"))
	assert.Equal(t, http.StatusBadRequest, callHook(t.Context(), address, r.hook.Get("secret_token"), `{"update_id":5002,"x":"`+strings.Repeat("x", mostUpdate)+`"}`))
	chat, err := r.store.Chat(t.Context(), orders.ChannelTelegram, "700100")
	require.NoError(t, err)
	assert.Empty(t, chat.Asking, "a stranger was heard")
	assert.Equal(t, http.StatusOK, callHook(t.Context(), address, r.hook.Get("secret_token"), raw))
	assert.Equal(t, http.StatusOK, callHook(t.Context(), address, r.hook.Get("secret_token"), raw), "the same again is taken, and does nothing")
	r.emptied(t)
	assert.Len(t, r.texts(odile), 2, "greeting and notice, once")
}

func TestWhatCannotBeStoredIsCalledAgain(t *testing.T) {
	store := open(t, t.TempDir())
	b := New(store, testToken, "", slog.New(slog.DiscardHandler))
	site := httptest.NewServer(nil)
	t.Cleanup(site.Close)
	site.Config.Handler = b.CalledAt(site.URL)
	require.NoError(t, store.Close())
	assert.Equal(t, http.StatusInternalServerError, callHook(t.Context(), site.URL, b.hook.secret, `{"update_id":5001,`+says(odile, "hello")+`}`))
}

func TestFromCallsBackToAsking(t *testing.T) {
	s := newStandIn(t)
	s.hook = map[string][]string{"url": {"https://elsewhere.example"}}
	r := start(t, s, open(t, t.TempDir()))
	m := r.greeted(t)
	play(t, m, `
		[I will, and I am 18 or older]
		< What is your name?`)
}

func TestTheAddressIsToldAgainAfterTrouble(t *testing.T) {
	s := newStandIn(t)
	s.inject("setWebhook", fault{answer: badGateway}, fault{answer: hangUp})
	called(t, s, open(t, t.TempDir()))
	s = newStandIn(t)
	s.inject("setWebhook", fault{answer: refusing(401, "Unauthorized", 0)})
	b := New(nil, testToken, s.server.URL, slog.New(slog.DiscardHandler))
	b.CalledAt("https://hats.example/chat")
	assert.True(t, errors.Is(b.hook.announce(t.Context()), ErrToken))
}
