package orders

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// nowhere holds that none of the words is in any file of a data folder.
func nowhere(t testing.TB, dir string, words ...string) {
	t.Helper()
	files, err := os.ReadDir(dir)
	require.NoError(t, err)
	for _, f := range files {
		body, err := os.ReadFile(filepath.Join(dir, f.Name()))
		require.NoError(t, err)
		for _, word := range words {
			if at := strings.Index(string(body), word); at >= 0 {
				t.Errorf("%q is left in %s: %q", word, f.Name(), body[max(0, at-80):min(len(body), at+80)])
			}
		}
	}
}

// putBack moves the database of a folder away and puts the backup in its place, as an installer does.
func putBack(t testing.TB, backup, dir string) *Store {
	t.Helper()
	require.ErrorContains(t, Restore(ctx, backup, dir), "move it", "a restore writes over no database")
	for _, end := range []string{"", "-wal", "-shm"} {
		if err := os.Remove(filepath.Join(dir, fileName+end)); err != nil {
			require.ErrorIs(t, err, os.ErrNotExist)
		}
	}
	require.NoError(t, Restore(ctx, backup, dir))
	s, _ := openAt(t, dir)
	return s
}

func TestARestoreDoesNotBringBackWhatWasErased(t *testing.T) {
	dir, kept := t.TempDir(), t.TempDir()
	s, _ := openAt(t, dir)
	c, other := lived(t, s, "Quill"), lived(t, s, "Marsh")
	fitted(t, s, c, "Quill", tomorrow)
	unsent, goesOn := begun(t, s, map[string]string{"name": "Unsent Fennick"}), begun(t, s, map[string]string{"name": "Later Sedge"})
	photo, err := s.AddPhoto(ctx, other.DraftID, photographs, asJPEG(t, quadrants(16, 16)))
	require.NoError(t, err)
	backup := filepath.Join(kept, "monday.db")
	require.NoError(t, s.Backup(ctx, backup))

	require.NoError(t, s.Erase(ctx, c.ID))
	require.NoError(t, s.EraseDraft(ctx, unsent.ID))
	later, err := s.Send(ctx, goesOn.ID)
	require.NoError(t, err)
	require.NoError(t, s.Erase(ctx, later.ID))
	_, err = s.Answer(ctx, other.DraftID, "health_consent", Answer{Said: "no"})
	require.NoError(t, err)
	require.NoError(t, s.RemovePhoto(ctx, other.DraftID, photographs, photo.ID))
	require.NoError(t, s.Close())

	s = putBack(t, backup, dir)
	for what, id := range map[string]string{"a draft": unsent.ID, "a draft that was sent in later": goesOn.ID, "the draft of a commission": c.DraftID} {
		_, err = s.Draft(ctx, id)
		require.ErrorIs(t, err, ErrNotFound, "%s came back", what)
	}
	_, err = s.Commission(ctx, c.ID)
	require.ErrorIs(t, err, ErrNotFound, "an erased commission came back")
	d, err := s.Draft(ctx, other.DraftID)
	require.NoError(t, err, "somebody else's draft is there")
	assert.Zero(t, d.Answers["health"], "a note that was taken back came back")
	assert.Zero(t, d.Answers["health_consent"], "so did the consent to it")
	_, err = s.Photo(ctx, other.DraftID, photo.ID)
	require.ErrorIs(t, err, ErrNotFound, "a photograph that she removed came back")
	assert.NotContains(t, d.Answers[photographs].Value, photo.ID)
	assert.NotEmpty(t, d.Answers[photographs].Value, "her other photograph stays")
	nowhere(t, dir, "Quill", "quill", "Fennick", "Sedge", "latex", c.ID, unsent.ID)

	healthNote(t, s, other.DraftID) // given anew, it stays
	require.NoError(t, s.Close())
	s, _ = openAt(t, dir)
	d, err = s.Draft(ctx, other.DraftID)
	require.NoError(t, err)
	assert.NotEmpty(t, d.Answers["health"].Value, "the list is followed once, not at every start")
}

