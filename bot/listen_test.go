package bot

import (
	"bytes"
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"log/slog"
	"net/http"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	tg "github.com/go-telegram-bot-api/telegram-bot-api/v5"
	_ "github.com/mattn/go-sqlite3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/orders"
)

func TestTheWholeIntakeOverTelegram(t *testing.T) {
	m := &messenger{run: newRun(t), chat: odile, seen: buttonsSeen{}}
	play(t, m, overTelegram+needed+sending+`
		< `+origin+orders.CommissionPath+`
		> Can it be green?
		< I have passed that on`)
	all, err := m.store.Commissions(t.Context())
	require.NoError(t, err)
	require.Len(t, all, 1)
	assert.Equal(t, orders.DoorChat, all[0].Door)
	m.until("every press to be acknowledged", func() bool {
		for _, done := range m.pressed {
			if !done {
				return false
			}
		}
		return len(m.pressed) > 0
	})
	for _, secret := range []string{"Odile", "quillfeather", "22 1/2", testToken, strconv.Itoa(odile), orders.CommissionPath} {
		assert.NotContains(t, m.log.String(), secret, "the log tells what it must not")
	}
}

// plain conversation for trouble: two updates that have an answer each.
func (r *run) greeted(t *testing.T) *messenger {
	m := &messenger{run: r, chat: odile, seen: buttonsSeen{}}
	play(t, m, overTelegram)
	return m
}

func TestOneBadUpdateDoesNotStopTheRest(t *testing.T) {
	r := newRun(t)
	m := r.greeted(t)
	r.mu.Lock() // one batch, so that the good one stands behind the bad ones
	for _, bad := range []string{`{"update_id":%d,"message":"a poisoned one"}`, `{"update_id":%d,"message":{"chat":{"id":"Odile"}}}`} {
		r.updates = append(r.updates, sentUpdate{r.nextID, fmt.Sprintf(bad, r.nextID)})
		r.nextID++
	}
	r.updates = append(r.updates, sentUpdate{0, `{"message":{}}`}, sentUpdate{0, `7`})
	r.mu.Unlock()
	play(t, m, `
		[I will, and I am 18 or older]
		< What is your name?`)
	assert.Contains(t, r.log.String(), "update=1003", "the bad one is not named")
	assert.NotContains(t, r.log.String(), "Odile", "the bad one is quoted")
}

