package orders

import (
	"fmt"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"gorm.io/gorm"
)

// steps are those of scene, in order.
var steps = []string{"sent", "signed", "booked"}

// scene sends a draft in by a chat, signs it off and books; it tells of each only once that is stored.
func scene(s *Store, draftID string, tell func(string)) error {
	c, err := s.Send(ctx, draftID)
	if err != nil {
		return err
	}
	tell(steps[0])
	w, err := s.SaveWorking(ctx, Working{CommissionID: c.ID, Figures: hat})
	if err != nil {
		return err
	}
	if _, err := s.SignOff(ctx, c.ID, w.Version, "Wren", "she asked for it"); err != nil {
		return err
	}
	tell(steps[1])
	if _, err := s.Book(ctx, c.ID, Fitting, InPerson, tomorrow); err != nil {
		return err
	}
	tell(steps[2])
	return nil
}

// dieInChild plays the scene and is killed after so many statements that write.
func dieInChild() error {
	return killed(func(s *Store) error {
		return scene(s, os.Getenv("PERCHBOOK_TEST_DRAFT"), func(step string) { fmt.Println("SAID", step) })
	})
}

// killed opens the store in the child's folder, plays a scene and is killed on the way.
func killed(scene func(*Store) error) error {
	s, err := Open(ctx, os.Getenv("PERCHBOOK_TEST_DIR"), Settings{Now: func() time.Time { return wednesday }})
	if err != nil {
		return err
	}
	left, err := strconv.Atoi(os.Getenv("PERCHBOOK_TEST_DIE_AT"))
	if err != nil {
		return err
	}
	die := func(*gorm.DB) {
		if left--; left == 0 {
			_ = syscall.Kill(os.Getpid(), syscall.SIGKILL)
			select {}
		}
	}
	calls := s.write.Callback()
	for _, err := range []error{
		calls.Create().After("gorm:create").Register("die", die), calls.Update().After("gorm:update").Register("die", die),
		calls.Delete().After("gorm:delete").Register("die", die), calls.Raw().After("gorm:raw").Register("die", die),
	} {
		if err != nil {
			return err
		}
	}
	if err := scene(s); err != nil {
		return err
	}
	return s.Close()
}

func TestKilledAfterEveryStatementInTurn(t *testing.T) {
	for n, alive := 1, false; !alive; n++ {
		require.Less(t, n, 200, "the scene does not end")
		dir := t.TempDir()
		draft := chatDraft(t, dir)
		cmd := exec.Command(os.Args[0])
		cmd.Env = append(os.Environ(), childKey+"=die", "PERCHBOOK_TEST_DIR="+dir, "PERCHBOOK_TEST_DRAFT="+draft, fmt.Sprintf("PERCHBOOK_TEST_DIE_AT=%d", n))
		out, err := cmd.CombinedOutput()
		require.NotContains(t, string(out), "FAILED", "the child failed before it was killed")
		alive = err == nil
		stored := afterCrash(t, dir, draft, n)
		for i, step := range steps {
			if strings.Contains(string(out), "SAID "+step) {
				require.Greater(t, stored, i, "killed after statement %d: %q was said and is lost", n, step)
			}
		}
		if alive {
			require.Greater(t, n, 15, "the scene writes more than that; the child was not killed where it should be")
			require.Equal(t, len(steps), stored, "the whole scene was played")
		}
	}
}

// chatDraft is an unsent draft with a chat, in a fresh folder.
func chatDraft(t *testing.T, dir string) string {
	t.Helper()
	s, _ := openAt(t, dir)
	d := begun(t, s, nil)
	chat, err := s.Chat(ctx, ChannelTelegram, "1")
	require.NoError(t, err)
	chat.DraftID = d.ID
	_, err = s.SaveChat(ctx, chat)
	require.NoError(t, err)
	require.NoError(t, s.Close())
	return d.ID
}

// afterCrash opens what a crash has left, checks that every step of the scene is there whole or not
// at all, plays the scene to its end, and says how many steps had been stored.
func afterCrash(t *testing.T, dir, draft string, n int) (stored int) {
	t.Helper()
	s, _ := openAt(t, dir)
	var ok string
	require.NoError(t, s.reads(ctx).Raw("pragma integrity_check").Scan(&ok).Error)
	require.Equal(t, "ok", ok, "the file is sound")
	d, err := s.Draft(ctx, draft)
	require.NoError(t, err)
	whole := []int64{0, 0, 0, 0, 0, 0, 0, 0}
	counts := counts(t, s)
	if d.CommissionID != "" {
		stored, whole = 1, []int64{1, 1, 1, 2, 0, 0, 0, 1}
	}
	if stored == 1 && counts[4] == 1 { // a fit sheet
		stored, whole = 2, []int64{1, 1, 1, 3, 1, 0, 0, 2}
	}
	if stored == 2 && counts[5] == 1 { // an appointment
		stored, whole = 3, []int64{1, 1, 1, 3, 1, 1, 4, 3}
	}
	require.Equal(t, whole, counts, "killed after statement %d: %d steps are stored, not whole", n, stored)
	for _, step := range []func() error{
		func() error { _, err := s.Send(ctx, draft); return err },
		func() error { return signAgain(s, draft) },
		func() error { return bookAgain(s, draft) },
	}[min(stored, 2):] {
		require.NoError(t, step(), "killed after statement %d: what was interrupted can be done again", n)
	}
	require.NoError(t, s.Close())
	return stored
}

func counts(t *testing.T, s *Store) []int64 {
	t.Helper()
	var list []int64
	for _, table := range []string{"clients", "commissions", "measure_cards", "moves", "fit_sheets", "appointments", "quarters", "letters"} {
		var n int64
		require.NoError(t, s.reads(ctx).Table(table).Count(&n).Error, table)
		list = append(list, n)
	}
	return list
}

func signAgain(s *Store, draft string) error {
	c, err := s.Send(ctx, draft) // sent before: the same commission
	if err != nil {
		return err
	}
	w, err := s.working(ctx, c.ID)
	if err != nil {
		return err
	}
	w.Figures = hat
	if w, err = s.SaveWorking(ctx, w); err == nil {
		_, err = s.SignOff(ctx, c.ID, w.Version, "Wren", "she asked for it")
	}
	return err
}

func bookAgain(s *Store, draft string) error {
	c, err := s.Send(ctx, draft)
	if err == nil {
		_, err = s.Book(ctx, c.ID, Fitting, InPerson, tomorrow.Add(2*time.Hour))
	}
	return err
}
