package bot

import (
	"context"
	"database/sql"
	"fmt"
	"io"
	"log/slog"
	"os"
	"os/exec"
	"regexp"
	"strconv"
	"sync"
	"sync/atomic"
	"syscall"
	"testing"
	"time"

	"github.com/mattn/go-sqlite3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/orders"
)

// The bot is run in a child, which is this same test binary, and killed.
const (
	childDir   = "PERCHBOOK_CHAT_DIR"
	childAPI   = "PERCHBOOK_CHAT_API"
	childDieAt = "PERCHBOOK_CHAT_DIE_AT"
)

func TestMain(m *testing.M) {
	if os.Getenv(childDir) != "" {
		child()
	}
	os.Exit(m.Run())
}

// child runs the bot until its parent is gone. With a number to die at it kills itself at that row
// change or commit, before the database has answered.
func child() {
	if left, _ := strconv.Atoi(os.Getenv(childDieAt)); left > 0 {
		dieAt(int32(left))
	}
	go func() {
		_, _ = io.Copy(io.Discard, os.Stdin)
		os.Exit(1)
	}()
	ctx := context.Background()
	store, err := orders.Open(ctx, os.Getenv(childDir), orders.Settings{Origin: origin})
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(2)
	}
	b := New(store, testToken, os.Getenv(childAPI), slog.New(slog.DiscardHandler))
	b.every(10 * time.Millisecond).hold = 1
	_ = b.Run(ctx)
	os.Exit(3)
}

// dieAt hooks into the driver that the store is about to use.
func dieAt(left int32) {
	db, err := sql.Open("sqlite3", "")
	if err != nil {
		panic(err)
	}
	die := func() {
		if atomic.AddInt32(&left, -1) == 0 {
			_ = syscall.Kill(os.Getpid(), syscall.SIGKILL)
			select {}
		}
	}
	db.Driver().(*sqlite3.SQLiteDriver).ConnectHook = func(c *sqlite3.SQLiteConn) error {
		c.RegisterUpdateHook(func(int, string, string, int64) { die() })
		c.RegisterCommitHook(func() int { die(); return 0 })
		return nil
	}
}

// A keeper starts the child again whenever it dies, but has it die on purpose only once.
type keeper struct {
	mu     sync.Mutex
	now    *exec.Cmd
	ended  bool
	deaths int
	done   chan struct{}
}

func (k *keeper) keep(t *testing.T, dir, api string, dieAt int) {
	k.done = make(chan struct{})
	go func() {
		defer close(k.done)
		for n := dieAt; k.begin(t, dir, api, n); n = 0 {
			_ = k.now.Wait()
			k.mu.Lock()
			if k.ended {
				k.mu.Unlock()
				return
			}
			k.deaths++
			k.mu.Unlock()
		}
	}()
	t.Cleanup(func() { k.end() })
}

func (k *keeper) begin(t *testing.T, dir, api string, dieAt int) bool {
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.ended || k.deaths > 3 {
		return false
	}
	c := exec.Command(os.Args[0])
	c.Env = append(os.Environ(), childDir+"="+dir, childAPI+"="+api, childDieAt+"="+strconv.Itoa(dieAt))
	c.Stderr = os.Stderr
	_, err := c.StdinPipe() // closed when we are gone
	if err == nil {
		err = c.Start()
	}
	if err != nil {
		t.Errorf("the child does not start: %v", err)
		return false
	}
	k.now = c
	return true
}

// kill ends the child that runs now.
func (k *keeper) kill() {
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.now != nil && !k.ended {
		_ = k.now.Process.Kill()
	}
}

// end stops the child for good and says how often it died before.
func (k *keeper) end() int {
	k.mu.Lock()
	if !k.ended {
		k.ended = true
		if k.now != nil {
			_ = k.now.Process.Kill()
		}
	}
	k.mu.Unlock()
	<-k.done
	return k.deaths
}

// short is a conversation with each sort of change in it: greeting, consent, a choice, words.
const short = overTelegram + `
	[I will, and I am 18 or older]
	< What is your name?
	> Odile
	< How can the studio reach you?
`

// scene holds the short conversation with a child that dies on the way, and checks that nothing was
// lost or stored twice. It returns how many messages came twice, and how often the child died.
func scene(t *testing.T, s *standIn, k *keeper, dieAt int) (twice, deaths int) {
	dir := t.TempDir()
	store := open(t, dir)
	k.keep(t, dir, s.server.URL, dieAt)
	m := &messenger{run: &run{standIn: s, store: store}, chat: odile, seen: buttonsSeen{}}
	play(t, m, short)
	deaths = k.end()

	chat, err := store.Chat(t.Context(), orders.ChannelTelegram, fmt.Sprint(odile))
	require.NoError(t, err)
	d, err := store.Draft(t.Context(), chat.DraftID)
	require.NoError(t, err)
	assert.Equal(t, "me", d.Answers["wearer"].Value)
	assert.Equal(t, "Odile", d.Answers["name"].Value)
	letters, err := store.ChatLetters(t.Context(), chat.ID)
	require.NoError(t, err)
	in := 0
	for _, l := range letters {
		if !l.Out {
			in++
		}
	}
	assert.Equal(t, 3, in, "what she said was kept more or less than once")
	assert.Equal(t, 5, len(letters)-in, "an answer was written more or less than once")
	return s.twice(t), deaths
}

// twice counts the messages that came more than once, and fails when one never came.
func (s *standIn) twice(t *testing.T) (n int) {
	seen := map[string]bool{}
	for _, text := range s.texts(odile) {
		text = regexp.MustCompile(`https?://\S+`).ReplaceAllString(text, "(link)")
		if seen[text] {
			n++
		}
		seen[text] = true
	}
	assert.Len(t, seen, 5, "a message never arrived")
	return n
}

func TestKilledAtEveryChangeOfTheDatabase(t *testing.T) {
	untilAlive(t, "change", func(t *testing.T, n int) (int, int) {
		return scene(t, newStandIn(t), &keeper{}, n)
	})
}

func TestKilledAtEveryCallOfTheNetwork(t *testing.T) {
	for name, carriedOut := range map[string]bool{"before call": false, "after call": true} {
		untilAlive(t, name, func(t *testing.T, n int) (int, int) {
			s, k := newStandIn(t), &keeper{}
			var calls atomic.Int32
			last := func() bool {
				is := calls.Add(1) == int32(n)
				if is {
					k.kill()
				}
				return is
			}
			if carriedOut {
				s.accepted = func(string) { last() }
			} else {
				s.arrived = func(string) bool { return !last() }
			}
			return scene(t, s, k, 0)
		})
	}
}

// untilAlive plays a scene with a death at the first, second, ... step, until it ends without one. A
// message may come twice only when death falls between Telegram's acceptance and our mark.
func untilAlive(t *testing.T, name string, scene func(t *testing.T, n int) (twice, deaths int)) {
	all, alive := 0, false
	for n := 1; !alive; n++ {
		ok := t.Run(fmt.Sprint(name, " ", n), func(t *testing.T) {
			twice, deaths := scene(t, n)
			assert.LessOrEqual(t, twice, 1, "one death repeats one message at most")
			all, alive = all+twice, deaths == 0
		})
		if !ok {
			return
		}
		if alive {
			assert.Greater(t, n, 8, "it died less often than there are steps")
			t.Logf("%s: %d deaths, %d messages came twice", name, n-1, all)
		}
	}
}