func TestUpdatesAsTelegramSendsThem(t *testing.T) {
	r := newRun(t)
	m := r.greeted(t)
	files, err := filepath.Glob(filepath.Join("..", "testdata", "telegram", "*.json"))
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, file := range files {
		name := filepath.Base(file)
		raw, err := os.ReadFile(file)
		require.NoError(t, err)
		r.mu.Lock()
		r.pressed["3008222000000000001"] = false // the press among them
		r.mu.Unlock()
		replies := shown(m.afterUpdate(t, m.push(unnumbered(t, raw))))
		want, ok := map[string]string{
			"album.json": others[Picture], "voice.json": others[Sound], "sticker.json": others[Sticker],
			"location.json": others[Place], "contact.json": others[Person], "document.json": others[File],
			"video_note.json": others[Moving], "edited.json": "write it again",
			"command_with_code.json": "We go on where we were.",
			"old_press.json":         "That question no longer matters.",
			"poll.json":              "", "channel_post.json": "", "group.json": "",
		}[name]
		require.True(t, ok, "no expectation for %s", name)
		if want == "" {
			assert.Empty(t, replies, "%s gets an answer", name)
			continue
		}
		assert.Contains(t, replies, filled(want), name)
		assert.Contains(t, replies, "Who will wear the hat?", "%s loses the question", name)
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	require.Len(t, r.to(-900200), 1, "the group is not declined")
	assert.Contains(t, r.to(-900200)[0].text, "a chat of our own")
}

// unnumbered is an update without its number and outer braces.
func unnumbered(t *testing.T, raw []byte) string {
	var u map[string]json.RawMessage
	require.NoError(t, json.Unmarshal(raw, &u))
	delete(u, "update_id")
	out, err := json.Marshal(u)
	require.NoError(t, err)
	return strings.TrimSuffix(strings.TrimPrefix(string(out), "{"), "}")
}

// filled is a text up to its link.
func filled(text string) string {
	before, _, _ := bytes.Cut([]byte(text), []byte("{link}"))
	return string(before)
}

func TestTroubleOnTheWay(t *testing.T) {
	for name, fs := range map[string][]fault{
		"a proxy's page":      {{answer: badGateway}, {answer: badGateway}},
		"a dropped line":      {{answer: hangUp}},
		"asked to wait":       {{answer: refusing(429, "Too Many Requests: retry after 1", 1)}},
		"done, then dropped":  {{answer: hangUp, done: true}},
		"an internal mishap":  {{answer: refusing(500, "Internal Server Error", 0)}},
		"somebody else polls": {{answer: refusing(409, "Conflict: terminated by other getUpdates request", 0)}},
	} {
		t.Run(name, func(t *testing.T) {
			r := newRun(t)
			m := r.greeted(t)
			r.inject("getUpdates", fs...)
			play(t, m, `
				[I will, and I am 18 or older]
				< What is your name?
				> Odile
				< How can the studio reach you?`)
			assert.NotContains(t, r.log.String(), testToken)
		})
	}
}

func TestWaitsAsLongAsItIsTold(t *testing.T) {
	r := newRun(t)
	m := r.greeted(t)
	r.inject("sendMessage", fault{answer: refusing(429, "Too Many Requests: retry after 1", 1)})
	begun := time.Now()
	play(t, m, `
		[I will, and I am 18 or older]
		< What is your name?`)
	assert.GreaterOrEqual(t, time.Since(begun), time.Second, "it did not wait for the second it was told")
}

func TestAWrongTokenEndsIt(t *testing.T) {
	for code, why := range map[int]string{401: "Unauthorized", 404: "Not Found"} {
		for _, method := range []string{"getUpdates", "sendMessage"} {
			s := newStandIn(t)
			store := open(t, t.TempDir())
			b := New(store, testToken, s.server.URL, slog.New(slog.NewTextHandler(&journal{}, nil)))
			b.every(10 * time.Millisecond).hold = 1
			s.inject(method, fault{answer: refusing(code, why, 0)})
			s.push(says(odile, "hello"))
			ctx, done := context.WithTimeout(t.Context(), 5*time.Second)
			assert.ErrorIs(t, b.Run(ctx), ErrToken, "%d to %s", code, method)
			done()
		}
	}
}

func TestTwoWithOneTokenAreTold(t *testing.T) {
	r := newRun(t)
	r.until("the first to poll", func() bool { return r.polls > 0 })
	second := start(t, r.standIn, open(t, t.TempDir()))
	require.Eventually(t, func() bool {
		return bytes.Contains([]byte(r.log.String()+second.log.String()), []byte("another program is listening with the same token"))
	}, 10*time.Second, 5*time.Millisecond)
	require.NoError(t, second.stop())
}

func TestOffsetMovesOnlyOnceStored(t *testing.T) {
	s := newStandIn(t)
	store := open(t, t.TempDir())
	require.NoError(t, store.Close()) // nothing can be stored
	s.push(says(odile, "hello"))
	r := start(t, s, store)
	r.until("some tries", func() bool { return r.polls > mostTries+2 })
	r.mu.Lock()
	for _, offset := range r.offsets {
		assert.Zero(t, offset, "an update was confirmed that is not stored")
	}
	r.mu.Unlock()
	require.NoError(t, r.stop())

	again := start(t, s, open(t, t.TempDir()))
	again.until("the greeting", func() bool { return len(again.to(odile)) > 0 })
}

func TestAnUpdateThatFailsIsNotOvertaken(t *testing.T) {
	dir := t.TempDir()
	store := open(t, dir)
	b := New(store, testToken, "", slog.New(slog.DiscardHandler))
	var batch []json.RawMessage
	for i, text := range []string{"hello", "yes", "me"} {
		batch = append(batch, json.RawMessage(fmt.Sprintf(`{"update_id":%d,%s}`, i+1, says(odile, text))))
	}
	tries := map[int]int{}
	tamper(t, dir, `create trigger broken before insert on drafts begin select raise(abort, 'broken'); end`)
	offset, err := b.takeAll(t.Context(), batch, 0, tries)
	require.Error(t, err)
	assert.Equal(t, 2, offset, "only the greeting was stored, so only that may be confirmed")
	tamper(t, dir, `drop trigger broken`)
	offset, err = b.takeAll(t.Context(), batch[1:], offset, tries)
	require.NoError(t, err)
	assert.Equal(t, 4, offset)
	chat, err := store.Chat(t.Context(), orders.ChannelTelegram, strconv.Itoa(odile))
	require.NoError(t, err)
	d, err := store.Draft(t.Context(), chat.DraftID)
	require.NoError(t, err)
	assert.Equal(t, "me", d.Answers["wearer"].Value)
}

// A redelivered update, and all of them after a restart that lost the offset, change nothing.
func TestRedeliveryChangesNothing(t *testing.T) {
	dir := t.TempDir()
	s := newStandIn(t)
	store := open(t, dir)
	r := start(t, s, store)
	m := r.greeted(t)
	kept := []sentUpdate{{1001, `{"update_id":1001,` + says(odile, "/start") + `}`}}
	play(t, m, `
		[I will, and I am 18 or older]
		> Odile
		< How can the studio reach you?`)
	require.NoError(t, r.stop())
	s.mu.Lock()
	sent := len(s.sent)
	for id := 1002; id < s.nextID; id++ {
		kept = append(kept, sentUpdate{id, fmt.Sprintf(`{"update_id":%d,%s}`, id, says(odile, "another name"))})
	}
	s.updates = kept
	s.mu.Unlock()
	r = start(t, s, store)
	r.until("all to be confirmed again", func() bool { return r.confirmed() == r.nextID })
	m.run = r
	play(t, m, `
		> back
		< You said: Odile`)
	r.mu.Lock()
	defer r.mu.Unlock()
	assert.Equal(t, sent+1, len(r.sent), "a redelivered update was answered again")
}

func TestAnUpdateThatAlwaysFailsIsSetAside(t *testing.T) {
	dir := t.TempDir()
	r := start(t, newStandIn(t), open(t, dir))
	m := r.greeted(t)
	tamper(t, dir, `create trigger broken before insert on letters when new.outgoing = 0 begin select raise(abort, 'broken'); end`)
	replies := shown(m.write(t, "something that will fail"))
	assert.Contains(t, replies, "Something went wrong on our side")
	assert.Equal(t, 1, strings.Count(r.log.String(), "set aside"))
	assert.NotContains(t, r.log.String(), "something that will fail")
	tamper(t, dir, `drop trigger broken`)
	play(t, m, `
		[I will, and I am 18 or older]
		< What is your name?`)
}

// Updates that come together are stored together; one among them that fails must neither take the others with
// it nor have them answered twice.
func TestOneThatFailsAmongManyHarmsNone(t *testing.T) {
	s, dir := newStandIn(t), t.TempDir()
	store := open(t, dir)
	for i := range 3 {
		begun(t, store, fmt.Sprint(odile+i))
	}
	tamper(t, dir, `create trigger broken before insert on letters when new.outgoing = 0 and new.body = 'fails' begin select raise(abort, 'broken'); end`)
	for i, text := range []string{"me", "fails", "me"} {
		s.push(says(odile+i, text))
	}
	r := start(t, s, store)
	r.until("all to be confirmed", func() bool { return r.confirmed() == r.nextID })
	r.emptied(t)
	for _, chat := range []int{odile, odile + 2} {
		got := r.texts(chat)
		require.Len(t, got, 4, "greeting, notice, first question, and one answer")
		assert.Contains(t, got[3], "What is your name?")
	}
	assert.Contains(t, strings.Join(r.texts(odile+1), "\n"), "Something went wrong on our side")
	assert.Equal(t, 1, strings.Count(r.log.String(), "set aside"))
}

// tamper changes the database behind the store's back.
func tamper(t *testing.T, dir, statement string) {
	t.Helper()
	db, err := sql.Open("sqlite3", filepath.Join(dir, "perchbook.db")+"?_busy_timeout=5000")
	require.NoError(t, err)
	defer db.Close()
	_, err = db.ExecContext(t.Context(), statement)
	require.NoError(t, err)
}

func TestLibraryStillLeaksTheToken(t *testing.T) {
	s := newStandIn(t)
	s.server.Close()
	api := tg.BotAPI{Token: testToken, Client: &http.Client{}}
	api.SetAPIEndpoint(s.server.URL + "/bot%s/%s")
	_, err := api.MakeRequest("getMe", nil)
	require.Error(t, err)
	assert.Contains(t, err.Error(), testToken, "the library no longer leaks the token: redact can go")

	b := New(nil, testToken, s.server.URL, nil)
	_, err = b.call(t.Context(), b.sending, "getMe", nil)
	require.Error(t, err)
	assert.NotContains(t, err.Error(), testToken, "the token stands in an error")
	assert.NotContains(t, b.redact(errors.New("at /bot"+testToken+"/x")).Error(), testToken)
}

func TestStopsAtOnce(t *testing.T) {
	r := newRun(t)
	r.until("a poll", func() bool { return r.polls > 0 })
	begun := time.Now()
	require.NoError(t, r.stop())
	assert.Less(t, time.Since(begun), 500*time.Millisecond, "stopping waits for the poll")
}
