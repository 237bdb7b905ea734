package orders

import (
	"fmt"
	"os"
	"os/exec"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestGuardsAreNamedOnceAndStandBeforeStages(t *testing.T) {
	seen := map[string]bool{}
	for _, g := range guards {
		require.False(t, seen[g.name], "two guards are called %q", g.name)
		seen[g.name] = true
		require.NotEmpty(t, g.words, "%s says what to do", g.name)
		for _, to := range g.before {
			require.Contains(t, Stages, to, "%s stands before an unknown stage", g.name)
		}
	}
}

func TestNoHatIsReadyWithoutTheFinishingCheck(t *testing.T) {
	s, clock := newStore(t)
	c := walk(t, s, signed(t, s), Agreed, InHand, InFitting, Finishing)
	_, err := s.Move(ctx, c.ID, c.Version, Ready, "Wren", "")
	problem(t, err, "guard")
	require.NoError(t, s.TickOff(ctx, c.ID, []string{"pins", "wire", "knots"}, "Wren"))
	_, err = s.Move(ctx, c.ID, c.Version, Ready, "Wren", "")
	problem(t, err, "guard") // three of four

	clock.add(time.Hour)
	require.NoError(t, s.TickOff(ctx, c.ID, []string{"pins", "wire", "knots", "label", "no such item"}, "Alder"))
	check, err := s.FinishingCheck(ctx, c.ID)
	require.NoError(t, err)
	require.Equal(t, []Tick{{"pins", "Wren", wednesday}, {"wire", "Wren", wednesday}, {"knots", "Wren", wednesday}, {"label", "Alder", clock.now().UTC()}}, check, "who and when, each its own")
	require.NoError(t, s.TickOff(ctx, c.ID, []string{"wire", "knots", "label"}, "Alder"))
	_, err = s.Move(ctx, c.ID, c.Version, Ready, "Wren", "")
	problem(t, err, "guard") // a tick can be taken back
	tickedOff(t, s, c)
	c, err = s.Move(ctx, c.ID, c.Version, Ready, "Wren", "")
	require.NoError(t, err)

	problem(t, s.TickOff(ctx, c.ID, nil, "Wren"), "finishing") // done with
	c, err = s.Move(ctx, c.ID, c.Version, Finishing, "Wren", "the ribbon came off")
	require.NoError(t, err)
	_, err = s.Move(ctx, c.ID, c.Version, Ready, "Wren", "")
	problem(t, err, "guard") // it was at the bench again
}

// No quotation, no deposit: then nothing of the kind is asked for, as the other tests here show.
func TestNoHatIsInHandBeforeItsDepositIsIn(t *testing.T) {
	s, _ := newStore(t)
	c := signed(t, s)
	q := priced(t, s, c, "A small hat")
	wanted := func() []string {
		list, err := s.Wanted(ctx, c, InHand)
		require.NoError(t, err)
		return list
	}
	require.Empty(t, wanted(), "a quotation that was not agreed to asks for nothing yet")
	_, err := s.Accept(ctx, c.ID, q.Number, "Nella", q.Parts().Total)
	require.NoError(t, err)
	c, err = s.Commission(ctx, c.ID)
	require.NoError(t, err)
	require.Len(t, wanted(), 1)
	pay := func(amount Amount) {
		_, err := s.Pay(ctx, Payment{ID: NewPaymentID(), CommissionID: c.ID, Payer: "Nella", Amount: amount, Way: "cash", Day: "2027-01-05"}, "Wren")
		require.NoError(t, err)
	}
	pay(q.Parts().Deposit - 1)
	_, err = s.Move(ctx, c.ID, c.Version, InHand, "Wren", "")
	problem(t, err, "guard") // a cent is wanting
	passed, err := s.Take(ctx, c.ID, Step{Version: c.Version, To: InHand, By: "Wren", Why: "a cousin of hers brings it on Friday", PassOver: true})
	require.NoError(t, err)
	history, err := s.History(ctx, c.ID)
	require.NoError(t, err)
	require.Equal(t, "deposit", history[len(history)-1].PassedOver)
	require.Equal(t, "a cousin of hers brings it on Friday", history[len(history)-1].Why)

	c = walk(t, s, passed, Agreed)
	pay(1)
	require.Empty(t, wanted(), "all of it is in")
	c = walk(t, s, c, InHand, Agreed)
	pay(-1)
	_, err = s.Move(ctx, c.ID, c.Version, InHand, "Wren", "")
	problem(t, err, "guard") // some of it was given back
}

func TestEverythingThatIsWantedFirstIsSaidAtOnce(t *testing.T) {
	s, _ := newStore(t)
	c := sent(t, s, nil)
	q := priced(t, s, c, "A small hat")
	_, err := s.Accept(ctx, c.ID, q.Number, "Nella", q.Parts().Total)
	require.NoError(t, err)
	c, err = s.Take(ctx, c.ID, Step{Version: c.Version, To: Proposed, By: "Wren", Why: "drawn by hand", PassOver: true})
	require.NoError(t, err)
	c, err = s.Take(ctx, c.ID, Step{Version: c.Version, To: Agreed, By: "Wren", Why: "drawn by hand", PassOver: true})
	require.NoError(t, err)
	_, err = s.Move(ctx, c.ID, c.Version, InHand, "Wren", "")
	problem(t, err, "guard")
	var p *Problem
	require.ErrorAs(t, err, &p)
	require.Contains(t, p.Text, "fit sheet")
	require.Contains(t, p.Text, "deposit")
}

func TestPassingAGuardOverNeedsAReasonAndIsKept(t *testing.T) {
	s, _ := newStore(t)
	c := walk(t, s, signed(t, s), Agreed, InHand, InFitting, Finishing)
	step := Step{Version: c.Version, To: Ready, By: "Wren", PassOver: true}
	_, err := s.Take(ctx, c.ID, step)
	problem(t, err, "why")
	step.Why = "label sewn in by the client’s wish at the side"
	c, err = s.Take(ctx, c.ID, step)
	require.NoError(t, err)
	history, err := s.History(ctx, c.ID)
	require.NoError(t, err)
	last := history[len(history)-1]
	assert.Equal(t, "finishing check", last.PassedOver, "the history names what was passed over")
	assert.Equal(t, step.Why, last.Why)

	c, err = s.Take(ctx, c.ID, Step{Version: c.Version, To: HandedOver, By: "Wren", PassOver: true})
	require.NoError(t, err, "where nothing stands against it, nothing is passed over")
	history, err = s.History(ctx, c.ID)
	require.NoError(t, err)
	assert.Empty(t, history[len(history)-1].PassedOver)
	_, err = s.Take(ctx, c.ID, Step{Version: c.Version, To: Agreed, By: "Wren", Why: "hurry", PassOver: true})
	problem(t, err, "stage") // the table itself is not passed over
}

// A child's head is measured by hand, so that neither tapes nor a sheet are ever there.
func TestAChildsHatIsMadePastTheGuards(t *testing.T) {
	s, _ := newStore(t)
	c := sent(t, s, map[string]string{"wearer": "child", "girth": Later})
	for _, to := range []Stage{Measured, Proposed, Agreed, InHand} {
		var err error
		c, err = s.Take(ctx, c.ID, Step{Version: c.Version, To: to, By: "Wren", Why: "a child, fitted by hand", PassOver: true})
		require.NoError(t, err, "to %s", to)
	}
}

func TestTwoWhoMoveAtOnce(t *testing.T) {
	s, _ := newStore(t)
	c := signed(t, s)
	before, err := s.History(ctx, c.ID)
	require.NoError(t, err)
	var wait sync.WaitGroup
	failed := make([]error, 16)
	for i := range failed {
		to := []Stage{Agreed, Withdrawn}[i%2]
		wait.Go(func() {
			_, failed[i] = s.Take(ctx, c.ID, Step{Version: c.Version, To: to, By: fmt.Sprint("maker ", i), Why: "now", Letter: "It goes on."})
		})
	}
	wait.Wait()
	won := 0
	for _, err := range failed {
		if err == nil {
			won++
			continue
		}
		require.ErrorIs(t, err, ErrConflict, "the others are told that it moved")
	}
	require.Equal(t, 1, won, "one move counts")
	history, err := s.History(ctx, c.ID)
	require.NoError(t, err)
	require.Len(t, history, len(before)+1, "one line of history")
	letters, err := s.Letters(ctx, c.ClientID)
	require.NoError(t, err)
	require.Len(t, letters, 2, "one letter, beside that of the sheet")
}

func TestAMoveWhoseLetterCannotBeWrittenIsNoMove(t *testing.T) {
	s, _ := newStore(t)
	c := signed(t, s)
	_, err := s.Take(ctx, c.ID, Step{Version: c.Version, To: Agreed, By: "Wren", Letter: strings.Repeat("a", longestLetter+1)})
	problem(t, err, "body")
	now, err := s.Commission(ctx, c.ID)
	require.NoError(t, err)
	require.Equal(t, c, now, "nothing has moved")
}

// stageSteps are those of the scene that stagesInChild plays, in order.
var stageSteps = []string{"agreed", "checked", "ready", "withdrawn"}

// stagesInChild moves with a letter, ticks off, moves past nothing, and gives an hour back by leaving.
func stagesInChild() error {
	return killed(func(s *Store) error {
		return playStages(s, os.Getenv("PERCHBOOK_TEST_DRAFT"), 0, func(step string) { fmt.Println("SAID", step) })
	})
}

func playStages(s *Store, id string, from int, tell func(string)) error {
	take := func(to Stage, letter string) error {
		c, err := s.Commission(ctx, id)
		if err == nil {
			_, err = s.Take(ctx, id, Step{Version: c.Version, To: to, By: "Wren", Why: "on", Letter: letter})
		}
		return err
	}
	for i, step := range []func() error{
		func() error { return take(InFitting, "Please come.") },
		func() error { return s.TickOff(ctx, id, []string{"pins", "wire", "knots", "label"}, "Wren") },
		func() error { return take(Ready, "Your hat is ready.") },
		func() error { return take(Withdrawn, "So be it.") },
	}[from:] {
		if err := step(); err != nil {
			return err
		}
		tell(stageSteps[from+i])
	}
	return nil
}

func TestKilledAfterEveryStatementOfMoves(t *testing.T) {
	for n, alive := 1, false; !alive; n++ {
		require.Less(t, n, 80, "the scene does not end")
		dir := t.TempDir()
		s, _ := openAt(t, dir)
		c := walk(t, s, signed(t, s), Agreed, InHand)
		booked(t, s, c, tomorrow)
		require.NoError(t, s.Close())
		cmd := exec.Command(os.Args[0])
		cmd.Env = append(os.Environ(), childKey+"=stages", "PERCHBOOK_TEST_DIR="+dir, "PERCHBOOK_TEST_DRAFT="+c.ID, fmt.Sprintf("PERCHBOOK_TEST_DIE_AT=%d", n))
		out, err := cmd.CombinedOutput()
		require.NotContains(t, string(out), "FAILED", "the child failed before it was killed")
		alive = err == nil
		stored := stagesStored(t, dir, c, n)
		for i, step := range stageSteps {
			if strings.Contains(string(out), "SAID "+step) {
				require.Greater(t, stored, i, "killed after statement %d: %q was said and is lost", n, step)
			}
		}
		if alive {
			require.Greater(t, n, 12, "the scene writes more than that; the child was not killed where it should be")
			require.Equal(t, len(stageSteps), stored, "the whole scene was played")
		}
	}
}

// stagesStored says how many steps a crash has left, each of them whole with history and letter, and
// plays the rest.
func stagesStored(t *testing.T, dir string, c Commission, n int) (stored int) {
	t.Helper()
	s, _ := openAt(t, dir)
	now, err := s.Commission(ctx, c.ID)
	require.NoError(t, err)
	check, err := s.FinishingCheck(ctx, c.ID)
	require.NoError(t, err)
	count := func(table string) (n int64) {
		require.NoError(t, s.reads(ctx).Table(table).Count(&n).Error)
		return n
	}
	switch {
	case now.Stage == Withdrawn:
		stored = 4
	case now.Stage == Ready:
		stored = 3
	case now.Stage == InFitting && len(check) > 0:
		stored = 2
	case now.Stage == InFitting:
		stored = 1
	}
	moves, letters := []int64{0, 1, 1, 2, 3}[stored], []int64{0, 1, 1, 2, 4}[stored] // the last tells of the hour too
	ticks, quarters := int64(0), int64(4)
	if stored >= 2 {
		ticks = 4
	}
	if stored == 4 {
		quarters = 0
	}
	got := []int64{count("moves") - 5, count("letters") - 2, count("finishing_ticks"), count("quarters")}
	require.Equal(t, []int64{moves, letters, ticks, quarters}, got, "killed after statement %d: %d steps are stored, not whole", n, stored)
	require.NoError(t, playStages(s, c.ID, stored, func(string) {}), "killed after statement %d: what was interrupted can be done again", n)
	require.NoError(t, s.Close())
	return stored
}
