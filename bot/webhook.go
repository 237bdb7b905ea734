package bot

import (
	"context"
	"crypto/rand"
	"crypto/subtle"
	"encoding/json"
	"io"
	"net/http"
	"sync"

	tg "github.com/go-telegram-bot-api/telegram-bot-api/v5"
)

// mostUpdate bounds what one update may have; a long message with all that belongs to it has some 20 kB.
const mostUpdate = 1 << 20

// secretHeader is where Telegram says the secret that it was given with the address.
const secretHeader = "X-Telegram-Bot-Api-Secret-Token"

// A webhook takes updates from Telegram, which calls us, in place of asking for them.
type webhook struct {
	*Bot
	address string // where Telegram calls
	secret  string // made anew at every start
	mu      sync.Mutex
	tries   map[int]int
}

// CalledAt has Telegram call address, which the handler answers, in place of being asked. Call it before Run.
func (b *Bot) CalledAt(address string) http.Handler {
	b.hook = &webhook{Bot: b, address: address, secret: rand.Text(), tries: map[int]int{}}
	return b.hook
}

// announce tells Telegram the address, and tries until that is done.
func (w *webhook) announce(ctx context.Context) error {
	for failures := 0; ctx.Err() == nil; failures++ {
		_, err := w.call(ctx, w.sending, "setWebhook", tg.Params{
			"url": w.address, "secret_token": w.secret, "allowed_updates": wanted,
			"max_connections": "1", // one after another, so that what she says keeps its order
		})
		switch {
		case err == nil:
			w.log.InfoContext(ctx, "telegram calls us from now on")
			return nil
		case wrongToken(err):
			return ErrToken
		case ctx.Err() == nil:
			w.log.WarnContext(ctx, "telegram was not told where to call; trying again", "err", err)
			rest(ctx, max(backOff(w.beat, failures), retryAfter(err)))
		}
	}
	return nil
}

// ServeHTTP says 200 only once the update is stored: Telegram sends what it got no 200 for again.
func (w *webhook) ServeHTTP(rw http.ResponseWriter, r *http.Request) {
	if subtle.ConstantTimeCompare([]byte(r.Header.Get(secretHeader)), []byte(w.secret)) != 1 {
		http.Error(rw, "unknown caller", http.StatusUnauthorized)
		return
	}
	raw, err := io.ReadAll(http.MaxBytesReader(rw, r.Body, mostUpdate))
	updates := w.numbered(r.Context(), []json.RawMessage{raw})
	if err != nil || len(updates) == 0 {
		http.Error(rw, "no update", http.StatusBadRequest)
		return
	}
	u := updates[0]
	w.mu.Lock()
	defer w.mu.Unlock()
	if err := w.take(r.Context(), u.id, u.raw, w.tries); err != nil {
		w.log.ErrorContext(r.Context(), "an update was not stored; telegram sends it again", "update", u.id, "err", err)
		http.Error(rw, "not stored", http.StatusInternalServerError)
		return
	}
	delete(w.tries, u.id)
}
