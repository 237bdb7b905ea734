package bot

import (
	"context"
	"errors"
	"log/slog"
	"math/rand/v2"
	"net/http"
	"strings"
	"sync"
	"time"

	"perchbook/orders"
)

// DefaultBase is where Telegram answers bots.
const DefaultBase = "https://api.telegram.org"

// ErrToken says that Telegram does not know the token. Trying again is of no use.
var ErrToken = errors.New("telegram does not know this token: check it and start again")

// A Bot speaks with Telegram. It touches the network only in Run, so that the portal starts
// without it.
type Bot struct {
	store       *orders.Store
	token, base string
	log         *slog.Logger
	polling     *http.Client
	sending     *http.Client
	outbox      *sender
	hook        *webhook      // nil: updates are asked for
	presses     chan string   // buttons whose presses are still to be acknowledged
	beat        time.Duration // of waiting and backing off; tests make it short
	hold        int           // seconds that Telegram keeps a poll open
}

// New makes a Bot. base is DefaultBase, or where a test answers; "" is DefaultBase.
func New(store *orders.Store, token, base string, log *slog.Logger) *Bot {
	if base == "" {
		base = DefaultBase
	}
	if log == nil {
		log = slog.Default()
	}
	b := &Bot{
		store: store, token: strings.TrimSpace(token), base: strings.TrimRight(base, "/"), log: log,
		polling: &http.Client{Timeout: 65 * time.Second}, sending: &http.Client{Timeout: 15 * time.Second},
		presses: make(chan string, 256), hold: 50,
	}
	return b.every(time.Second)
}

// every sets how long a beat is.
func (b *Bot) every(beat time.Duration) *Bot {
	b.beat = beat
	b.outbox = newSender(courier{b, map[string]int{}, newPace(beat)}, orders.ChannelTelegram, b.store, b.log, beat)
	return b
}

// Run listens, or has Telegram call, and delivers until ctx ends, and then returns nil. ErrToken is the only error; it
// ends both.
func (b *Bot) Run(ctx context.Context) error {
	ctx, stop := context.WithCancelCause(ctx)
	defer stop(nil)
	var both sync.WaitGroup
	listen := b.Listen
	if b.hook != nil {
		listen = b.hook.announce
	}
	for _, work := range []func(context.Context) error{listen, b.outbox.run, b.acknowledge} {
		both.Go(func() {
			if err := work(ctx); err != nil {
				stop(err)
			}
		})
	}
	both.Wait()
	if err := context.Cause(ctx); errors.Is(err, ErrToken) {
		return err
	}
	return nil
}

// rest waits, or less when ctx ends.
func rest(ctx context.Context, d time.Duration) {
	t := time.NewTimer(d)
	defer t.Stop()
	select {
	case <-ctx.Done():
	case <-t.C:
	}
}

// backOff is how long to wait after so many failures in a row: doubling to five minutes of beats,
// shortened at random by up to half so that not all come back at once.
func backOff(beat time.Duration, failures int) time.Duration {
	most := min(beat<<min(failures, 9), 300*beat)
	return most - rand.N(most/2+1)
}
