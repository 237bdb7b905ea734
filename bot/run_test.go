package bot

import (
	"bytes"
	"context"
	"errors"
	"log/slog"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/orders"
)

// A journal is a log that a test reads while it is written.
type journal struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (j *journal) Write(p []byte) (int, error) {
	j.mu.Lock()
	defer j.mu.Unlock()
	return j.b.Write(p)
}

func (j *journal) String() string {
	j.mu.Lock()
	defer j.mu.Unlock()
	return j.b.String()
}

// A run is a Bot at work on the stand-in.
type run struct {
	*standIn
	store *orders.Store
	log   *journal
	stop  func() error // ends Run and returns what it returned
}

// start sets a Bot to work; its waits are a hundredth of the real ones.
func start(t *testing.T, s *standIn, store *orders.Store) *run {
	t.Helper()
	r := &run{standIn: s, store: store, log: &journal{}}
	b := New(store, testToken, s.server.URL, slog.New(slog.NewTextHandler(r.log, nil)))
	b.every(10 * time.Millisecond).hold = 1
	ctx, cancel := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- b.Run(ctx) }()
	r.stop = sync.OnceValue(func() error {
		cancel()
		select {
		case err := <-ended:
			return err
		case <-time.After(5 * time.Second):
			return errors.New("Run did not end")
		}
	})
	t.Cleanup(func() { assert.NoError(t, r.stop()) })
	return r
}

func newRun(t *testing.T) *run { return start(t, newStandIn(t), open(t, t.TempDir())) }

const odile = 700100

// messenger is a partner over the stand-in.
type messenger struct {
	*run
	chat int
	read int
	seen buttonsSeen
}

func (m *messenger) write(t *testing.T, text string) []Reply {
	return m.afterUpdate(t, m.push(says(m.chat, text)))
}

func (m *messenger) press(t *testing.T, label string) []Reply {
	return m.afterUpdate(t, m.push(m.presses(m.chat, m.seen.data(t, label))))
}

// afterUpdate waits until the update is confirmed and the outbox is empty.
func (m *messenger) afterUpdate(t *testing.T, update int) []Reply {
	m.until("the update to be confirmed", func() bool { return m.confirmed() > update })
	require.Eventually(t, func() bool {
		waiting, err := m.store.Unsent(t.Context(), orders.ChannelTelegram, 10)
		return err == nil && len(waiting) == 0
	}, 10*time.Second, 2*time.Millisecond, "the outbox does not empty")
	m.mu.Lock()
	defer m.mu.Unlock()
	got := m.to(m.chat)
	var replies []Reply
	for _, s := range got[m.read:] {
		r := Reply{Text: s.text}
		for label, data := range s.buttons {
			r.Buttons = append(r.Buttons, orders.Option{Value: data, Label: label})
		}
		replies = append(replies, r)
	}
	m.read = len(got)
	m.seen.see(replies)
	return replies
}

// overTelegram is the opening as a messenger shows it, links filled in.
const overTelegram = `
	> /start@TernLaneBot
	< enquiry chat of the Tern Lane Workroom
	< the messenger's own servers, which we cannot erase
	< our own page: https://hats.example/
	[Yes, I agree]
	< Who will wear the hat?
`
