package orders

import (
	"context"
	"fmt"
	"strings"
	"unicode/utf8"
)

type letterRow struct {
	Running      int `gorm:"primaryKey"`
	ID           string
	ClientID     *string
	CommissionID *string
	ChatID       *string
	Outgoing     bool
	Kind         string
	Body         string
	Buttons      []Option `gorm:"serializer:json"`
	State        string
	Tries        int
	Reason       string
	At, Sent     int64
}

func (letterRow) TableName() string { return "letters" }

func (r letterRow) letter() Letter {
	return Letter{
		ID: r.ID, ClientID: plain(r.ClientID), CommissionID: plain(r.CommissionID), ChatID: plain(r.ChatID),
		Out: r.Outgoing, Kind: r.Kind, Body: r.Body, Buttons: r.Buttons,
		State: r.State, Tries: r.Tries, Reason: r.Reason, At: moment(r.At), Sent: moment(r.Sent),
	}
}

// keep writes a new letter into the book, with id and date.
func (s *Store) keep(ctx context.Context, l Letter) (Letter, error) {
	if l.Kind == "" {
		l.Kind = LetterTalk
	}
	row := letterRow{
		ID: newID(), ClientID: orNull(l.ClientID), CommissionID: orNull(l.CommissionID), ChatID: orNull(l.ChatID),
		Outgoing: l.Out, Kind: l.Kind, Body: l.Body, Buttons: append([]Option{}, l.Buttons...), State: l.State, At: millis(s.now()),
	}
	if err := s.writes(ctx).Create(&row).Error; err != nil {
		return Letter{}, fmt.Errorf("keep letter %s: %w", row.ID, err)
	}
	return row.letter(), nil
}

// longestLetter leaves room for the link in one message of the usual messengers.
const longestLetter = 3500

// onHerPage is added to a letter with enclosures that does not lead to where they are shown.
const onHerPage = "\nWhat is enclosed is shown on your page: {link}"

// toHerPage ends a letter by mail: what is answered on her page comes into the letter book, a mail does not.
const toHerPage = "\n\nYour page, where you can answer: {link}"

// Write puts the milliner's own words into the client's letter book, with photographs and PDF files as they
// were uploaded: Waiting when she is written to by chat or mail, else ToCopy. It answers whatever the client had
// asked. A *Problem with key "body" says that there is nothing to send, or too much; with "enclosed" that one of
// the files can't be.
func (s *Store) Write(ctx context.Context, commissionID, body string, uploads ...[]byte) (Letter, error) {
	if len(uploads) > 0 && strings.TrimSpace(body) != "" && !strings.Contains(body, linkMark) {
		body = strings.TrimSpace(body) + onHerPage
	}
	enclosed, err := toEnclose(uploads)
	if err != nil {
		return Letter{}, err
	}
	return together(ctx, s, func(s *Store) (Letter, error) {
		l, err := s.inform(ctx, commissionID, body)
		if err != nil {
			return l, err
		}
		if err := s.enclose(ctx, &l, enclosed); err != nil {
			return l, err
		}
		return l, s.OweNothing(ctx, l.ClientID)
	})
}

// inform writes to a client what follows from something done; an answer that she is owed stays owed.
func (s *Store) inform(ctx context.Context, commissionID, body string) (Letter, error) {
	body, problem := letterBody(body)
	if problem != nil {
		return Letter{}, problem
	}
	c, err := s.Commission(ctx, commissionID)
	if err != nil {
		return Letter{}, err
	}
	l := Letter{ClientID: c.ClientID, CommissionID: c.ID, Out: true, Kind: LetterTalk, Body: body, State: ToCopy}
	way, err := s.wayTo(ctx, c.ClientID)
	if err != nil {
		return Letter{}, err
	}
	if way.Channel == ChannelMail && !strings.Contains(l.Body, linkMark) {
		l.Body += toHerPage
	}
	if way.Channel == ChannelMail && way.ID == "" {
		if way, err = s.beginMail(ctx, c.ClientID); err != nil {
			return Letter{}, err
		}
	}
	if way.ID != "" {
		l.ChatID, l.State = way.ID, Waiting
	}
	return s.keep(ctx, l)
}

