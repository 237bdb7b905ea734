package bot

import (
	"context"
	"net/http"
	"strings"

	tg "github.com/go-telegram-bot-api/telegram-bot-api/v5"

	"perchbook/orders"
)

// A courier is the carrier to Telegram.
type courier struct {
	*Bot
	parts map[string]int // of a letter, those that were accepted
	pace  *pace
}

// carry sends a letter in as many messages as its length needs; the last has the buttons.
func (m courier) carry(ctx context.Context, l orders.Outgoing) error {
	all := pieces(l.Text, mostUnits)
	for n := m.parts[l.Letter.ID]; n < len(all); n++ {
		p := tg.Params{
			"chat_id": l.Chat.Address, "text": all[n],
			"link_preview_options": `{"is_disabled":true}`, // else Telegram opens her private link to make one
		}
		if n == len(all)-1 && len(l.Letter.Buttons) > 0 {
			if err := p.AddInterface("reply_markup", keyboard(l.Letter.Buttons)); err != nil {
				return err
			}
		}
		if err := m.pace.turn(ctx, l.Chat.ID); err != nil {
			return err
		}
		if _, err := m.call(ctx, m.sending, "sendMessage", p); err != nil {
			return err
		}
		m.parts[l.Letter.ID] = n + 1
	}
	delete(m.parts, l.Letter.ID)
	return nil
}

// judge goes by Telegram's documentation: 403 is a client who blocked us, 400 a chat or a text that it does
// not have it with, and no other 4xx but 429 is mended by waiting either.
func (m courier) judge(err error) judgement {
	c := code(err)
	switch wait := max(retryAfter(err), slower(err)); {
	case wrongToken(err):
		return judgement{verdict: notKnown}
	case wait > 0:
		return judgement{verdict: tryAgain, wait: wait}
	case c == http.StatusForbidden:
		return judgement{verdict: chatShut, reason: "the client has blocked the chat"}
	case c == http.StatusBadRequest:
		return judgement{verdict: notTaken, reason: "the messenger does not take it: " + strings.TrimPrefix(err.Error(), "sendMessage: ")}
	case c >= 400 && c < 500 && c != http.StatusTooManyRequests:
		return judgement{verdict: notTaken, reason: err.Error()}
	case c == 0:
		return judgement{verdict: nobody}
	default:
		return judgement{verdict: tryAgain, reason: err.Error()}
	}
}
