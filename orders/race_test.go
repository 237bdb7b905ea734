package orders

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestManyAtOnceBookOneHour(t *testing.T) {
	s, _ := newStore(t)
	c := sent(t, s, nil)
	kinds := []string{Consultation, Fitting, Collection}
	var wait sync.WaitGroup
	failed := make([]error, 40)
	for i := range failed {
		wait.Go(func() { // of different lengths, all of them over the quarter from 11:00
			start := tomorrow.Add(-quarter * time.Duration(i%2))
			_, failed[i] = s.Book(ctx, c.ID, kinds[i%3], InPerson, start)
		})
	}
	wait.Wait()
	won := 0
	for _, err := range failed {
		if err == nil {
			won++
			continue
		}
		require.ErrorIs(t, err, ErrTaken, "the others are told that it is taken")
	}
	require.Equal(t, 1, won, "exactly one wins")
	lastLetter(t, s, c, 1)
	all, err := s.Appointments(ctx, c.ID)
	require.NoError(t, err)
	require.Len(t, all, 1, "the losers have left nothing behind")
}

// However bookings, moves and cancellations fall together, no two that stand ever overlap.
func TestNoTwoEverOverlap(t *testing.T) {
	s, _ := newStore(t)
	c := sent(t, s, nil)
	seed := uint64(time.Now().UnixNano())
	t.Logf("seed %d", seed)
	var wait sync.WaitGroup
	for worker := range 8 {
		wait.Go(func() {
			r := rand.New(rand.NewPCG(seed, uint64(worker)))
			start := func() time.Time {
				return tomorrow.Add(quarter * time.Duration(r.IntN(20)))
			}
			for range 30 {
				a, err := s.Book(ctx, c.ID, []string{Consultation, Fitting, Collection}[r.IntN(3)], InPerson, start())
				if err == nil && r.IntN(2) == 0 {
					a2, err2 := s.Rebook(ctx, a.ID, a.Version, start())
					if err2 == nil {
						a = a2
					}
					err = err2
				}
				if err == nil && r.IntN(3) > 0 {
					_, err = s.Cancel(ctx, a.ID, a.Version)
				}
				var p *Problem
				assert.True(t, err == nil || errors.Is(err, ErrTaken) || errors.As(err, &p), "unexpected: %v", err)
			}
		})
	}
	wait.Wait()
	list, err := s.Diary(ctx, tomorrow.Add(-24*time.Hour), tomorrow.Add(48*time.Hour))
	require.NoError(t, err)
	require.NotEmpty(t, list)
	rows := 0
	for i, a := range list {
		rows += len(quartersOf(a.Start, a.End.Add(firstStudio().buffer(a.Kind))))
		for _, b := range list[i+1:] {
			require.False(t, b.Start.Before(a.End.Add(15*time.Minute)), "%s and %s overlap", a.Start, b.Start)
		}
	}
	var quarters int64
	require.NoError(t, s.reads(ctx).Model(&quarterRow{}).Count(&quarters).Error)
	require.EqualValues(t, rows, quarters, "every quarter marked belongs to an appointment that stands")
}

// bookInChild books the same hours as its twin, all at once, and says which it got.
func bookInChild() error {
	s, err := Open(ctx, os.Getenv("PERCHBOOK_TEST_DIR"), Settings{Now: func() time.Time { return wednesday }})
	if err != nil {
		return err
	}
	defer func() { _ = s.Close() }()
	_, _ = fmt.Scanln() // begin when told
	for i := range 20 {
		_, err := s.Book(ctx, os.Getenv("PERCHBOOK_TEST_COMMISSION"), Collection, InPerson, tomorrow.Add(time.Duration(i/4)*24*time.Hour).Add(time.Duration(i%4)*time.Hour))
		switch {
		case err == nil:
			fmt.Println("WON", i)
		case !errors.Is(err, ErrTaken):
			var p *Problem
			if !errors.As(err, &p) { // a week-end
				return err
			}
		}
	}
	return nil
}

