package orders

import (
	"context"
	"fmt"
	"strings"
	"time"
)

// An Outgoing is a letter with the chat it goes to and its text with links filled in.
type Outgoing struct {
	Letter Letter
	Chat   Chat // its address is where the letter goes, also by mail
	Text   string
	Number string // by mail, of the commission it is about; "" when it is about none
}

// perChat is how many letters of one chat Unsent shows at once: a chat that is stuck must not fill
// the list and hold up the others.
const perChat = 10

// Unsent lists waiting letters of a channel with their chats: within a chat the oldest first, and
// the oldest of every chat before the second of any. A sender who fails at a letter leaves the later
// ones of that chat alone, or they would overtake it.
func (s *Store) Unsent(ctx context.Context, channel string, most int) ([]Outgoing, error) {
	waiting := s.reads(ctx).Table("letters").
		Select("letters.*, row_number() over (partition by letters.chat_id order by letters.running) as place").
		Joins("join chats on chats.id = letters.chat_id and chats.channel = ?", channel).Where("letters.state = ?", Waiting)
	q := s.reads(ctx).Table("(?) as waiting", waiting).Where("place <= ?", perChat).Order("place, running").Limit(most)
	letters, err := many(q, letterRow.letter)
	if err != nil {
		return nil, fmt.Errorf("unsent letters: %w", err)
	}
	list := make([]Outgoing, len(letters))
	for i, l := range letters {
		chat, err := s.chatRow(ctx, l.ChatID)
		if err != nil {
			return nil, err
		}
		if list[i], err = s.outgoing(ctx, l, chat.chat()); err != nil {
			return nil, err
		}
	}
	return list, nil
}

func (s *Store) outgoing(ctx context.Context, l Letter, chat Chat) (o Outgoing, err error) {
	o = Outgoing{Letter: l, Chat: chat}
	if chat.Channel == ChannelMail {
		if err = s.addressed(ctx, &o); err != nil {
			return o, err
		}
	}
	o.Text, err = s.FillLinks(ctx, l)
	return o, err
}

// addressed adds what a letter by mail has besides: the client's address, and the commission's number.
func (s *Store) addressed(ctx context.Context, o *Outgoing) error {
	client, err := s.Client(ctx, o.Chat.Address)
	if err != nil {
		return err
	}
	o.Chat.Address = client.Reach
	if o.Letter.CommissionID == "" {
		return nil
	}
	c, err := s.Commission(ctx, o.Letter.CommissionID)
	o.Number = c.Number
	return err
}

// MarkSent notes that the channel has accepted a letter. Marking it again changes nothing.
func (s *Store) MarkSent(ctx context.Context, letterID string) error {
	return s.mark(ctx, letterID, []string{Waiting, Sent}, map[string]any{
		"state": Sent, "sent": expression("case sent when 0 then ? else sent end", millis(s.now())), "reason": "",
	})
}

// MarkTried notes a try that failed, and gives up when it was the final one.
func (s *Store) MarkTried(ctx context.Context, letterID, reason string, final bool) error {
	state := Waiting
	if final {
		state = Failed
	}
	return s.mark(ctx, letterID, []string{Waiting}, map[string]any{"state": state, "tries": expression("tries + 1"), "reason": reason})
}

// Shut notes that a letter's chat takes nothing from us any more. What still waits there has failed too,
// and later letters go another way until something is said in the chat again.
func (s *Store) Shut(ctx context.Context, letterID, reason string) error {
	return s.Together(ctx, func(s *Store) error {
		l, err := one[letterRow](s.reads(ctx).Where("id = ?", letterID))
		if err != nil {
			return fmt.Errorf("shut the chat of letter %s: %w", letterID, err)
		}
		err = s.writes(ctx).Model(&chatRow{}).Where("id = ? and shut = 0", l.ChatID).Update("shut", millis(s.now())).Error
		if err != nil {
			return fmt.Errorf("shut the chat of letter %s: %w", letterID, err)
		}
		_, err = s.failed(ctx, s.writes(ctx).Where("chat_id = ?", l.ChatID), reason)
		return err
	})
}

// GiveUp gives up the letters of a channel that have waited since before a moment, and returns how many.
func (s *Store) GiveUp(ctx context.Context, channel string, before time.Time, reason string) (int, error) {
	chats := s.reads(ctx).Model(&chatRow{}).Where("channel = ?", channel).Select("id")
	return s.failed(ctx, s.writes(ctx).Where("at < ? and chat_id in (?)", millis(before), chats), reason)
}

func (s *Store) failed(ctx context.Context, which *query, reason string) (int, error) {
	res := which.Model(&letterRow{}).Where("state = ?", Waiting).Updates(map[string]any{"state": Failed, "reason": reason})
	if res.Error != nil {
		return 0, fmt.Errorf("give letters up: %w", res.Error)
	}
	return int(res.RowsAffected), nil
}

// linkMark stands in a letter's text for the client's private link, which is never stored.
const linkMark = "{link}"

// FillLinks is the letter's text with the client's own address where {link} stands: her page once
// she has sent, the questions before that.
func (s *Store) FillLinks(ctx context.Context, l Letter) (string, error) {
	if !l.Out || !strings.Contains(l.Body, linkMark) {
		return l.Body, nil
	}
	path, err := s.pathFor(ctx, l)
	if err != nil {
		return "", fmt.Errorf("link of letter %s: %w", l.ID, err)
	}
	return strings.ReplaceAll(l.Body, linkMark, s.origin+path), nil
}

func (s *Store) pathFor(ctx context.Context, l Letter) (string, error) {
	commission, draft := l.CommissionID, Draft{}
	if commission == "" && l.ChatID != "" {
		chat, err := s.chatRow(ctx, l.ChatID)
		if err != nil {
			return "", err
		}
		if chat.DraftID == nil {
			return "/", nil
		}
		if draft, err = s.Draft(ctx, *chat.DraftID); err != nil {
			return "", err
		}
		commission = draft.CommissionID
	}
	switch {
	case commission != "":
		c, err := s.Commission(ctx, commission)
		return CommissionPath + s.CommissionLink(c), err
	case draft.ID != "":
		return DraftPath + s.DraftLink(draft), nil
	}
	return "/", nil
}
