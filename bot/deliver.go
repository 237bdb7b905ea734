package bot

import (
	"context"
	"errors"
	"log/slog"
	"time"

	"perchbook/orders"
)

const (
	mostLetters = 200            // read from the outbox at a time
	longestWait = 24 * time.Hour // until a letter is given up; a modelling choice: in a day a milliner would rather telephone
)

// A carrier takes letters to where clients read them.
type carrier interface {
	// carry is done when the letter was accepted.
	carry(ctx context.Context, l orders.Outgoing) error
	// judge says what an error of carry means for the letters.
	judge(err error) judgement
}

// A judgement is what follows from a letter that was not accepted.
type judgement struct {
	verdict verdict
	wait    time.Duration // for tryAgain: how long its chat has to wait; 0: doubling from failure to failure
	reason  string        // in words for the letter book
}

type verdict int

const (
	tryAgain verdict = iota // it may fare better later
	notTaken                // it never will
	chatShut                // nothing more will be accepted for this chat
	nobody                  // nobody answers, and no letter would fare better
	notKnown                // we are not known there, and trying again is of no use
)

// A sender empties the outbox of one channel. A restart forgets what it remembers from one pass to the next;
// what was accepted and not yet marked is then sent once more.
type sender struct {
	carrier
	channel string
	store   *orders.Store
	log     *slog.Logger
	beat    time.Duration
	awake   chan struct{}        // there may be something to deliver
	until   map[string]time.Time // chats that have to wait
}

func newSender(c carrier, channel string, store *orders.Store, log *slog.Logger, beat time.Duration) *sender {
	return &sender{carrier: c, channel: channel, store: store, log: log, beat: beat,
		awake: make(chan struct{}, 1), until: map[string]time.Time{}}
}

// run sends what stands in the outbox until ctx ends: within a chat in order, and none waits for another
// chat's trouble. ErrToken is the only error.
func (s *sender) run(ctx context.Context) error {
	failures := 0
	for ctx.Err() == nil {
		err := s.pass(ctx)
		switch {
		case ctx.Err() != nil:
			return nil
		case err == nil:
			failures = 0
			s.idle(ctx)
		case errors.Is(err, ErrToken):
			return ErrToken
		default:
			s.log.WarnContext(ctx, "delivering letters failed; trying again", "channel", s.channel, "err", err)
			s.giveUp(ctx)
			rest(ctx, backOff(s.beat, failures))
			failures++
		}
	}
	return nil
}

// giveUp ends the waiting of letters that trouble has kept from going out for too long: the milliner then
// reads that they did not arrive.
func (s *sender) giveUp(ctx context.Context) {
	n, err := s.store.GiveUp(ctx, s.channel, time.Now().Add(-longestWait), "it could not be handed over for a day")
	if err != nil || n > 0 {
		s.log.ErrorContext(ctx, "letters given up", "channel", s.channel, "letters", n, "err", err)
	}
}

// idle waits for something to deliver: told by wake, or found by looking now and then.
func (s *sender) idle(ctx context.Context) {
	ctx, done := context.WithTimeout(ctx, s.beat/2)
	defer done()
	select {
	case <-ctx.Done():
	case <-s.awake:
	}
}

func (s *sender) wake() {
	select {
	case s.awake <- struct{}{}:
	default: // it knows already
	}
}

// pass tries each waiting letter once. Its error is one that would befall every letter.
func (s *sender) pass(ctx context.Context) error {
	waiting, err := s.store.Unsent(ctx, s.channel, mostLetters)
	if err != nil {
		return err
	}
	begun := time.Now()
	for _, l := range waiting {
		if ctx.Err() != nil {
			return nil
		}
		if s.until[l.Chat.ID].After(begun) { // also when the wait began in this pass and is over by now
			continue
		}
		delete(s.until, l.Chat.ID)
		if err := s.deliver(ctx, l); err != nil {
			return err
		}
	}
	return nil
}

// deliver sends one letter and marks it. What has begun is ended whatever happens to ctx, within
// the time limit of sending: a letter cut off after it was accepted would come twice.
func (s *sender) deliver(ctx context.Context, l orders.Outgoing) error {
	mark := context.WithoutCancel(ctx)
	err := s.carry(mark, l)
	if err == nil {
		return unlessErased(s.store.MarkSent(mark, l.Letter.ID))
	}
	j := s.judge(err)
	if j.verdict != tryAgain || j.wait == 0 {
		s.log.WarnContext(ctx, "a letter was not accepted", "channel", s.channel, "letter", l.Letter.ID, "err", err)
	}
	switch j.verdict {
	case notTaken:
		return unlessErased(s.store.MarkTried(mark, l.Letter.ID, j.reason, true))
	case chatShut:
		return unlessErased(s.store.Shut(mark, l.Letter.ID, j.reason))
	case tryAgain:
		if j.wait > 0 {
			s.until[l.Chat.ID] = time.Now().Add(j.wait)
			return nil
		}
		s.until[l.Chat.ID] = time.Now().Add(backOff(s.beat, l.Letter.Tries))
		return unlessErased(s.store.MarkTried(mark, l.Letter.ID, j.reason, false))
	case notKnown:
		return ErrToken
	default:
		return err
	}
}

// unlessErased: a letter that was erased while it went out needs no mark.
func unlessErased(err error) error {
	if errors.Is(err, orders.ErrNotFound) {
		return nil
	}
	return err
}
