package orders

import (
	"bytes"
	"log/slog"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestBackupHoldsEverythingAndOpensTheSameLinks(t *testing.T) {
	s, _ := newStore(t)
	chat, c := inChat(t, s, "1")
	d := c.DraftID
	photo, err := s.AddPhoto(ctx, d, photographs, asJPEG(t, quadrants(16, 16)))
	require.NoError(t, err)
	sheet := settle(t, s, c)
	a := booked(t, s, c, tomorrow)
	_, err = s.SaveStudio(ctx, firstStudio())
	require.NoError(t, err)
	_, err = s.SaveMaker(ctx, Maker{Name: "Wren", PasswordHash: "x"})
	require.NoError(t, err)
	c, err = s.Commission(ctx, c.ID)
	require.NoError(t, err)

	file := filepath.Join(t.TempDir(), fileName)
	require.NoError(t, s.Backup(ctx, file))
	info, err := os.Stat(file)
	require.NoError(t, err)
	require.Equal(t, os.FileMode(0o600), info.Mode().Perm(), "it holds what the workroom holds: its owner's only")
	left, err := os.ReadDir(filepath.Dir(file))
	require.NoError(t, err)
	require.Len(t, left, 1, "nothing else is left behind")
	sent(t, s, nil) // the workroom goes on
	require.ErrorContains(t, s.Backup(ctx, file), "there already", "a backup never replaces a file")

	restored, _ := openAt(t, filepath.Dir(file))
	byLink, err := restored.CommissionByLink(ctx, s.CommissionLink(c))
	require.NoError(t, err, "her private link still opens")
	assert.Equal(t, c, byLink)
	for name, read := range map[string]func(*Store) (any, error){
		"client":      func(s *Store) (any, error) { return s.Client(ctx, c.ClientID) },
		"draft":       func(s *Store) (any, error) { return s.Draft(ctx, d) },
		"photograph":  func(s *Store) (any, error) { return s.Photo(ctx, d, photo.ID) },
		"cards":       func(s *Store) (any, error) { return s.Cards(ctx, c.ID) },
		"history":     func(s *Store) (any, error) { return s.History(ctx, c.ID) },
		"fit":         func(s *Store) (any, error) { return s.Fitted(ctx, c.ID) },
		"sheets":      func(s *Store) (any, error) { return s.Sheets(ctx, c.ID) },
		"appointment": func(s *Store) (any, error) { return s.Appointment(ctx, a.ID) },
		"letters":     func(s *Store) (any, error) { return s.Letters(ctx, c.ClientID) },
		"amendments":  func(s *Store) (any, error) { return s.Amendments(ctx, d) },
		"outbox":      func(s *Store) (any, error) { return s.Unsent(ctx, ChannelTelegram, 10) },
		"chat":        func(s *Store) (any, error) { return s.Chat(ctx, ChannelTelegram, chat.Address) },
		"studio":      func(s *Store) (any, error) { return s.Studio(ctx) },
		"makers":      func(s *Store) (any, error) { return s.Makers(ctx) },
	} {
		want, err := read(s)
		require.NoError(t, err, name)
		got, err := read(restored)
		require.NoError(t, err, name)
		assert.Equal(t, want, got, "%s", name)
	}
	all, err := restored.Commissions(ctx)
	require.NoError(t, err)
	require.Equal(t, []Commission{c}, all, "what came after the backup is not in it")
	require.Equal(t, []FitSheet{sheet}, func() []FitSheet { l, _ := restored.Sheets(ctx, c.ID); return l }())
	booked(t, restored, c, tomorrow.Add(2*time.Hour)) // and work goes on in it
}

func TestBackupWhileTheWorkroomWrites(t *testing.T) {
	s, _ := newStore(t)
	stop := make(chan struct{})
	done := make(chan error, 1)
	go func() {
		for {
			select {
			case <-stop:
				done <- nil
				return
			default:
				if _, err := s.Begin(ctx, DoorWeb, Answer{Value: "yes"}); err != nil {
					done <- err
					return
				}
			}
		}
	}()
	dir := t.TempDir()
	for i := range 3 {
		require.NoError(t, s.Backup(ctx, filepath.Join(dir, string(rune('a'+i)))))
	}
	close(stop)
	require.NoError(t, <-done)
}

func TestADamagedCopyIsNotABackup(t *testing.T) {
	s, _ := newStore(t)
	for range 200 {
		_, err := s.Begin(ctx, DoorWeb, Answer{Value: "yes"})
		require.NoError(t, err)
	}
	file := filepath.Join(t.TempDir(), "copy.db")
	err := replicate(ctx, file, func(part string) error {
		require.NoError(t, copyTo(ctx, s.file, part))
		whole, err := os.ReadFile(part)
		require.NoError(t, err)
		copy(whole[len(whole)/2:], bytes.Repeat([]byte{0xff}, 8192)) // as a failing disk might
		return os.WriteFile(part, whole, 0o600)
	})
	require.Error(t, err)
	left, err := os.ReadDir(filepath.Dir(file))
	require.NoError(t, err)
	require.Empty(t, left, "a copy that cannot be trusted is not left behind")
}

func TestBackupIntoNowhere(t *testing.T) {
	s, _ := newStore(t)
	require.Error(t, s.Backup(ctx, filepath.Join(t.TempDir(), "no such folder", "b.db")))
}

func TestAFileOfANewerProgramIsLeftAlone(t *testing.T) {
	dir := t.TempDir()
	s, _ := openAt(t, dir)
	c := sent(t, s, nil)
	require.NoError(t, s.writes(ctx).Exec("insert into goose_db_version (version_id, is_applied) values (9999, 1)").Error)
	require.NoError(t, s.Close())
	_, err := Open(ctx, dir, Settings{})
	require.ErrorContains(t, err, "newer program")
	require.NotContains(t, err.Error(), c.ClientName)
}

func TestOpeningAgainFindsEverything(t *testing.T) {
	dir := t.TempDir()
	s, _ := openAt(t, dir)
	c := sent(t, s, nil)
	require.NoError(t, s.Close())
	s, _ = openAt(t, dir)
	again, err := s.Commission(ctx, c.ID)
	require.NoError(t, err)
	require.Equal(t, c, again)
}

func TestAMistypedFolderIsNoNewWorkroom(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "tpyo")
	_, err := Open(ctx, dir, Settings{Existing: true})
	require.ErrorIs(t, err, os.ErrNotExist)
	require.NoDirExists(t, dir, "nothing was made")
	s, _ := openAt(t, dir)
	require.NoError(t, s.Close())
	s, err = Open(ctx, dir, Settings{Existing: true})
	require.NoError(t, err)
	require.NoError(t, s.Close())
}

