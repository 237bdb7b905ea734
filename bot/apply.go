package bot

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"time"

	"perchbook/orders"
	"perchbook/templates"
)

// converse carries one thing said through the conversation: Turn decides, and the change, what came
// in and the replies are stored together or not at all. s must be the Store of a transaction.
func converse(ctx context.Context, s *orders.Store, channel, address string, h Heard, now time.Time) error {
	chat, err := s.Chat(ctx, channel, address)
	if err != nil {
		return err
	}
	st, err := stateOf(ctx, s, chat, now)
	if err != nil {
		return err
	}
	change, replies := Turn(st, h)
	err = s.Together(ctx, func(s *orders.Store) error { return apply(ctx, s, chat, change, replies) })
	var problem *orders.Problem
	if errors.As(err, &problem) { // the store knew better; what came in is still kept
		change, replies = refused(st, change, problem)
		err = apply(ctx, s, chat, change, replies)
	}
	return err
}

// stateOf reads what Turn has to know.
func stateOf(ctx context.Context, s *orders.Store, chat orders.Chat, now time.Time) (State, error) {
	st := State{Rehearsal: chat.Channel == orders.ChannelRehearsal, Asking: chat.Asking, Pending: chat.Pending}
	studio, err := s.Studio(ctx)
	if err != nil {
		return st, err
	}
	zone, err := time.LoadLocation(studio.Zone)
	if err != nil {
		return st, fmt.Errorf("studio's zone: %w", err)
	}
	st.Studio, st.Today = studio.Name, now.In(zone)
	notice, err := s.PrivacyNotice(ctx)
	if err != nil {
		return st, err
	}
	st.Notice = notice.Body(orders.Phrase.String)
	if chat.DraftID == "" {
		return st, nil
	}
	draft, err := s.Draft(ctx, chat.DraftID)
	if err != nil {
		return st, err
	}
	st.Begun, st.Answers = true, draft.Answers
	st.Outdated, err = s.Outdated(ctx, draft.ID, func(language string, p orders.Phrase) string { return templates.Language(language).Put(p) })
	if err != nil {
		return st, err
	}
	if draft.CommissionID == "" {
		return st, nil
	}
	return commissioned(ctx, s, st, draft.CommissionID, now)
}

// commissioned adds what is known once the enquiry was sent.
func commissioned(ctx context.Context, s *orders.Store, st State, id string, now time.Time) (State, error) {
	c, err := s.Commission(ctx, id)
	if err != nil {
		return st, err
	}
	st.Sent, st.Stage = true, c.Stage
	all, err := s.Appointments(ctx, id)
	for _, a := range all {
		if a.State != orders.Cancelled && a.End.After(now) {
			st.Appointments = append(st.Appointments, a)
		}
	}
	return st, err
}

// apply stores a change, what came in and the replies. A *orders.Problem undoes nothing by itself:
// the caller's transaction does.
func apply(ctx context.Context, s *orders.Store, chat orders.Chat, c Change, replies []Reply) error {
	if c.Begin != nil {
		draft, err := s.Begin(ctx, door(chat), *c.Begin)
		if err != nil {
			return err
		}
		chat.DraftID = draft.ID
	}
	if c.Agree {
		if err := agree(ctx, s, chat.DraftID, orders.Questions[0]); err != nil {
			return err
		}
	}
	chat.Asking, chat.Pending = c.Asking, c.Pending
	chat, err := s.SaveChat(ctx, chat)
	if err != nil {
		return err
	}
	for _, k := range c.Save {
		if _, err := s.Answer(ctx, chat.DraftID, k.Key, k.Answer); err != nil {
			return err
		}
		if q, _ := orders.Questions.Find(k.Key); q.Kind == orders.Consent && k.Answer.Value == orders.Yes {
			if err := agree(ctx, s, chat.DraftID, q); err != nil {
				return err
			}
		}
	}
	if err := hear(ctx, s, chat, c); err != nil {
		return err
	}
	if c.Send {
		if _, err := s.Send(ctx, chat.DraftID); err != nil {
			return err
		}
	}
	return tell(ctx, s, chat, replies)
}

// agree keeps the wording that was agreed to, as it stood in the chat.
func agree(ctx context.Context, s *orders.Store, draftID string, q orders.Question) error {
	wording := q.Label + "\n\n" + q.Hint
	if q.Needed { // the privacy notice
		n, err := s.PrivacyNotice(ctx)
		if err != nil {
			return err
		}
		wording = n.Wording(orders.Phrase.String)
	}
	return s.Agree(ctx, draftID, q.Key, orders.English, wording)
}

func door(chat orders.Chat) string {
	if chat.Channel == orders.ChannelRehearsal {
		return orders.DoorRehearsal
	}
	return orders.DoorChat
}

// hear keeps what came in; before the notice is agreed to there is nothing to keep it under.
func hear(ctx context.Context, s *orders.Store, chat orders.Chat, c Change) error {
	if c.Heard == "" || chat.DraftID == "" {
		return nil
	}
	l, err := letterOf(ctx, s, chat)
	if err != nil {
		return err
	}
	l.Body = c.Heard
	if c.Letter {
		l.Kind = orders.LetterTalk
	}
	_, err = s.Hear(ctx, l)
	return err
}

// tell puts replies into the outbox; those for the rehearsal window have arrived with that.
func tell(ctx context.Context, s *orders.Store, chat orders.Chat, replies []Reply) error {
	for _, r := range replies {
		l, err := letterOf(ctx, s, chat)
		if err != nil {
			return err
		}
		l.Body, l.Buttons = r.Text, r.Buttons
		if l, err = s.Tell(ctx, l); err != nil {
			return err
		}
		if chat.Channel == orders.ChannelRehearsal {
			if err := s.MarkSent(ctx, l.ID); err != nil {
				return err
			}
		}
	}
	return nil
}

// letterOf begins a letter of a chat, under the client and commission it has by now.
func letterOf(ctx context.Context, s *orders.Store, chat orders.Chat) (orders.Letter, error) {
	l := orders.Letter{ChatID: chat.ID, ClientID: chat.ClientID, Kind: orders.LetterIntake}
	if chat.DraftID == "" {
		return l, nil
	}
	draft, err := s.Draft(ctx, chat.DraftID)
	if err != nil || draft.CommissionID == "" {
		return l, err
	}
	c, err := s.Commission(ctx, draft.CommissionID)
	l.CommissionID, l.ClientID = c.ID, c.ClientID
	return l, err
}

// refused is the turn again when the store would not have the change: the place stays, and what is
// wrong is said with the question it belongs to.
func refused(st State, c Change, p *orders.Problem) (Change, []Reply) {
	t := &talk{State: st}
	t.change.Heard = c.Heard
	if q, ok := orders.Questions.Find(p.Key); ok {
		t.Asking = q.Key
		t.prompt(p.Text, q)
	} else {
		t.say(strings.TrimSpace(p.Text))
	}
	t.change.Asking, t.change.Pending = t.Asking, t.Pending
	return t.change, t.said
}
