package bot

import (
	"strconv"
	"strings"

	tg "github.com/go-telegram-bot-api/telegram-bot-api/v5"
)

// wanted are the kinds of updates that are asked for.
const wanted = `["message","edited_message","callback_query"]`

// reading is an update in the conversation's terms, with the address of its chat; false for one that
// is nothing to us.
func reading(u tg.Update) (address string, h Heard, ok bool) {
	switch {
	case u.CallbackQuery != nil:
		return pressing(u.CallbackQuery)
	case u.Message != nil:
		return message(u.Message)
	case u.EditedMessage != nil:
		address, h, ok = message(u.EditedMessage)
		return address, Heard{Edited: true, Group: h.Group}, ok
	default:
		return "", Heard{}, false
	}
}

func pressing(q *tg.CallbackQuery) (string, Heard, bool) {
	h := Heard{Press: q.Data}
	if h.Press == "" {
		h = Heard{Other: Unknown}
	}
	switch {
	case q.Message != nil && q.Message.Chat != nil: // its message may be too old to be given
		h.Group = !q.Message.Chat.IsPrivate()
		return number(q.Message.Chat.ID), h, q.Message.Chat.ID != 0
	case q.From != nil:
		return number(q.From.ID), h, q.From.ID != 0
	default:
		return "", Heard{}, false
	}
}

func message(m *tg.Message) (string, Heard, bool) {
	if m.Chat == nil || m.Chat.ID == 0 || m.Chat.IsChannel() {
		return "", Heard{}, false
	}
	h := Heard{Text: plain(m.Text), Group: !m.Chat.IsPrivate()}
	if h.Text == "" {
		h.Other = instead(m)
	}
	return number(m.Chat.ID), h, true
}

func number(id int64) string { return strconv.FormatInt(id, 10) }

// plain makes of a command as the messenger writes it, "/go_on@name code", our "/go on".
func plain(text string) string {
	text = strings.TrimSpace(text)
	if !strings.HasPrefix(text, "/") {
		return text
	}
	first, _, _ := strings.Cut(strings.Fields(text)[0], "@")
	return strings.ReplaceAll(first, "_", " ")
}

// instead says what came instead of words.
func instead(m *tg.Message) Other {
	switch {
	case len(m.Photo) > 0:
		return Picture
	case m.Voice != nil, m.Audio != nil:
		return Sound
	case m.Video != nil, m.VideoNote != nil, m.Animation != nil:
		return Moving
	case m.Sticker != nil, m.Dice != nil:
		return Sticker
	case m.Location != nil, m.Venue != nil:
		return Place
	case m.Contact != nil:
		return Person
	case m.Document != nil:
		return File
	default:
		return Unknown
	}
}
