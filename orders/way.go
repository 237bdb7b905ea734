package orders

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
)

// wayTo is the chat by which a client is written to now. It has no channel when the milliner sends letters to
// her by hand, and no id when it is mail that has not begun.
func (s *Store) wayTo(ctx context.Context, clientID string) (Chat, error) {
	c, err := s.Client(ctx, clientID)
	if err != nil || c.Prefers == ByHand {
		return Chat{}, err
	}
	ways := []func(context.Context, Client) (Chat, error){s.chatOf, s.mailOf}
	if c.Prefers == ByMail {
		slices.Reverse(ways)
	}
	for _, way := range ways {
		chat, err := way(ctx, c)
		if err != nil || chat.Channel != "" {
			return chat, err
		}
	}
	return Chat{}, nil
}

// chatOf is the client's newest chat in a messenger that takes letters.
func (s *Store) chatOf(ctx context.Context, c Client) (Chat, error) {
	row, err := one[chatRow](s.reads(ctx).Where("client_id = ? and shut = 0 and channel <> ?", c.ID, ChannelMail).Order("running desc"))
	if errors.Is(err, ErrNotFound) {
		return Chat{}, nil
	}
	if err != nil {
		return Chat{}, fmt.Errorf("chat of client %s: %w", c.ID, err)
	}
	return row.chat(), nil
}

// mailOf is the client's mail, if letters can go by mail and her address takes them.
func (s *Store) mailOf(ctx context.Context, c Client) (Chat, error) {
	if !s.mail || !strings.Contains(c.Reach, "@") {
		return Chat{}, nil
	}
	row, err := one[chatRow](s.reads(ctx).Where("channel = ? and address = ?", ChannelMail, c.ID))
	switch {
	case errors.Is(err, ErrNotFound):
		return Chat{Channel: ChannelMail, ClientID: c.ID}, nil
	case err != nil:
		return Chat{}, fmt.Errorf("mail of client %s: %w", c.ID, err)
	case row.Shut > 0:
		return Chat{}, nil
	}
	return row.chat(), nil
}

// beginMail makes the chat that stands for a client's mail.
func (s *Store) beginMail(ctx context.Context, clientID string) (Chat, error) {
	chat, err := s.Chat(ctx, ChannelMail, clientID)
	if err != nil {
		return chat, err
	}
	chat.ClientID = clientID
	return s.SaveChat(ctx, chat)
}

// WayTo is how the next letter to a client goes out: the channel, or "" when the milliner sends it by hand.
func (s *Store) WayTo(ctx context.Context, clientID string) (string, error) {
	way, err := s.wayTo(ctx, clientID)
	return way.Channel, err
}

// Channels are those of a client's chats, by the chat's id.
func (s *Store) Channels(ctx context.Context, clientID string) (map[string]string, error) {
	list, err := many(s.reads(ctx).Where("client_id = ?", clientID), chatRow.chat)
	if err != nil {
		return nil, fmt.Errorf("chats of client %s: %w", clientID, err)
	}
	by := map[string]string{}
	for _, c := range list {
		by[c.ID] = c.Channel
	}
	return by, nil
}
