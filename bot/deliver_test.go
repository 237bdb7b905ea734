package bot

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"
	"unicode/utf16"

	tg "github.com/go-telegram-bot-api/telegram-bot-api/v5"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"perchbook/orders"
)

const thisbe = 700200

// outbox puts letters to a chat into the outbox and returns their ids.
func outbox(t *testing.T, store *orders.Store, chat int, texts ...string) []string {
	t.Helper()
	c, err := store.Chat(t.Context(), orders.ChannelTelegram, fmt.Sprint(chat))
	require.NoError(t, err)
	var ids []string
	for _, text := range texts {
		l, err := store.Tell(t.Context(), orders.Letter{ChatID: c.ID, Body: text, Kind: orders.LetterIntake})
		require.NoError(t, err)
		ids = append(ids, l.ID)
	}
	return ids
}

// letter reads one letter of a chat back.
func letter(t *testing.T, store *orders.Store, chat int, id string) orders.Letter {
	t.Helper()
	c, err := store.Chat(t.Context(), orders.ChannelTelegram, fmt.Sprint(chat))
	require.NoError(t, err)
	all, err := store.ChatLetters(t.Context(), c.ID)
	require.NoError(t, err)
	for _, l := range all {
		if l.ID == id {
			return l
		}
	}
	t.Fatalf("letter %s is gone", id)
	return orders.Letter{}
}

// texts are what a chat got; the stand-in must not be locked.
func (s *standIn) texts(chat int) []string {
	s.mu.Lock()
	defer s.mu.Unlock()
	var got []string
	for _, m := range s.to(chat) {
		got = append(got, m.text)
	}
	return got
}

func (r *run) emptied(t *testing.T) {
	t.Helper()
	require.Eventually(t, func() bool {
		waiting, err := r.store.Unsent(t.Context(), orders.ChannelTelegram, 10)
		return err == nil && len(waiting) == 0
	}, 10*time.Second, 2*time.Millisecond, "the outbox does not empty")
}

func TestABlockedChatFailsForGoodAndHoldsUpNobody(t *testing.T) {
	r := newRun(t)
	r.mu.Lock()
	r.blocked[fmt.Sprint(odile)] = true
	r.mu.Unlock()
	lost := outbox(t, r.store, odile, "one", "two")
	good := outbox(t, r.store, thisbe, "three")
	r.emptied(t)
	for _, id := range lost {
		l := letter(t, r.store, odile, id)
		assert.Equal(t, orders.Failed, l.State)
		assert.Equal(t, "the client has blocked the chat", l.Reason)
	}
	assert.Equal(t, orders.Sent, letter(t, r.store, thisbe, good[0]).State)
	assert.Equal(t, []string{"three"}, r.texts(thisbe))
}

func TestALetterThatIsRefusedFailsWithTheReason(t *testing.T) {
	r := newRun(t)
	r.inject("sendMessage", fault{answer: refusing(400, "Bad Request: chat not found", 0)})
	id := outbox(t, r.store, odile, "one")[0]
	r.emptied(t)
	l := letter(t, r.store, odile, id)
	assert.Equal(t, orders.Failed, l.State)
	assert.Equal(t, "the messenger does not take it: Bad Request: chat not found", l.Reason)
}

func TestOrderWithinAChatOutlastsTrouble(t *testing.T) {
	for name, f := range map[string]fault{
		"asked to wait":      {answer: refusing(429, "Too Many Requests: retry after 1", 1)},
		"an internal mishap": {answer: refusing(500, "Internal Server Error", 0)},
		"a proxy's page":     {answer: badGateway},
		"a dropped line":     {answer: hangUp},
	} {
		t.Run(name, func(t *testing.T) {
			s, store := newStandIn(t), open(t, t.TempDir())
			s.inject("sendMessage", f)
			outbox(t, store, odile, "one", "two", "three")
			outbox(t, store, thisbe, "four")
			r := start(t, s, store)
			r.emptied(t)
			assert.Equal(t, []string{"one", "two", "three"}, r.texts(odile))
			assert.Equal(t, []string{"four"}, r.texts(thisbe))
		})
	}
}

// Between Telegram's acceptance and our mark lies the one place where a letter can come twice.
func TestALostAnswerRepeatsALetterAndLosesNone(t *testing.T) {
	s, store := newStandIn(t), open(t, t.TempDir())
	s.inject("sendMessage", fault{answer: hangUp, done: true})
	outbox(t, store, odile, "one", "two")
	r := start(t, s, store)
	r.emptied(t)
	assert.Equal(t, []string{"one", "one", "two"}, r.texts(odile))
}

