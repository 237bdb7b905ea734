package bot

import (
	"context"
	"time"

	tg "github.com/go-telegram-bot-api/telegram-bot-api/v5"
)

// acknowledgeLater has a press acknowledged, so that the button stops turning, without keeping
// Listen waiting. It is not stored: a press that a crash leaves turning comes again as an update.
func (b *Bot) acknowledgeLater(ctx context.Context, press string) {
	select {
	case b.presses <- press:
	case <-ctx.Done():
	}
}

// acknowledge answers presses until ctx ends. Telegram takes it only for a while after the press,
// so a failure is no more than noted.
func (b *Bot) acknowledge(ctx context.Context) error {
	for {
		select {
		case <-ctx.Done():
			return nil
		case press := <-b.presses:
			brief, done := context.WithTimeout(context.WithoutCancel(ctx), 5*time.Second)
			if _, err := b.call(brief, b.sending, "answerCallbackQuery", tg.Params{"callback_query_id": press}); err != nil {
				b.log.InfoContext(ctx, "a press was not acknowledged", "err", err)
			}
			done()
		}
	}
}
