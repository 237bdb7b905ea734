package orders

import (
	"bytes"
	"fmt"
	"image"
	"image/jpeg"
	"os"
	"os/exec"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// letterSteps are those of the scene that lettersInChild plays, in order.
var letterSteps = []string{"received", "written"}

// encoded is a picture as a child without a test can make it.
func encoded(m image.Image) []byte {
	var b bytes.Buffer
	_ = jpeg.Encode(&b, m, nil) // cannot fail into memory
	return b.Bytes()
}

// lettersInChild lets a client and the milliner write with a photograph and a PDF file each.
func lettersInChild() error {
	return killed(func(s *Store) error {
		id, files := os.Getenv("PERCHBOOK_TEST_DRAFT"), [][]byte{encoded(quadrants(16, 16)), aPDF(300)}
		if _, err := s.Receive(ctx, id, "The dress.", files...); err != nil {
			return err
		}
		fmt.Println("SAID", letterSteps[0])
		if _, err := s.Write(ctx, id, "The cloth.", files...); err != nil {
			return err
		}
		fmt.Println("SAID", letterSteps[1])
		return nil
	})
}

func TestKilledAfterEveryStatementOfLettersWithFiles(t *testing.T) {
	for n, alive := 1, false; !alive; n++ {
		require.Less(t, n, 40, "the scene does not end")
		dir := t.TempDir()
		s, _ := openAt(t, dir)
		c := sent(t, s, nil)
		require.NoError(t, s.Close())
		cmd := exec.Command(os.Args[0])
		cmd.Env = append(os.Environ(), childKey+"=letter", "PERCHBOOK_TEST_DIR="+dir, "PERCHBOOK_TEST_DRAFT="+c.ID, fmt.Sprintf("PERCHBOOK_TEST_DIE_AT=%d", n))
		out, err := cmd.CombinedOutput()
		require.NotContains(t, string(out), "FAILED", "the child failed before it was killed")
		alive = err == nil
		stored := lettersStored(t, dir, c, n)
		for i, step := range letterSteps {
			if strings.Contains(string(out), "SAID "+step) {
				require.Greater(t, stored, i, "killed after statement %d: %q was said and is lost", n, step)
			}
		}
		if alive {
			require.Greater(t, n, 8, "the scene writes more than that; the child was not killed where it should be")
			require.Equal(t, len(letterSteps), stored, "the whole scene was played")
		}
	}
}

// lettersStored says how many letters a crash has left, each of them whole with its files and with what is
// owed, and sends the interrupted one again.
func lettersStored(t *testing.T, dir string, c Commission, n int) (stored int) {
	t.Helper()
	s, _ := openAt(t, dir)
	defer func() { require.NoError(t, s.Close()) }()
	book, err := s.Letters(ctx, c.ClientID)
	require.NoError(t, err)
	for _, l := range book {
		require.Equal(t, []int{1, 1}, []int{len(l.Photos), len(l.Papers)}, "killed after statement %d: a letter without its files", n)
	}
	for _, table := range []string{"letter_photos", "letter_papers"} {
		var files int64
		require.NoError(t, s.reads(ctx).Table(table).Count(&files).Error)
		require.EqualValues(t, len(book), files, "killed after statement %d: %s without a letter", n, table)
	}
	client, err := s.Client(ctx, c.ClientID)
	require.NoError(t, err)
	require.Equal(t, len(book) == 1, !client.Owed.IsZero(), "killed after statement %d: she is owed an answer from her letter to ours", n)
	again, err := s.Receive(ctx, c.ID, "The dress.", encoded(quadrants(16, 16)), aPDF(300))
	require.NoError(t, err, "what was interrupted can be sent again")
	if len(book) == 1 {
		require.Equal(t, book[0].ID, again.ID, "and what was not is kept once")
	}
	return len(book)
}