// holdInChild keeps the same hours for its client as its twin for another, all at once, takes what it keeps,
// and says which it got.
func holdInChild() error {
	s, err := Open(ctx, os.Getenv("PERCHBOOK_TEST_DIR"), Settings{Now: func() time.Time { return wednesday }})
	if err != nil {
		return err
	}
	defer func() { _ = s.Close() }()
	hers := os.Getenv("PERCHBOOK_TEST_COMMISSION")
	_, _ = fmt.Scanln() // begin when told
	for i := range 12 {
		h, err := s.Hold(ctx, hers, Fitting, InPerson, "", friday.AddDate(0, 0, 7*(i/4)).Add(time.Duration(i%4)*time.Hour))
		if errors.Is(err, ErrTaken) {
			continue
		}
		if err == nil {
			_, err = s.TakeHeld(ctx, hers, h.ID)
		}
		if err != nil {
			return fmt.Errorf("hour %d: %w", i, err)
		}
		fmt.Println("WON", i)
	}
	return nil
}

// twoProcesses runs a part of a test in two processes at once, one for each commission, and counts what
// they say.
func twoProcesses(t *testing.T, part, dir string, of ...Commission) map[string]int {
	t.Helper()
	type child struct {
		cmd   *exec.Cmd
		out   strings.Builder
		begin func()
	}
	children := make([]*child, len(of))
	for i := range children {
		cmd := exec.Command(os.Args[0])
		cmd.Env = append(os.Environ(), childKey+"="+part, "PERCHBOOK_TEST_DIR="+dir, "PERCHBOOK_TEST_COMMISSION="+of[i].ID)
		children[i] = &child{cmd: cmd}
		cmd.Stdout, cmd.Stderr = &children[i].out, &children[i].out
		in, err := cmd.StdinPipe()
		require.NoError(t, err)
		require.NoError(t, cmd.Start())
		children[i].begin = func() { _, _ = in.Write([]byte("go\n")) }
	}
	for _, c := range children {
		c.begin()
	}
	won := map[string]int{}
	for _, c := range children {
		require.NoError(t, c.cmd.Wait(), "a child failed: %s", c.out.String())
		for line := range strings.Lines(c.out.String()) {
			won[line]++
		}
	}
	for line, times := range won {
		require.Equal(t, 1, times, "both processes have %s", line)
	}
	return won
}

func TestTwoProcessesShareOneDiary(t *testing.T) {
	dir := t.TempDir()
	s, _ := openAt(t, dir)
	c := sent(t, s, nil)
	require.Len(t, twoProcesses(t, "book", dir, c, c), 12, "every hour of the three working days was won by one of them")
	all, err := s.Appointments(ctx, c.ID)
	require.NoError(t, err)
	require.Len(t, all, 12)
}

// Hours kept by one process are kept from the other, and become appointments of one client only.
func TestTwoProcessesHoldHoursOfOneDiary(t *testing.T) {
	dir := t.TempDir()
	s, _ := openAt(t, dir)
	one, other := sent(t, s, nil), sent(t, s, nil)
	require.Len(t, twoProcesses(t, "hold", dir, one, other), 12, "every hour was won by one of them")
	begins := map[time.Time]bool{}
	for _, c := range []Commission{one, other} {
		list, err := s.Appointments(ctx, c.ID)
		require.NoError(t, err)
		for _, a := range list {
			require.False(t, begins[a.Start], "%s is booked twice", a.Start)
			begins[a.Start] = true
		}
		left, err := s.Holds(ctx, c.ID)
		require.NoError(t, err)
		require.Empty(t, left, "what was taken is kept no longer")
	}
	require.Len(t, begins, 12)
	var quarters int64
	require.NoError(t, s.reads(ctx).Model(&quarterRow{}).Count(&quarters).Error)
	require.EqualValues(t, 12*len(quartersOf(friday, friday.Add(firstStudio().length(Fitting)+firstStudio().buffer(Fitting)))), quarters, "every quarter marked belongs to an appointment")
}
