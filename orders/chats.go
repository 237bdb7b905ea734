package orders

import (
	"context"
	"fmt"
)

type chatRow struct {
	Running  int `gorm:"primaryKey"`
	ID       string
	Channel  string
	Address  string
	DraftID  *string
	ClientID *string
	Asking   string
	Pending  []string `gorm:"serializer:json"`
	Version  int
	Shut     int64 // since when it takes nothing from us; 0 while it does
	Language string
}

func (chatRow) TableName() string { return "chats" }

func (r chatRow) chat() Chat {
	return Chat{
		ID: r.ID, Channel: r.Channel, Address: r.Address, DraftID: plain(r.DraftID), ClientID: plain(r.ClientID),
		Asking: r.Asking, Pending: r.Pending, Version: r.Version, Language: r.Language,
	}
}

// named or plain: an id that may be missing is null in the database and "" outside.
func plain(id *string) string {
	if id == nil {
		return ""
	}
	return *id
}

func orNull(id string) *string {
	if id == "" {
		return nil
	}
	return &id
}

// Chat returns the conversation at an address of a channel, made if new.
func (s *Store) Chat(ctx context.Context, channel, address string) (Chat, error) {
	row := chatRow{ID: newID(), Channel: channel, Address: address, Pending: []string{}, Version: 1}
	return together(ctx, s, func(s *Store) (Chat, error) {
		if err := addIfNew(s.writes(ctx), &row); err != nil {
			return Chat{}, fmt.Errorf("begin chat: %w", err)
		}
		row, err := one[chatRow](s.reads(ctx).Where("channel = ? and address = ?", channel, address))
		if err != nil {
			return Chat{}, fmt.Errorf("chat: %w", err)
		}
		return row.chat(), nil
	})
}

// SaveChat keeps where a conversation stands; ErrConflict when its version is old. A draft that was
// sent in ties the chat to its client.
func (s *Store) SaveChat(ctx context.Context, c Chat) (Chat, error) {
	return together(ctx, s, func(s *Store) (Chat, error) {
		row, err := s.chatRow(ctx, c.ID)
		if err != nil {
			return c, err
		}
		if c.DraftID != "" && c.ClientID == "" {
			client := s.reads(ctx).Model(&commissionRow{}).Where("draft_id = ?", c.DraftID).Select("client_id")
			if err := client.Scan(&c.ClientID).Error; err != nil {
				return c, fmt.Errorf("client of chat %s: %w", c.ID, err)
			}
		}
		row.DraftID, row.ClientID, row.Asking, row.Version = orNull(c.DraftID), orNull(c.ClientID), c.Asking, c.Version+1
		row.Shut = 0 // something was said there
		row.Language = c.Language
		if row.Pending = c.Pending; row.Pending == nil {
			row.Pending = []string{}
		}
		if err := replace(s.writes(ctx), &row, c.ID, c.Version); err != nil {
			return c, fmt.Errorf("save chat %s: %w", c.ID, err)
		}
		return row.chat(), nil
	})
}

func (s *Store) chatRow(ctx context.Context, id string) (chatRow, error) {
	row, err := one[chatRow](s.reads(ctx).Where("id = ?", id))
	if err != nil {
		return row, fmt.Errorf("chat %s: %w", id, err)
	}
	return row, nil
}
