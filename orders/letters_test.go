package orders

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// inChat is a client who came by a messenger, with her chat and her commission.
func inChat(t testing.TB, s *Store, address string) (Chat, Commission) {
	t.Helper()
	chat, err := s.Chat(ctx, ChannelTelegram, address)
	require.NoError(t, err)
	chat.DraftID = begun(t, s, nil).ID
	chat, err = s.SaveChat(ctx, chat)
	require.NoError(t, err)
	c, err := s.Send(ctx, chat.DraftID)
	require.NoError(t, err)
	chat, err = s.Chat(ctx, ChannelTelegram, address)
	require.NoError(t, err)
	return chat, c
}

func TestWriteGoesByTheChatOrIsCopied(t *testing.T) {
	s, _ := newStore(t)
	chat, byChat := inChat(t, s, "1")
	require.Equal(t, byChat.ClientID, chat.ClientID, "sending ties the chat to the client")
	l, err := s.Write(ctx, byChat.ID, " Your sinamay has come. ")
	require.NoError(t, err)
	assert.Equal(t, Letter{
		ID: l.ID, ClientID: byChat.ClientID, CommissionID: byChat.ID, ChatID: chat.ID, Out: true, Kind: LetterTalk,
		Body: "Your sinamay has come.", Buttons: []Option{}, State: Waiting, At: wednesday,
	}, l)
	web := sent(t, s, nil)
	l, err = s.Write(ctx, web.ID, "Your sinamay has come.")
	require.NoError(t, err)
	assert.Equal(t, ToCopy, l.State)
	assert.Empty(t, l.ChatID)
	require.NoError(t, s.MarkCopied(ctx, l.ID))
	letters, err := s.Letters(ctx, web.ClientID)
	require.NoError(t, err)
	assert.Equal(t, Copied, letters[0].State)
	assert.Equal(t, wednesday, letters[0].Sent)

	for name, body := range map[string]string{"nothing": " \n ", "too much": strings.Repeat("ä", 3501)} {
		_, err := s.Write(ctx, web.ID, body)
		t.Log(name, problem(t, err, "body").Text)
	}
	_, err = s.Write(ctx, web.ID, strings.Repeat("ä", 3500))
	require.NoError(t, err, "letters are counted, not bytes")
	_, err = s.Write(ctx, newID(), "x")
	require.ErrorIs(t, err, ErrNotFound)
}

func TestTheLetterBookHoldsTheWholeConversation(t *testing.T) {
	s, clock := newStore(t)
	chat, err := s.Chat(ctx, ChannelTelegram, "1")
	require.NoError(t, err)
	_, err = s.Tell(ctx, Letter{ChatID: chat.ID, Kind: LetterIntake, Body: "Welcome", Buttons: []Option{{"yes", "Yes"}}})
	require.NoError(t, err, "the bot greets before there is a client")
	clock.add(time.Second)
	_, err = s.Hear(ctx, Letter{ChatID: chat.ID, Kind: LetterIntake, Body: "Yes"})
	require.NoError(t, err)
	clock.add(time.Second)
	chat, c := inChat(t, s, "1")
	clock.add(time.Second)
	heard, err := s.Hear(ctx, Letter{ChatID: chat.ID, Kind: LetterTalk, Body: "May I bring the dress?"})
	require.NoError(t, err)
	require.Equal(t, c.ClientID, heard.ClientID, "by now it is known who writes")
	_, err = s.Write(ctx, c.ID, "Please do.")
	require.NoError(t, err)
	letters, err := s.Letters(ctx, c.ClientID)
	require.NoError(t, err)
	var bodies []string
	for _, l := range letters {
		bodies = append(bodies, l.State+": "+strings.SplitAfter(l.Body, ",")[0])
	}
	require.Equal(t, []string{"waiting: Welcome", "received: Yes", "waiting: Thank you,", "received: May I bring the dress?", "waiting: Please do."}, bodies)
	require.Equal(t, []Option{{"yes", "Yes"}}, letters[0].Buttons, "buttons are kept")
	inThisChat, err := s.ChatLetters(ctx, chat.ID)
	require.NoError(t, err)
	require.Equal(t, letters, inThisChat)
	other, err := s.Letters(ctx, sent(t, s, nil).ClientID)
	require.NoError(t, err)
	require.Empty(t, other, "nobody sees another's letters")
	_, err = s.Tell(ctx, Letter{ChatID: newID(), Body: "x"})
	require.ErrorIs(t, err, ErrNotFound)
}

func tellTo(t *testing.T, s *Store, chat Chat, body string) Letter {
	t.Helper()
	l, err := s.Tell(ctx, Letter{ChatID: chat.ID, Kind: LetterTalk, Body: body})
	require.NoError(t, err)
	return l
}

func unsent(t *testing.T, s *Store, most int) (bodies []string) {
	t.Helper()
	list, err := s.Unsent(ctx, ChannelTelegram, most)
	require.NoError(t, err)
	for _, o := range list {
		require.Equal(t, o.Letter.ChatID, o.Chat.ID)
		bodies = append(bodies, o.Chat.Address+o.Text)
	}
	return bodies
}

