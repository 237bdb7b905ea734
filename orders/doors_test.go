package orders

import (
	"bytes"
	"errors"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/alexedwards/scs/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var _ scs.Store = (*Sessions)(nil)

func TestLinksOpenWhatTheyWereMadeFor(t *testing.T) {
	s, _ := newStore(t)
	c := sent(t, s, nil)
	d, err := s.Draft(ctx, c.DraftID)
	require.NoError(t, err)
	got, err := s.CommissionByLink(ctx, s.CommissionLink(c))
	require.NoError(t, err)
	require.Equal(t, c, got)
	gotDraft, err := s.DraftByLink(ctx, s.DraftLink(d))
	require.NoError(t, err)
	require.Equal(t, d, gotDraft)

	other := sent(t, s, nil)
	mac := func(link string) string { _, mac, _ := strings.Cut(link, "."); return mac }
	require.GreaterOrEqual(t, len(mac(s.CommissionLink(c))), 22, "128 bits and more")
	for name, link := range map[string]string{
		"nothing":              "",
		"the id alone":         c.ID,
		"an empty hash":        c.ID + ".",
		"another's hash":       c.ID + "." + mac(s.CommissionLink(other)),
		"the draft's link":     s.DraftLink(d),
		"the draft's hash":     c.ID + "." + mac(s.DraftLink(d)),
		"a letter too few":     s.CommissionLink(c)[:len(s.CommissionLink(c))-1],
		"a letter too many":    s.CommissionLink(c) + "A",
		"of no commission":     newID() + "." + mac(s.CommissionLink(c)),
		"with an older number": s.link(commissionKind, c.ID, -1),
	} {
		_, err := s.CommissionByLink(ctx, link)
		require.ErrorIs(t, err, ErrNotFound, name)
	}
	_, err = s.DraftByLink(ctx, s.CommissionLink(c))
	require.ErrorIs(t, err, ErrNotFound, "her page's link does not open the draft")
	_, err = s.DraftByLink(ctx, d.ID+"."+mac(s.CommissionLink(c)))
	require.ErrorIs(t, err, ErrNotFound, "nor does its hash")
	require.NotEqual(t, s.link(draftKind, c.ID, 0), s.link(commissionKind, c.ID, 0), "even if a draft had a commission's id")
}

func TestRevokeEndsBothLinks(t *testing.T) {
	s, _ := newStore(t)
	c := sent(t, s, nil)
	d, err := s.Draft(ctx, c.DraftID)
	require.NoError(t, err)
	oldLink, oldDraft := s.CommissionLink(c), s.DraftLink(d)
	c, err = s.Revoke(ctx, c.ID)
	require.NoError(t, err)
	_, err = s.CommissionByLink(ctx, oldLink)
	require.ErrorIs(t, err, ErrNotFound, "the old link to her page")
	_, err = s.DraftByLink(ctx, oldDraft)
	require.ErrorIs(t, err, ErrNotFound, "the old link to her draft")
	_, err = s.CommissionByLink(ctx, s.CommissionLink(c))
	require.NoError(t, err, "the new one opens")
	_, err = s.Revoke(ctx, newID())
	require.ErrorIs(t, err, ErrNotFound)
}

func TestLinksOutliveARestartAndDifferBetweenWorkrooms(t *testing.T) {
	dir := t.TempDir()
	s, _ := openAt(t, dir)
	c := sent(t, s, nil)
	link := s.CommissionLink(c)
	require.NoError(t, s.Close())
	s, _ = openAt(t, dir)
	require.Equal(t, link, s.CommissionLink(c), "the key is kept")
	other, _ := newStore(t)
	require.NotEqual(t, link, other.CommissionLink(c), "every workroom has a key of its own")
}

func TestCodes(t *testing.T) {
	s, clock := newStore(t)
	code, err := s.NewCode(ctx, "set up", "maker 1", time.Hour)
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(code), 26, "128 bits in base 32")
	require.Regexp(t, "^[a-z2-7]+$", code, "it can stand in a messenger's start link")
	var stored []codeRow
	require.NoError(t, s.reads(ctx).Find(&stored).Error)
	require.Len(t, stored, 1)
	require.False(t, bytes.Contains(stored[0].Hash, []byte(code)), "only the hash is stored")

	require.ErrorIs(t, s.PeekCode(ctx, "chat", code), ErrExpired, "a code for something else")
	require.ErrorIs(t, s.PeekCode(ctx, "set up", "nonsense"), ErrExpired)
	require.NoError(t, s.PeekCode(ctx, "set up", code))
	require.NoError(t, s.PeekCode(ctx, "set up", code), "looking does not spend it")
	subject, err := s.UseCode(ctx, "set up", code)
	require.NoError(t, err)
	require.Equal(t, "maker 1", subject)
	_, err = s.UseCode(ctx, "set up", code)
	require.ErrorIs(t, err, ErrExpired, "it opens once")

	code, err = s.NewCode(ctx, "set up", "", time.Hour)
	require.NoError(t, err)
	clock.add(time.Hour)
	_, err = s.UseCode(ctx, "set up", code)
	require.ErrorIs(t, err, ErrExpired, "its time has passed")
	_, err = s.NewCode(ctx, "set up", "", time.Hour)
	require.NoError(t, err)
	require.NoError(t, s.reads(ctx).Find(&stored).Error)
	require.Len(t, stored, 1, "codes that have passed are swept away")
}