// Stopped just when Telegram has accepted a letter, its answer is waited for and the mark made.
func TestStoppingBetweenAcceptanceAndMarkRepeatsNothing(t *testing.T) {
	s, store := newStandIn(t), open(t, t.TempDir())
	outbox(t, store, odile, "one", "two")
	accepted, answer := make(chan struct{}), make(chan struct{})
	s.accepted = func(method string) {
		if method == "sendMessage" {
			accepted <- struct{}{}
			<-answer
		}
	}
	r := start(t, s, store)
	<-accepted
	go func() {
		time.Sleep(50 * time.Millisecond) // until the stop is under way
		close(answer)
	}()
	require.NoError(t, r.stop())
	assert.Equal(t, []string{"one"}, r.texts(odile), "it went on sending although it was stopped")
	s.accepted = nil
	again := start(t, s, store)
	again.emptied(t)
	assert.Equal(t, []string{"one", "two"}, again.texts(odile), "a polite stop repeats a letter")
}

func TestALongLetterGoesInPieces(t *testing.T) {
	r := newRun(t)
	long := strings.Repeat("A line about feathers and how they lie.\n", 250)
	outbox(t, r.store, odile, long)
	r.emptied(t)
	got := r.texts(odile)
	assert.Len(t, got, 3)
	assert.Equal(t, long, strings.Join(got, ""))
}

func TestPiecesLoseNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringOfN(rapid.RuneFrom([]rune("ab \nü👒")), 0, 60, -1).Draw(t, "text")
		most := rapid.IntRange(2, 20).Draw(t, "most")
		all := pieces(text, most)
		if strings.Join(all, "") != text {
			t.Fatalf("%q became %q", text, all)
		}
		for _, p := range all {
			if units := len(utf16.Encode([]rune(p))); units > most {
				t.Fatalf("%q has %d units, more than %d", p, units, most)
			}
		}
	})
}

func TestKeyboardKeepsAllButtonsInOrder(t *testing.T) {
	var bs []orders.Option
	for i, label := range []string{"Up", "Down", "Not yet", "Back", "A label too long to share a row", "Done"} {
		bs = append(bs, orders.Option{Value: fmt.Sprint("k=", i), Label: label})
	}
	var rows [][]string
	var order []string
	for _, row := range keyboard(bs).InlineKeyboard {
		var labels []string
		for _, b := range row {
			labels = append(labels, b.Text)
			order = append(order, *b.CallbackData)
		}
		rows = append(rows, labels)
	}
	assert.Equal(t, [][]string{{"Up", "Down", "Not yet"}, {"Back"}, {"A label too long to share a row"}, {"Done"}}, rows)
	assert.Equal(t, []string{"k=0", "k=1", "k=2", "k=3", "k=4", "k=5"}, order)
}

func TestBackOffGrowsAndStaysBounded(t *testing.T) {
	for failures := range 200 {
		d := backOff(time.Second, failures)
		assert.GreaterOrEqual(t, d, time.Second/2, "after %d failures", failures)
		assert.LessOrEqual(t, d, 300*time.Second, "after %d failures", failures)
	}
	assert.Greater(t, backOff(time.Second, 8), backOff(time.Second, 2))
}

func TestALetterErasedWhileItGoesOut(t *testing.T) {
	r := newRun(t)
	c, err := r.store.Chat(t.Context(), orders.ChannelTelegram, fmt.Sprint(odile))
	require.NoError(t, err)
	d, err := r.store.Begin(t.Context(), orders.DoorChat, orders.Answer{Value: "yes"})
	require.NoError(t, err)
	c.DraftID = d.ID
	_, err = r.store.SaveChat(t.Context(), c)
	require.NoError(t, err)
	erased := make(chan error, 1)
	r.mu.Lock()
	r.accepted = func(method string) {
		if method == "sendMessage" && cap(erased) > len(erased) {
			erased <- r.store.EraseDraft(t.Context(), d.ID)
		}
	}
	r.mu.Unlock()
	outbox(t, r.store, odile, "one")
	require.NoError(t, <-erased)
	outbox(t, r.store, thisbe, "two")
	r.emptied(t)
	assert.Equal(t, []string{"two"}, r.texts(thisbe), "others get theirs")
	assert.NotContains(t, r.log.String(), "delivering letters failed", "nothing has failed")
}

