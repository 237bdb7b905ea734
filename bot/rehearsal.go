package bot

import (
	"context"
	"fmt"
	"time"

	"perchbook/orders"
)

// Say puts words into the rehearsal conversation at an address, which the caller chooses; the
// answers stand in Transcript. An empty text only opens the conversation.
func Say(ctx context.Context, store *orders.Store, address, text string) error {
	return rehearse(ctx, store, address, Heard{Text: text})
}

// Press presses a button there; data is the Value of one of the Buttons of a letter in Transcript.
func Press(ctx context.Context, store *orders.Store, address, data string) error {
	return rehearse(ctx, store, address, Heard{Press: data})
}

func rehearse(ctx context.Context, store *orders.Store, address string, h Heard) error {
	err := store.Together(ctx, func(s *orders.Store) error {
		return converse(ctx, s, orders.ChannelRehearsal, address, h, time.Now())
	})
	if err != nil {
		return fmt.Errorf("rehearsal: %w", err)
	}
	return nil
}

// Transcript is the rehearsal conversation at an address, oldest first, links filled in. What the
// workroom wrote meanwhile counts as delivered once it has been read here.
func Transcript(ctx context.Context, store *orders.Store, address string) ([]orders.Letter, error) {
	var letters []orders.Letter
	err := store.Together(ctx, func(s *orders.Store) error {
		chat, err := s.Chat(ctx, orders.ChannelRehearsal, address)
		if err != nil {
			return err
		}
		letters, err = s.ChatLetters(ctx, chat.ID)
		if err != nil {
			return err
		}
		return arrive(ctx, s, letters)
	})
	if err != nil {
		return nil, fmt.Errorf("rehearsal: %w", err)
	}
	return letters, nil
}

// arrive marks what was waiting as sent and fills links in.
func arrive(ctx context.Context, s *orders.Store, letters []orders.Letter) error {
	for i, l := range letters {
		if l.State == orders.Waiting {
			if err := s.MarkSent(ctx, l.ID); err != nil {
				return err
			}
			letters[i].State = orders.Sent
		}
		if !l.Out {
			continue
		}
		text, err := s.FillLinks(ctx, l)
		if err != nil {
			return err
		}
		letters[i].Body = text
	}
	return nil
}
