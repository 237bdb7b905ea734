package bot

import (
	"context"
	"errors"
	"net/http"
	"strings"
	"time"

	tg "github.com/go-telegram-bot-api/telegram-bot-api/v5"

	"perchbook/orders"
)

const (
	mostLetters = 200            // read from the outbox at a time
	longestWait = 24 * time.Hour // until a letter is given up; a modelling choice: in a day a milliner would rather telephone
)

// outgoing is what Deliver remembers from one pass over the outbox to the next. A restart forgets
// it; what was accepted and not yet marked is then sent once more.
type outgoing struct {
	until map[string]time.Time // chats that have to wait
	parts map[string]int       // parts of a letter that were accepted
	pace  *pace
}

// Deliver sends what stands in the outbox until ctx ends: within a chat in order, and none waits for
// another chat's trouble.
func (b *Bot) Deliver(ctx context.Context) error {
	o := outgoing{until: map[string]time.Time{}, parts: map[string]int{}, pace: newPace(b.beat)}
	failures := 0
	for ctx.Err() == nil {
		err := b.pass(ctx, o)
		switch {
		case ctx.Err() != nil:
			return nil
		case err == nil:
			failures = 0
			b.idle(ctx)
		case wrongToken(err):
			return ErrToken
		default:
			b.log.WarnContext(ctx, "delivering to telegram failed; trying again", "err", err)
			b.giveUp(ctx)
			rest(ctx, b.backOff(failures))
			failures++
		}
	}
	return nil
}

// giveUp ends the waiting of letters that trouble has kept from going out for too long: the milliner then
// reads that they did not arrive.
func (b *Bot) giveUp(ctx context.Context) {
	n, err := b.store.GiveUp(ctx, orders.ChannelTelegram, time.Now().Add(-longestWait), "the messenger has not taken it for a day")
	if err != nil || n > 0 {
		b.log.ErrorContext(ctx, "letters given up", "letters", n, "err", err)
	}
}

// idle waits for something to deliver: told by Listen, or found by looking now and then.
func (b *Bot) idle(ctx context.Context) {
	ctx, done := context.WithTimeout(ctx, b.beat/2)
	defer done()
	select {
	case <-ctx.Done():
	case <-b.awake:
	}
}

func (b *Bot) wake() {
	select {
	case b.awake <- struct{}{}:
	default: // it knows already
	}
}

// pass tries each waiting letter once. Its error is one that would befall every letter.
func (b *Bot) pass(ctx context.Context, o outgoing) error {
	waiting, err := b.store.Unsent(ctx, orders.ChannelTelegram, mostLetters)
	if err != nil {
		return err
	}
	begun := time.Now()
	for _, l := range waiting {
		if ctx.Err() != nil {
			return nil
		}
		if o.until[l.Chat.ID].After(begun) { // also when the wait began in this pass and is over by now
			continue
		}
		delete(o.until, l.Chat.ID)
		if err := b.deliver(ctx, o, l); err != nil {
			return err
		}
	}
	return nil
}

// deliver sends one letter and marks it. What has begun is ended whatever happens to ctx, within
// the time limit of sending: a letter cut off after Telegram has it would come twice.
func (b *Bot) deliver(ctx context.Context, o outgoing, l orders.Outgoing) error {
	mark := context.WithoutCancel(ctx)
	err := b.sendParts(mark, o, l)
	wait := max(retryAfter(err), slower(err))
	switch {
	case err == nil:
		err = unlessErased(b.store.MarkSent(mark, l.Letter.ID))
		if err == nil {
			delete(o.parts, l.Letter.ID)
		}
		return err
	case wrongToken(err):
		return err
	case wait > 0:
		b.log.DebugContext(ctx, "a chat has to wait", "chat", l.Chat.ID, "for", wait)
		o.until[l.Chat.ID] = time.Now().Add(wait)
		return nil
	case code(err) == http.StatusForbidden:
		b.log.InfoContext(ctx, "a client has blocked the chat", "chat", l.Chat.ID)
		delete(o.parts, l.Letter.ID)
		return unlessErased(b.store.Shut(mark, l.Letter.ID, reason(err)))
	case refusedForGood(code(err)):
		b.log.WarnContext(ctx, "telegram refuses a letter for good", "letter", l.Letter.ID, "code", code(err))
		delete(o.parts, l.Letter.ID)
		return unlessErased(b.store.MarkTried(mark, l.Letter.ID, reason(err), true))
	case code(err) == 0: // nobody answered: no letter would fare better
		return err
	default:
		b.log.WarnContext(ctx, "a letter was not accepted; trying again", "letter", l.Letter.ID, "err", err)
		o.until[l.Chat.ID] = time.Now().Add(b.backOff(l.Letter.Tries))
		return unlessErased(b.store.MarkTried(mark, l.Letter.ID, reason(err), false))
	}
}

// unlessErased: a letter that was erased while it went out needs no mark.
func unlessErased(err error) error {
	if errors.Is(err, orders.ErrNotFound) {
		return nil
	}
	return err
}

// refusedForGood: 400 is a chat or a text that Telegram does not have it with, 403 a client who
// blocked us, and no other 4xx but 429 is mended by waiting either.
func refusedForGood(code int) bool {
	return code >= 400 && code < 500 && code != http.StatusTooManyRequests
}

// reason is why a letter was not accepted, in words for the letter book.
func reason(err error) string {
	switch code(err) {
	case http.StatusForbidden:
		return "the client has blocked the chat"
	case http.StatusBadRequest:
		return "the messenger does not take it: " + strings.TrimPrefix(err.Error(), "sendMessage: ")
	default:
		return err.Error()
	}
}

// sendParts sends a letter in as many messages as its length needs; the last has the buttons.
func (b *Bot) sendParts(ctx context.Context, o outgoing, l orders.Outgoing) error {
	all := pieces(l.Text, mostUnits)
	for n := o.parts[l.Letter.ID]; n < len(all); n++ {
		p := tg.Params{
			"chat_id": l.Chat.Address, "text": all[n],
			"link_preview_options": `{"is_disabled":true}`, // else Telegram opens her private link to make one
		}
		if n == len(all)-1 && len(l.Letter.Buttons) > 0 {
			if err := p.AddInterface("reply_markup", keyboard(l.Letter.Buttons)); err != nil {
				return err
			}
		}
		if err := o.pace.turn(ctx, l.Chat.ID); err != nil {
			return err
		}
		if _, err := b.call(ctx, b.sending, "sendMessage", p); err != nil {
			return err
		}
		o.parts[l.Letter.ID] = n + 1
	}
	return nil
}
