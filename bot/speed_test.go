package bot

import (
	"context"
	"fmt"
	"log/slog"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"perchbook/orders"
)

// Two hundred clients answer at the same moment. ms/last is from then until the last answer is stored with
// its reply and confirmed, so that no answer took longer; sending is not in it.
func BenchmarkTwoHundredAnswersAtOnce(b *testing.B) {
	const chats = 200
	var took time.Duration
	for range b.N {
		s, store := newStandIn(b), open(b, b.TempDir())
		for i := range chats {
			begun(b, store, fmt.Sprint(odile+i))
		}
		bot := New(store, testToken, s.server.URL, slog.New(slog.DiscardHandler))
		bot.hold = 5
		ctx, stop := context.WithCancel(b.Context())
		ended := make(chan error, 1)
		go func() { ended <- bot.Listen(ctx) }()
		s.until("the bot to listen", func() bool { return s.polls > 0 })
		at, last := time.Now(), 0
		for i := range chats {
			last = s.push(says(odile+i, "me"))
		}
		s.until("all to be confirmed", func() bool { return s.confirmed() > last })
		took += time.Since(at)
		stop()
		require.NoError(b, <-ended)
		waiting, err := store.Unsent(b.Context(), orders.ChannelTelegram, 10*chats)
		require.NoError(b, err)
		require.Len(b, waiting, chats*4, "replies in the outbox")
	}
	b.ReportMetric(float64(took.Microseconds())/1000/float64(b.N), "ms/last")
	b.ReportMetric(0, "ns/op")
}

// begun brings a chat past the notice.
func begun(b testing.TB, store *orders.Store, address string) {
	b.Helper()
	for _, h := range []Heard{{Text: "/start"}, {Press: "privacy=yes"}} {
		require.NoError(b, store.Together(b.Context(), func(s *orders.Store) error {
			return converse(b.Context(), s, orders.ChannelTelegram, address, h, time.Now())
		}))
	}
}
