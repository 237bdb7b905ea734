package orders

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestPhrasesReadWellInEnglish(t *testing.T) {
	day := time.Date(2027, 6, 1, 15, 4, 0, 0, time.UTC)
	for want, p := range map[string]Phrase{
		"1 June 2027":                  SayDay(day),
		"Tuesday 1 June 2027, 15:04":   SayHour(day),
		"1 photograph":                 SayCount(1, "1 photograph", "%d photographs"),
		"0 photographs":                SayCount(0, "1 photograph", "%d photographs"),
		"red":                          enumerated([]Phrase{asTyped("red")}),
		"red, 50% blue and green":      enumerated([]Phrase{asTyped("red"), asTyped("50% blue"), Say("green")}),
		"I read “57 %”, not a length.": Say("I read %s, not a length.", quoted("57 %")),
		"":                             {},
	} {
		assert.Equal(t, want, p.String())
	}
}

func TestProblemsGiveTheirPartsToTheDoor(t *testing.T) {
	english, with := NewProblem("day", "%s is past.", SayDay(time.Date(2027, 6, 1, 0, 0, 0, 0, time.UTC))).Parts()
	assert.Equal(t, "%s is past.", english)
	assert.Len(t, with, 1)
	english, with = (&Problem{Text: "100 % wrong"}).Parts()
	assert.Equal(t, "%s", english, "a text that stands by itself is no key")
	assert.Equal(t, []any{"100 % wrong"}, with)
}

func TestALanguageIsKeptWithDraftChatAndClient(t *testing.T) {
	s, _ := newStore(t)
	d := begun(t, s, nil)
	chat, err := s.Chat(ctx, ChannelTelegram, "7")
	require.NoError(t, err)
	chat.DraftID = d.ID
	_, err = s.SaveChat(ctx, chat)
	require.NoError(t, err)
	require.NoError(t, s.SetLanguage(ctx, d.ID, "fr"))
	c, err := s.Send(ctx, d.ID)
	require.NoError(t, err)
	client, err := s.Client(ctx, c.ClientID)
	require.NoError(t, err)
	assert.Equal(t, "fr", client.Language, "what she chose while answering goes on with her")

	require.NoError(t, s.SetLanguage(ctx, d.ID, "es"))
	d, err = s.Draft(ctx, d.ID)
	require.NoError(t, err)
	client, err = s.Client(ctx, c.ClientID)
	require.NoError(t, err)
	chat, err = s.Chat(ctx, ChannelTelegram, "7")
	require.NoError(t, err)
	assert.Equal(t, []string{"es", "es", "es"}, []string{d.Language, client.Language, chat.Language})
	require.ErrorIs(t, s.SetLanguage(ctx, "nobody", "fr"), ErrNotFound)
}
