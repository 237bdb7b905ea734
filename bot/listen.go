package bot

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"time"

	tg "github.com/go-telegram-bot-api/telegram-bot-api/v5"

	"perchbook/orders"
)

// mostTries is how often one update may fail before it is set aside.
const mostTries = 5

// Listen takes updates in until ctx ends. One is confirmed, by the offset of the next request, only
// once it is stored; one that a crash interrupts comes again, and the store drops what it has seen.
func (b *Bot) Listen(ctx context.Context) error {
	offset, failures := 0, 0
	tries := map[int]int{}
	for ctx.Err() == nil {
		asked := time.Now()
		batch, err := b.updates(ctx, offset)
		if err == nil && len(batch) == 0 && time.Since(asked) < b.beat/4 {
			rest(ctx, b.beat/4) // something in between does not keep the request open
		}
		if err == nil {
			offset, err = b.takeAll(ctx, batch, offset, tries)
		}
		switch {
		case ctx.Err() != nil:
			return nil
		case err == nil:
			failures = 0
		case wrongToken(err):
			b.log.ErrorContext(ctx, "telegram refuses the token; the chat door is shut", "err", err)
			return ErrToken
		case webhookSet(err):
			b.log.WarnContext(ctx, "telegram was told to call somewhere; it is to be asked from now on")
			if _, err := b.call(ctx, b.sending, "deleteWebhook", nil); err != nil {
				b.log.WarnContext(ctx, "telegram still calls", "err", err)
			}
			rest(ctx, backOff(b.beat, failures))
			failures++
		default:
			b.complain(ctx, err)
			rest(ctx, max(backOff(b.beat, failures), retryAfter(err)))
			failures++
		}
	}
	return nil
}

func (b *Bot) complain(ctx context.Context, err error) {
	if code(err) == http.StatusConflict {
		b.log.ErrorContext(ctx, "another program is listening with the same token; stop it. Trying again", "err", err)
		return
	}
	b.log.WarnContext(ctx, "listening to telegram failed; trying again", "err", err)
}

// webhookSet says that Telegram calls somewhere, which was wanted once and is not now.
func webhookSet(err error) bool {
	return code(err) == http.StatusConflict && strings.Contains(err.Error(), "webhook")
}

// updates asks for what came in from offset on; the API keeps the request open until there is something.
func (b *Bot) updates(ctx context.Context, offset int) ([]json.RawMessage, error) {
	result, err := b.call(ctx, b.polling, "getUpdates", tg.Params{
		"offset": strconv.Itoa(offset), "timeout": strconv.Itoa(b.hold), "allowed_updates": wanted,
	})
	if err != nil {
		return nil, err
	}
	var batch []json.RawMessage
	if err := json.Unmarshal(result, &batch); err != nil {
		return nil, fmt.Errorf("getUpdates: no list came: %w", err)
	}
	return batch, nil
}

// atOnce is how many updates are stored together: one write to the disk for all of them. More would keep the
// portal's pages waiting for their turn to write.
const atOnce = 20

// takeAll stores a batch in its order and returns the offset to ask from next. It stops at the
// first one that was not stored, which is then asked for again.
func (b *Bot) takeAll(ctx context.Context, batch []json.RawMessage, offset int, tries map[int]int) (int, error) {
	before := offset
	for some := range slices.Chunk(b.numbered(ctx, batch), atOnce) {
		if len(some) > 1 && b.takeTogether(ctx, some) == nil {
			offset = max(offset, some[len(some)-1].id+1)
			continue
		}
		for _, u := range some {
			if err := b.take(ctx, u.id, u.raw, tries); err != nil {
				return offset, err
			}
			delete(tries, u.id)
			offset = max(offset, u.id+1)
		}
	}
	if offset == before && len(batch) > 0 {
		return offset, errors.New("getUpdates: nothing new that could be confirmed")
	}
	return offset, nil
}

type numbered struct {
	id  int
	raw json.RawMessage
}

// numbered are the updates that have a number.
func (b *Bot) numbered(ctx context.Context, batch []json.RawMessage) []numbered {
	var all []numbered
	for _, raw := range batch {
		var id struct {
			UpdateID int `json:"update_id"`
		}
		if err := json.Unmarshal(raw, &id); err != nil || id.UpdateID <= 0 {
			b.log.ErrorContext(ctx, "an update without a number was passed over")
			continue
		}
		all = append(all, numbered{id.UpdateID, raw})
	}
	return all
}

// takeTogether stores some updates in one transaction, all or none; what stands in the way is then found by
// taking one after another.
func (b *Bot) takeTogether(ctx context.Context, some []numbered) error {
	all := *b
	err := b.store.Together(ctx, func(s *orders.Store) error {
		all.store = s
		for _, u := range some {
			if err := all.take(ctx, u.id, u.raw, map[int]int{}); err != nil {
				return err
			}
		}
		return nil
	})
	b.outbox.wake()
	return err
}

// take stores one update and the replies to it, together and once. One that fails again and again
// is set aside.
func (b *Bot) take(ctx context.Context, id int, raw json.RawMessage, tries map[int]int) error {
	var u tg.Update
	if err := json.Unmarshal(raw, &u); err != nil {
		return b.setAside(ctx, id, "", "not readable") // err may quote what she wrote
	}
	if u.CallbackQuery != nil {
		defer b.acknowledgeLater(ctx, u.CallbackQuery.ID)
	}
	address, h, ok := reading(u)
	if !ok {
		b.log.InfoContext(ctx, "an update of a kind that is nothing to us", "update", id)
		return nil
	}
	err := b.once(ctx, id, address, h)
	if err == nil || ctx.Err() != nil {
		return err
	}
	if tries[id]++; tries[id] < mostTries {
		return fmt.Errorf("store update %d: %w", id, err)
	}
	b.log.ErrorContext(ctx, "an update could not be stored", "update", id, "tries", tries[id], "err", err)
	return b.setAside(ctx, id, address, "failed too often")
}

func source(update int) string { return fmt.Sprintf("telegram/%d", update) }

// once carries an update through the conversation. A panic is a failure like others, so that the
// update is set aside in the end.
func (b *Bot) once(ctx context.Context, id int, address string, h Heard) (err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("panic: %T", p) // its text may quote what she wrote
		}
	}()
	err = b.store.Once(ctx, source(id), func(s *orders.Store) error {
		return converse(ctx, s, orders.ChannelTelegram, address, h, time.Now())
	})
	if errors.Is(err, orders.ErrSeen) {
		return nil
	}
	b.outbox.wake()
	return err
}

// setAside marks an update as dealt with although it is not, and tells the chat when there is one.
// When even that cannot be stored, the update stays and is asked for again.
func (b *Bot) setAside(ctx context.Context, id int, address, why string) error {
	err := b.store.Once(ctx, source(id), func(s *orders.Store) error {
		if address == "" {
			return nil
		}
		chat, err := s.Chat(ctx, orders.ChannelTelegram, address)
		if err != nil {
			return err
		}
		return tell(ctx, s, chat, []Reply{{Text: "Something went wrong on our side with your last message, and it was not understood. " +
			"Please write it again in other words, or use our page: {link}"}})
	})
	if err != nil && !errors.Is(err, orders.ErrSeen) {
		return fmt.Errorf("set update %d aside: %w", id, err)
	}
	b.log.ErrorContext(ctx, "an update was set aside", "update", id, "why", why)
	b.outbox.wake()
	return nil
}
