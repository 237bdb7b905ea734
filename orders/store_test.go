package orders

import (
	"context"
	"os"
	"path/filepath"
	"sync/atomic"
	"testing"
	"time"
	_ "time/tzdata" // zones on machines without them

	"github.com/stretchr/testify/require"
)

var ctx = context.Background()

// A clock that tests turn by hand.
type clock struct{ at atomic.Int64 }

func (c *clock) now() time.Time      { return time.UnixMilli(c.at.Load()) }
func (c *clock) set(t time.Time)     { c.at.Store(t.UnixMilli()) }
func (c *clock) add(d time.Duration) { c.set(c.now().Add(d)) }

// A Wednesday in the winter.
var wednesday = time.Date(2027, 1, 13, 9, 0, 0, 0, time.UTC)

// openAt opens the store in a folder, with a clock that stands on a Wednesday.
func openAt(t testing.TB, dir string) (*Store, *clock) {
	t.Helper()
	c := &clock{}
	c.set(wednesday)
	s, err := Open(ctx, dir, Settings{Now: c.now, Origin: "http://hats.example"})
	require.NoError(t, err, "open")
	t.Cleanup(func() { _ = s.Close() })
	return s, c
}

func newStore(t testing.TB) (*Store, *clock) {
	t.Helper()
	return openAt(t, t.TempDir())
}

// given are the answers of a client who has measured herself.
var given = map[string]string{
	"wearer": "me", "name": "Nella Quill", "reach": "nella@post.example", "occasion": "races", "day": "2027-06-12",
	"girth": "570.0 572.0 571.0", "nape": "230.0 231.0 229.0", "hair_day": "up", "hair_measured": "yes",
}

func begun(t testing.TB, s *Store, but map[string]string) Draft {
	t.Helper()
	d, err := s.Begin(ctx, DoorWeb, Answer{Value: "yes"})
	require.NoError(t, err, "begin")
	for _, answers := range []map[string]string{given, but} {
		for key, value := range answers {
			d, err = s.Answer(ctx, d.ID, key, Answer{Value: value, Said: value})
			require.NoError(t, err, "answer %s", key)
		}
	}
	return d
}

// sent is the commission of a client who gave these answers in place of the usual ones.
func sent(t testing.TB, s *Store, but map[string]string) Commission {
	t.Helper()
	c, err := s.Send(ctx, begun(t, s, but).ID)
	require.NoError(t, err, "send")
	return c
}

func problem(t testing.TB, err error, key string) *Problem {
	t.Helper()
	var p *Problem
	require.ErrorAs(t, err, &p, "a problem was wanted")
	require.Equal(t, key, p.Key, "the problem stands at another field: %s", p.Text)
	return p
}

func TestOpenMakesAPrivateFolderAndFile(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "a b?c#d%41", "data")
	s, _ := openAt(t, dir)
	folder, err := os.Stat(dir)
	require.NoError(t, err, "the folder is there")
	require.Equal(t, os.FileMode(0o700), folder.Mode().Perm(), "the folder is its owner's")
	for _, name := range []string{fileName, fileName + "-wal", fileName + "-shm"} {
		info, err := os.Stat(filepath.Join(dir, name))
		require.NoError(t, err, "%s is in the folder", name)
		require.Equal(t, os.FileMode(0o600), info.Mode().Perm(), "%s is its owner's", name)
	}
	require.NoError(t, s.Ping(ctx), "the database answers")
}