func TestWhatIsNoDatabase(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, fileName), bytes.Repeat([]byte("not a database. "), 300), 0o600))
	_, err := Open(ctx, dir, Settings{})
	require.Error(t, err)
	file := filepath.Join(t.TempDir(), "file")
	require.NoError(t, os.WriteFile(file, nil, 0o600))
	_, err = Open(ctx, file, Settings{})
	require.ErrorContains(t, err, "data folder")
}

// Whatever is done, well or badly, no name, number or word of a client is logged.
func TestNothingPersonalIsLogged(t *testing.T) {
	var lines bytes.Buffer
	log := slog.New(slog.NewTextHandler(&lines, &slog.HandlerOptions{Level: slog.LevelDebug}))
	dir := t.TempDir()
	s, err := Open(ctx, dir, Settings{Now: func() time.Time { return wednesday }, Log: log})
	require.NoError(t, err)
	t.Cleanup(func() { _ = s.Close() })
	c := sent(t, s, nil)
	booked(t, s, c, tomorrow)
	_, err = s.Book(ctx, c.ID, Fitting, InPerson, tomorrow)
	require.ErrorIs(t, err, ErrTaken)
	require.Empty(t, lines.String(), "failures are returned, not logged here")

	db, err := dial(filepath.Join(dir, fileName), reading, 1, slowOnly(log, time.Nanosecond, nil))
	require.NoError(t, err)
	row, err := one[clientRow](db.WithContext(ctx).Where("name = ?", "Nella Quill"))
	require.NoError(t, err)
	require.Equal(t, c.ClientID, row.ID)
	require.Contains(t, lines.String(), "clients", "a slow statement is logged")
	require.NotContains(t, lines.String(), "Quill", "its values are not")
}
