package bot

import (
	"unicode/utf16"

	tg "github.com/go-telegram-bot-api/telegram-bot-api/v5"

	"perchbook/orders"
)

const mostUnits = 4096 // UTF-16 units in one message, by Telegram's documentation

// pieces cuts a text so that none is longer than most UTF-16 units, at a line's end where it can.
func pieces(text string, most int) []string {
	var all []string
	for {
		cut, line, units := 0, 0, 0
		for i, r := range text {
			if units += max(1, utf16.RuneLen(r)); units > most {
				break
			}
			cut = i + len(string(r))
			if r == '\n' {
				line = cut
			}
		}
		if cut >= len(text) {
			return append(all, text)
		}
		if line > 0 {
			cut = line
		}
		all = append(all, text[:cut])
		text = text[cut:]
	}
}

// keyboard lays buttons out: short ones up to three in a row, a long one by itself.
func keyboard(buttons []orders.Option) tg.InlineKeyboardMarkup {
	const short, perRow = 12, 3
	k := tg.InlineKeyboardMarkup{}
	room := 0
	for _, o := range buttons {
		button := tg.NewInlineKeyboardButtonData(o.Label, o.Value)
		if len([]rune(o.Label)) > short {
			k.InlineKeyboard, room = append(k.InlineKeyboard, tg.NewInlineKeyboardRow(button)), 0
			continue
		}
		if room == 0 {
			k.InlineKeyboard, room = append(k.InlineKeyboard, nil), perRow
		}
		last := len(k.InlineKeyboard) - 1
		k.InlineKeyboard[last] = append(k.InlineKeyboard[last], button)
		room--
	}
	return k
}