// A client who blocks the chat and comes back: what failed meanwhile is the milliner's to send, what is written
// while it is shut does not wait for it, and once she says something there it serves again.
func TestABlockedChatIsNotWrittenToUntilSheComesBack(t *testing.T) {
	r := newRun(t)
	m := &messenger{run: r, chat: odile, seen: buttonsSeen{}}
	play(t, m, overTelegram+needed+sending)
	all, err := r.store.Commissions(t.Context())
	require.NoError(t, err)
	c := all[0].ID
	r.mu.Lock()
	r.blocked[fmt.Sprint(odile)] = true
	r.mu.Unlock()
	first, err := r.store.Write(t.Context(), c, "The straw has come.")
	require.NoError(t, err)
	require.Equal(t, orders.Waiting, first.State)
	r.emptied(t)
	second, err := r.store.Write(t.Context(), c, "And the ribbon.")
	require.NoError(t, err)
	assert.Equal(t, orders.ToCopy, second.State, "it waits for a chat that takes nothing")
	list, _, err := r.store.ToCopyOut(t.Context(), 10)
	require.NoError(t, err)
	require.Len(t, list, 1)
	assert.Equal(t, 2, list[0].N, "the milliner is to send both by hand")
	r.mu.Lock()
	r.blocked = map[string]bool{}
	r.mu.Unlock()
	m.write(t, "I am back")
	third, err := r.store.Write(t.Context(), c, "Good to hear from you.")
	require.NoError(t, err)
	assert.Equal(t, orders.Waiting, third.State)
}

func TestWhatAnswersMean(t *testing.T) {
	c := courier{Bot: New(nil, testToken, "", nil)}
	for code, want := range map[int]verdict{400: notTaken, 401: notKnown, 403: chatShut, 404: notKnown, 413: notTaken, 500: tryAgain, 502: tryAgain} {
		assert.Equal(t, want, c.judge(&tg.Error{Code: code}).verdict, "code %d", code)
	}
	wait := c.judge(&tg.Error{Code: 429, ResponseParameters: tg.ResponseParameters{RetryAfter: 7}})
	assert.Equal(t, judgement{verdict: tryAgain, wait: 7 * time.Second}, wait)
	assert.Equal(t, nobody, c.judge(errors.New("no route")).verdict)
}

// What no pass can bring out for a day is given up, and only that.
func TestWhatWaitsForADayIsGivenUp(t *testing.T) {
	store := open(t, t.TempDir())
	id := outbox(t, store, odile, "one")[0]
	n, err := store.GiveUp(t.Context(), orders.ChannelTelegram, time.Now().Add(-longestWait), "nobody answers")
	require.NoError(t, err)
	assert.Zero(t, n, "it has hardly begun to wait")
	n, err = store.GiveUp(t.Context(), orders.ChannelRehearsal, time.Now().Add(time.Minute), "nobody answers")
	require.NoError(t, err)
	assert.Zero(t, n, "it waits for another channel")
	n, err = store.GiveUp(t.Context(), orders.ChannelTelegram, time.Now().Add(time.Minute), "nobody answers")
	require.NoError(t, err)
	assert.Equal(t, 1, n)
	l := letter(t, store, odile, id)
	assert.Equal(t, orders.Failed, l.State)
	assert.Equal(t, "nobody answers", l.Reason)
}

// Telegram advises one message a second in one chat; who has had a few must not keep another waiting.
func TestOneChatsFloodIsPacedAndHoldsUpNobody(t *testing.T) {
	s, store := newStandIn(t), open(t, t.TempDir())
	var many []string
	for i := range 12 {
		many = append(many, fmt.Sprint("line ", i))
	}
	outbox(t, store, odile, many...)
	outbox(t, store, thisbe, "four")
	r := start(t, s, store)
	r.emptied(t)
	assert.Equal(t, many, r.texts(odile), "order within the chat")
	s.mu.Lock()
	defer s.mu.Unlock()
	flood, quick := s.to(odile), s.to(thisbe)
	took := flood[len(flood)-1].at.Sub(flood[0].at)
	assert.Greater(t, took, 60*time.Millisecond, "twelve messages at three in a row and then one a beat take nine beats")
	assert.True(t, quick[0].at.Before(flood[inARow+1].at), "another chat waited for the flood to end")
}