func TestACodeIsSpentOnceHoweverManyTry(t *testing.T) {
	s, _ := newStore(t)
	code, err := s.NewCode(ctx, "set up", "x", time.Hour)
	require.NoError(t, err)
	var wait sync.WaitGroup
	failed := make([]error, 16)
	for i := range failed {
		wait.Go(func() { _, failed[i] = s.UseCode(ctx, "set up", code) })
	}
	wait.Wait()
	won := 0
	for _, err := range failed {
		if err == nil {
			won++
			continue
		}
		require.ErrorIs(t, err, ErrExpired)
	}
	require.Equal(t, 1, won)
}

func TestACodeIsNotLostWithWhatItWasSpentOn(t *testing.T) {
	s, _ := newStore(t)
	code, err := s.NewCode(ctx, "set up", "x", time.Hour)
	require.NoError(t, err)
	failure := errors.New("no password")
	err = s.Together(ctx, func(s *Store) error {
		_, err := s.UseCode(ctx, "set up", code)
		require.NoError(t, err)
		return failure
	})
	require.ErrorIs(t, err, failure)
	require.NoError(t, s.PeekCode(ctx, "set up", code))
}

func TestMakers(t *testing.T) {
	s, _ := newStore(t)
	none, err := s.Makers(ctx)
	require.NoError(t, err)
	require.Empty(t, none)
	wren, err := s.SaveMaker(ctx, Maker{Name: "Wren", PasswordHash: "one"})
	require.NoError(t, err)
	again, err := s.SaveMaker(ctx, Maker{Name: "wren", PasswordHash: "two"})
	require.NoError(t, err)
	require.Equal(t, wren.ID, again.ID, "a new password, not a second Wren")
	_, err = s.SaveMaker(ctx, Maker{Name: "Ash", PasswordHash: "three"})
	require.NoError(t, err)
	m, err := s.MakerByName(ctx, "WREN")
	require.NoError(t, err)
	require.Equal(t, "two", m.PasswordHash)
	_, err = s.MakerByName(ctx, "nobody")
	require.ErrorIs(t, err, ErrNotFound)
	_, err = s.MakerByName(ctx, "' or 1=1 --")
	require.ErrorIs(t, err, ErrNotFound)
	all, err := s.Makers(ctx)
	require.NoError(t, err)
	require.Len(t, all, 2)
}

func TestSessions(t *testing.T) {
	s, clock := newStore(t)
	b := s.Sessions()
	_, found, err := b.Find("t")
	require.NoError(t, err)
	require.False(t, found)
	require.NoError(t, b.Commit("t", []byte("one"), clock.now().Add(time.Hour)))
	require.NoError(t, b.Commit("t", []byte("two"), clock.now().Add(time.Hour)))
	data, found, err := b.Find("t")
	require.NoError(t, err)
	require.True(t, found)
	require.Equal(t, "two", string(data))
	require.NoError(t, b.Commit("u", []byte("three"), clock.now().Add(3*time.Hour)))
	require.NoError(t, b.Delete("u"))
	require.NoError(t, b.Delete("u"), "ending it again")
	_, found, err = b.Find("u")
	require.NoError(t, err)
	require.False(t, found)
	clock.add(time.Hour)
	_, found, err = b.Find("t")
	require.NoError(t, err)
	require.False(t, found, "its time has passed")
	require.NoError(t, b.Commit("v", []byte("four"), clock.now().Add(time.Hour)))
	var rows int64
	require.NoError(t, s.reads(ctx).Model(&sessionRow{}).Count(&rows).Error)
	assert.EqualValues(t, 1, rows, "expired sessions are swept away")
}

func TestOnce(t *testing.T) {
	s, _ := newStore(t)
	failure := errors.New("half way")
	err := s.Once(ctx, "telegram/1", func(s *Store) error {
		_, err := s.Begin(ctx, DoorChat, Answer{Value: "yes"})
		require.NoError(t, err)
		return failure
	})
	require.ErrorIs(t, err, failure)
	var drafts int64
	require.NoError(t, s.reads(ctx).Model(&draftRow{}).Count(&drafts).Error)
	require.Zero(t, drafts, "nothing of it is kept")
	done := 0
	for range 2 {
		err = s.Once(ctx, "telegram/1", func(*Store) error { done++; return nil })
	}
	require.ErrorIs(t, err, ErrSeen, "the second time")
	require.Equal(t, 1, done, "what failed may come again, what was done may not")
}

func TestAnInnerTransactionUndoesOnlyItself(t *testing.T) {
	s, _ := newStore(t)
	var outer, inner Draft
	err := s.Together(ctx, func(s *Store) (err error) {
		outer, err = s.Begin(ctx, DoorWeb, Answer{Value: "yes"})
		require.NoError(t, err)
		err = s.Together(ctx, func(s *Store) (err error) {
			inner, err = s.Begin(ctx, DoorWeb, Answer{Value: "yes"})
			require.NoError(t, err)
			return errors.New("changed my mind")
		})
		require.Error(t, err)
		return nil
	})
	require.NoError(t, err)
	_, err = s.Draft(ctx, outer.ID)
	require.NoError(t, err)
	_, err = s.Draft(ctx, inner.ID)
	require.ErrorIs(t, err, ErrNotFound)
}