func TestTheListGoesWithTheBackups(t *testing.T) {
	dir, kept, elsewhere := t.TempDir(), t.TempDir(), t.TempDir()
	s, _ := openAt(t, dir)
	c, second := lived(t, s, "Quill"), lived(t, s, "Marsh")
	require.NoError(t, s.Backup(ctx, filepath.Join(kept, "monday.db")))
	require.NoError(t, s.Erase(ctx, c.ID))
	require.NoError(t, s.Backup(ctx, filepath.Join(kept, "tuesday.db")))
	require.NoError(t, s.Erase(ctx, second.ID))
	require.NoError(t, s.Backup(ctx, filepath.Join(kept, "wednesday.db")))
	lines, err := listed(filepath.Join(kept, listName))
	require.NoError(t, err)
	require.Len(t, lines, 4, "two commissions with their drafts, each once")

	require.NoError(t, os.RemoveAll(dir)) // the machine is lost
	require.NoError(t, Restore(ctx, filepath.Join(kept, "monday.db"), elsewhere))
	s, _ = openAt(t, elsewhere)
	all, err := s.Commissions(ctx)
	require.NoError(t, err)
	assert.Empty(t, all, "what was erased came back on the new machine")
}

func TestALineThatWasCutShortLosesNoOther(t *testing.T) {
	file := filepath.Join(t.TempDir(), listName)
	first, second := erasure{newID(), aDraft, strings.Repeat("a", 64)}, erasure{newID(), aNote, strings.Repeat("b", 64)}
	require.NoError(t, extend(file, first))
	body, err := os.ReadFile(file)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(file, append(body, newID()+" commission 12"...), 0o600))
	require.NoError(t, extend(file, second))
	all, err := listed(file)
	require.NoError(t, err)
	require.Equal(t, []erasure{first, second}, all)
	info, err := os.Stat(file)
	require.NoError(t, err)
	assert.Equal(t, os.FileMode(0o600), info.Mode().Perm())
}

func TestWhatCanNotBeListedIsNotErased(t *testing.T) {
	s, _ := newStore(t)
	c := lived(t, s, "Quill")
	require.NoError(t, os.Mkdir(s.list(), 0o700)) // no list can be written there
	require.Error(t, s.Erase(ctx, c.ID))
	seenOf(t, s, c)
}

// Killed when the list says so and the database does not: the next start finishes it.
func TestAnErasureCutShortIsFinishedAtTheNextStart(t *testing.T) {
	finished := 0
	for n := 18; n < 60; n++ {
		dir := t.TempDir()
		s, _ := openAt(t, dir)
		c := lived(t, s, "Quill")
		fitted(t, s, c, "Quill", tomorrow)
		require.NoError(t, s.Close())
		cmd := exec.Command(os.Args[0])
		cmd.Env = append(os.Environ(), childKey+"=erase", "PERCHBOOK_TEST_DIR="+dir, "PERCHBOOK_TEST_DRAFT="+c.ID, "PERCHBOOK_TEST_DIE_AT="+string(rune('0'+n/10))+string(rune('0'+n%10)))
		out, err := cmd.CombinedOutput()
		require.NotContains(t, string(out), "FAILED")
		lines, listErr := listed(filepath.Join(dir, listName))
		require.NoError(t, listErr)
		s, _ = openAt(t, dir)
		_, gone := s.Commission(ctx, c.ID)
		listed := len(lines) > 0
		require.Equal(t, listed, gone != nil, "killed after statement %d: list and database disagree", n)
		if gone != nil && !strings.Contains(string(out), "SAID") {
			finished++
			_, err := s.Sweep(ctx) // as at every start: it may have been killed while the file was scrubbed
			require.NoError(t, err)
			nowhere(t, dir, "Quill")
		}
		require.NoError(t, s.Close())
		if err == nil {
			break
		}
	}
	require.Positive(t, finished, "no kill fell between list and erasure")
}