// Receive keeps what a client wrote on her own page about a commission, with files; sent twice in a row it is
// kept once. A *Problem is as from Write.
func (s *Store) Receive(ctx context.Context, commissionID, body string, uploads ...[]byte) (Letter, error) {
	body, problem := letterBody(body)
	if problem != nil {
		return Letter{}, problem
	}
	enclosed, err := toEnclose(uploads)
	if err != nil {
		return Letter{}, err
	}
	return together(ctx, s, func(s *Store) (Letter, error) {
		c, err := s.Commission(ctx, commissionID)
		if err != nil {
			return Letter{}, err
		}
		last, err := s.newestLetter(ctx, c.ClientID)
		if err != nil {
			return Letter{}, err
		}
		if last.ID != "" && !last.Out && last.Body == body && len(last.Photos) == len(enclosed.photos) && len(last.Papers) == len(enclosed.papers) {
			return last, nil
		}
		l, err := s.keep(ctx, Letter{ClientID: c.ClientID, CommissionID: c.ID, Body: body, State: Received})
		if err != nil {
			return l, err
		}
		if err := s.enclose(ctx, &l, enclosed); err != nil {
			return l, err
		}
		return l, s.Owe(ctx, l.ClientID)
	})
}

// newestLetter is the newest between a client and the workroom; one without id before there is any.
func (s *Store) newestLetter(ctx context.Context, clientID string) (Letter, error) {
	list, err := many(s.reads(ctx).Where("client_id = ? and kind = ?", clientID, LetterTalk).Order("running desc").Limit(1), letterRow.letter)
	if err == nil && len(list) > 0 {
		list, err = s.withEnclosures(ctx, list, []string{list[0].ID})
	}
	if err != nil {
		return Letter{}, fmt.Errorf("last letter of client %s: %w", clientID, err)
	}
	return append(list, Letter{})[0], nil
}

func letterBody(body string) (string, *Problem) {
	body = strings.TrimSpace(body)
	switch n := utf8.RuneCountInString(body); {
	case n == 0:
		return "", NewProblem("body", "Write something first.")
	case n > longestLetter:
		return "", NewProblem("body", "This has %d letters and at most %d can be sent at once. Send it in two parts.", n, longestLetter)
	}
	return body, nil
}

// Letters is a client's letter book, with what was said in her intake chats, in time order.
func (s *Store) Letters(ctx context.Context, clientID string) ([]Letter, error) {
	hers := s.reads(ctx).Model(&chatRow{}).Where("client_id = ?", clientID).Select("id")
	list, err := many(s.reads(ctx).Where("client_id = ? or chat_id in (?)", clientID, hers).Order("at, running"), letterRow.letter)
	if err == nil {
		list, err = s.withEnclosures(ctx, list, s.reads(ctx).Model(&letterRow{}).Where("client_id = ?", clientID).Select("id"))
	}
	if err != nil {
		return nil, fmt.Errorf("letters of client %s: %w", clientID, err)
	}
	return list, nil
}

// ChatLetters lists what was said in one chat, oldest first.
func (s *Store) ChatLetters(ctx context.Context, chatID string) ([]Letter, error) {
	list, err := many(s.reads(ctx).Where("chat_id = ?", chatID).Order("at, running"), letterRow.letter)
	if err != nil {
		return nil, fmt.Errorf("letters of chat %s: %w", chatID, err)
	}
	return list, nil
}

// Tell puts a letter to a chat into the outbox.
func (s *Store) Tell(ctx context.Context, l Letter) (Letter, error) {
	l.Out, l.State = true, Waiting
	return s.keepInChat(ctx, l)
}

// Hear keeps a letter that came in by a chat.
func (s *Store) Hear(ctx context.Context, l Letter) (Letter, error) {
	l.Out, l.State = false, Received
	return s.keepInChat(ctx, l)
}

// keepInChat keeps a letter of a chat under the client whose chat it is, when she is known.
func (s *Store) keepInChat(ctx context.Context, l Letter) (Letter, error) {
	return together(ctx, s, func(s *Store) (Letter, error) {
		chat, err := s.chatRow(ctx, l.ChatID)
		if err != nil {
			return Letter{}, err
		}
		if l.ClientID == "" {
			l.ClientID = plain(chat.ClientID)
		}
		kept, err := s.keep(ctx, l)
		if err == nil && kept.ClientID != "" && !kept.Out && kept.Kind == LetterTalk {
			err = s.Owe(ctx, kept.ClientID)
		}
		return kept, err
	})
}

// MarkCopied notes that the milliner has sent a letter her own way. A letter that could not be
// delivered may be copied too.
func (s *Store) MarkCopied(ctx context.Context, letterID string) error {
	return s.mark(ctx, letterID, []string{ToCopy, Copied, Failed}, map[string]any{"state": Copied, "sent": millis(s.now())})
}

// mark changes a letter that is in one of some states; ErrNotFound otherwise.
func (s *Store) mark(ctx context.Context, letterID string, in []string, change map[string]any) error {
	res := s.writes(ctx).Model(&letterRow{}).Where("id = ? and state in ?", letterID, in).Updates(change)
	if res.Error == nil && res.RowsAffected == 0 {
		res.Error = ErrNotFound
	}
	if res.Error != nil {
		return fmt.Errorf("mark letter %s: %w", letterID, res.Error)
	}
	return nil
}