func TestTheOutboxKeepsTheOrderOfEachChat(t *testing.T) {
	s, _ := newStore(t)
	a, err := s.Chat(ctx, ChannelTelegram, "A")
	require.NoError(t, err)
	b, err := s.Chat(ctx, ChannelTelegram, "B")
	require.NoError(t, err)
	window, err := s.Chat(ctx, ChannelRehearsal, "C")
	require.NoError(t, err)
	first, second := tellTo(t, s, a, "1"), tellTo(t, s, a, "2")
	tellTo(t, s, window, "1")
	tellTo(t, s, b, "1")
	tellTo(t, s, a, "3")
	require.Equal(t, []string{"A1", "B1", "A2", "A3"}, unsent(t, s, 10), "each chat in order, every chat's turn before anyone's second")
	require.Equal(t, []string{"A1", "B1"}, unsent(t, s, 2))

	require.NoError(t, s.MarkTried(ctx, first.ID, "busy", false))
	require.Equal(t, []string{"A1", "B1", "A2", "A3"}, unsent(t, s, 10), "what has to be tried again keeps its place")
	require.NoError(t, s.MarkTried(ctx, first.ID, "blocked", true))
	require.Equal(t, []string{"A2", "B1", "A3"}, unsent(t, s, 10), "what was refused for good makes way")
	require.NoError(t, s.MarkSent(ctx, second.ID))
	require.Equal(t, []string{"B1", "A3"}, unsent(t, s, 10), "by age again")

	letters, err := s.ChatLetters(ctx, a.ID)
	require.NoError(t, err)
	assert.Equal(t, []any{Failed, 2, "blocked"}, []any{letters[0].State, letters[0].Tries, letters[0].Reason})
	assert.Equal(t, []any{Sent, wednesday}, []any{letters[1].State, letters[1].Sent})
	require.ErrorIs(t, s.MarkTried(ctx, second.ID, "late", true), ErrNotFound, "what was sent does not fail later")
	require.ErrorIs(t, s.MarkSent(ctx, first.ID), ErrNotFound, "what was given up is not sent")
	require.NoError(t, s.MarkSent(ctx, second.ID), "marking twice is harmless")
	require.NoError(t, s.MarkCopied(ctx, first.ID), "what could not be delivered can be copied")
}

func TestAStuckChatDoesNotFillTheOutbox(t *testing.T) {
	s, _ := newStore(t)
	stuck, err := s.Chat(ctx, ChannelTelegram, "A")
	require.NoError(t, err)
	for range 30 {
		tellTo(t, s, stuck, "x")
	}
	other, err := s.Chat(ctx, ChannelTelegram, "B")
	require.NoError(t, err)
	tellTo(t, s, other, "1")
	require.Contains(t, unsent(t, s, 2), "B1")
	require.Len(t, unsent(t, s, 100), perChat+1)
}

func TestLinksAreFilledInWhenALetterIsSent(t *testing.T) {
	s, _ := newStore(t)
	chat, err := s.Chat(ctx, ChannelTelegram, "1")
	require.NoError(t, err)
	tellTo(t, s, chat, "no draft yet: {link}")
	chat.DraftID = begun(t, s, nil).ID
	chat, err = s.SaveChat(ctx, chat)
	require.NoError(t, err)
	d, err := s.Draft(ctx, chat.DraftID)
	require.NoError(t, err)
	require.Equal(t, []string{"1no draft yet: http://hats.example" + DraftPath + s.DraftLink(d)}, unsent(t, s, 10))
	c, err := s.Send(ctx, d.ID)
	require.NoError(t, err)
	list, err := s.Unsent(ctx, ChannelTelegram, 10)
	require.NoError(t, err)
	for _, o := range list {
		require.Contains(t, o.Text, "http://hats.example"+CommissionPath+s.CommissionLink(c), "her page, once she has sent")
		require.NotContains(t, o.Letter.Body, "http", "links are not stored")
	}
	fresh, err := s.Chat(ctx, ChannelTelegram, "2")
	require.NoError(t, err)
	text, err := s.FillLinks(ctx, tellTo(t, s, fresh, "begin: {link}"))
	require.NoError(t, err)
	require.Equal(t, "begin: http://hats.example/", text)
	hers, err := s.Hear(ctx, Letter{ChatID: chat.ID, Kind: LetterTalk, Body: "what is {link}?"})
	require.NoError(t, err)
	text, err = s.FillLinks(ctx, hers)
	require.NoError(t, err)
	require.Equal(t, "what is {link}?", text, "her own words stay hers")
}

func TestChats(t *testing.T) {
	s, _ := newStore(t)
	chat, err := s.Chat(ctx, ChannelTelegram, "1")
	require.NoError(t, err)
	again, err := s.Chat(ctx, ChannelTelegram, "1")
	require.NoError(t, err)
	require.Equal(t, chat, again, "the same conversation")
	other, err := s.Chat(ctx, ChannelRehearsal, "1")
	require.NoError(t, err)
	require.NotEqual(t, chat.ID, other.ID, "another channel is another conversation")

	chat.Asking, chat.Pending = "girth", []string{"570.0", "571.0"}
	saved, err := s.SaveChat(ctx, chat)
	require.NoError(t, err)
	again, err = s.Chat(ctx, ChannelTelegram, "1")
	require.NoError(t, err)
	require.Equal(t, saved, again)
	require.Equal(t, []string{"570.0", "571.0"}, again.Pending)
	_, err = s.SaveChat(ctx, chat)
	require.ErrorIs(t, err, ErrConflict, "an old version")

	c := sent(t, s, nil)
	saved.DraftID = c.DraftID // she goes on by chat with what she began on the page
	saved, err = s.SaveChat(ctx, saved)
	require.NoError(t, err)
	require.Equal(t, c.ClientID, saved.ClientID, "a draft that was sent ties the chat to its client")
	l, err := s.Write(ctx, c.ID, "hello")
	require.NoError(t, err)
	require.Equal(t, Waiting, l.State)
}
