package orders

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func owed(t *testing.T, s *Store, clientID string) time.Time {
	t.Helper()
	c, err := s.Client(ctx, clientID)
	require.NoError(t, err)
	return c.Owed
}

func TestAnAnswerIsOwedUntilTheMillinerAnswersOrSaysNot(t *testing.T) {
	s, clock := newStore(t)
	c := sent(t, s, nil)
	require.Zero(t, owed(t, s, c.ClientID), "an enquiry is no letter")
	first := clock.now().UTC()
	_, err := s.Receive(ctx, c.ID, "May I bring the dress?")
	require.NoError(t, err)
	clock.add(time.Hour)
	_, err = s.Receive(ctx, c.ID, "And the shoes?")
	require.NoError(t, err)
	require.Equal(t, first, owed(t, s, c.ClientID), "since the first letter")
	settle(t, s, c)
	require.Equal(t, first, owed(t, s, c.ClientID), "a letter that follows from something done answers nothing")
	_, err = s.Answer(ctx, c.DraftID, "reach", Answer{Value: "other@post.example", Said: "other@post.example"})
	require.NoError(t, err)
	require.Equal(t, first, owed(t, s, c.ClientID), "a new address does not either")
	_, err = s.Write(ctx, c.ID, "Please do, both.")
	require.NoError(t, err)
	require.Zero(t, owed(t, s, c.ClientID))

	require.NoError(t, s.Owe(ctx, c.ClientID), "set by hand: she rang")
	require.Equal(t, clock.now().UTC(), owed(t, s, c.ClientID))
	list, total, err := s.ToAnswer(ctx, 5)
	require.NoError(t, err)
	require.Equal(t, 1, total)
	assert.Equal(t, c.ID, list[0].ID)
	require.NoError(t, s.OweNothing(ctx, c.ClientID))
	require.Zero(t, owed(t, s, c.ClientID), "and cleared without an answer")
	_, err = s.Receive(ctx, c.ID, "One more thing.")
	require.NoError(t, err)
	require.NotZero(t, owed(t, s, c.ClientID), "a new letter is a new question")
	require.ErrorIs(t, s.Owe(ctx, newID()), ErrNotFound)
}

func TestLettersGoTheWayThatTheClientPrefers(t *testing.T) {
	s, _ := newStore(t)
	_, c := inChat(t, s, "1")
	require.NoError(t, s.Prefer(ctx, c.ClientID, ByHand))
	l, err := s.Write(ctx, c.ID, "Your sinamay has come.")
	require.NoError(t, err)
	require.Equal(t, ToCopy, l.State, "by hand, though there is a chat")
	require.NoError(t, s.Prefer(ctx, c.ClientID, ""))
	l, err = s.Write(ctx, c.ID, "Your ribbon has come.")
	require.NoError(t, err)
	require.Equal(t, Waiting, l.State, "by chat again")
	problem(t, s.Prefer(ctx, c.ClientID, "by pigeon"), "prefers")
}

func TestANoteIsNoLetter(t *testing.T) {
	s, _ := newStore(t)
	chat, c := inChat(t, s, "1")
	n, err := s.WriteNote(ctx, c.ID, " She is shy of veils. ", "Wren")
	require.NoError(t, err)
	assert.Equal(t, Note{n.ID, c.ID, "She is shy of veils.", "Wren", wednesday}, n)
	notes, err := s.Notes(ctx, c.ClientID)
	require.NoError(t, err)
	require.Equal(t, []Note{n}, notes)
	for _, list := range []func() ([]Letter, error){
		func() ([]Letter, error) { return s.Letters(ctx, c.ClientID) },
		func() ([]Letter, error) { return s.ChatLetters(ctx, chat.ID) },
	} {
		letters, err := list()
		require.NoError(t, err)
		for _, l := range letters {
			require.NotContains(t, l.Body, "veils", "a note is never among what goes out")
		}
	}
	found, err := s.Search(ctx, "veils", 0)
	require.NoError(t, err)
	require.Len(t, found.Texts, 1)
	assert.Equal(t, FoundNote, found.Texts[0].Kind)
	assert.Equal(t, wednesday, found.Texts[0].At)
	_, err = s.WriteNote(ctx, c.ID, " \n", "Wren")
	problem(t, err, "aside")
	_, err = s.WriteNote(ctx, c.ID, strings.Repeat("x", longestNote+1), "Wren")
	problem(t, err, "aside")
	_, err = s.WriteNote(ctx, newID(), "x", "Wren")
	require.ErrorIs(t, err, ErrNotFound)
}

func TestPhotographsGoWithLetters(t *testing.T) {
	s, _ := newStore(t)
	c := sent(t, s, nil)
	hers, err := s.Receive(ctx, c.ID, "This is the dress.", asJPEG(t, quadrants(40, 20)), asJPEG(t, quadrants(16, 16)))
	require.NoError(t, err)
	require.Len(t, hers.Photos, 2)
	again, err := s.Receive(ctx, c.ID, "This is the dress.", asJPEG(t, quadrants(40, 20)), asJPEG(t, quadrants(16, 16)))
	require.NoError(t, err)
	require.Equal(t, hers.ID, again.ID, "sent twice, kept once")
	ours, err := s.Write(ctx, c.ID, "And this the cloth.", asJPEG(t, quadrants(16, 16)))
	require.NoError(t, err)
	require.Contains(t, ours.Body, "{link}", "a letter by itself cannot show it, so it leads there")
	letters, err := s.Letters(ctx, c.ClientID)
	require.NoError(t, err)
	require.Equal(t, [][]string{hers.Photos, ours.Photos}, [][]string{letters[0].Photos, letters[1].Photos})
	jpeg, l, err := s.LetterPhoto(ctx, ours.Photos[0])
	require.NoError(t, err)
	assert.Equal(t, ours.ID, l.ID)
	_, colours := seen(t, jpeg)
	assert.Equal(t, [4]int{0, 1, 2, 3}, colours, "a picture, encoded anew")
	_, _, err = s.LetterPhoto(ctx, newID())
	require.ErrorIs(t, err, ErrNotFound)

	_, err = s.Write(ctx, c.ID, "x", []byte("no picture"))
	problem(t, err, "enclosed")
	_, err = s.Write(ctx, c.ID, "x", make([][]byte, MostEnclosed+1)...)
	problem(t, err, "enclosed")
	_, err = s.Write(ctx, c.ID, "  ", asJPEG(t, quadrants(16, 16)))
	problem(t, err, "body")
	after, err := s.Letters(ctx, c.ClientID)
	require.NoError(t, err)
	require.Len(t, after, len(letters), "none of those was kept")
}

func TestOurWordingsCanBeSaved(t *testing.T) {
	seen := map[string]bool{}
	for _, w := range usualWordings {
		require.Nil(t, CheckWording(w.Body), "%s", w.Kind)
		require.False(t, seen[w.Kind], "two wordings are of the kind %q", w.Kind)
		seen[w.Kind] = true
	}
}

func TestAWordingIsChecked(t *testing.T) {
	for body, want := range map[string]string{
		"Dear {name}, your {colour} hat": "I do not know the field {colour}",
		"Dear {Name}":                    "I do not know the field {Name}",
		"Dear {name, hello":              "A brace stands alone",
		"Dear name}":                     "A brace stands alone",
		"{}":                             "I do not know the field {}",
		"  ":                             "Write something first",
		strings.Repeat("a", 2501):        "keep a wording under 2500",
	} {
		p := CheckWording(body)
		require.NotNil(t, p, "%.40q", body)
		assert.Contains(t, p.Text, want)
		assert.Equal(t, "body", p.Key)
	}
	assert.Nil(t, CheckWording("No field at all."))
}

func TestTheMillinersOwnWordingIsUsed(t *testing.T) {
	s, _ := newStore(t)
	c := sent(t, s, map[string]string{"name": "Nella {number}"})
	require.NoError(t, s.SaveWording(ctx, DesignReady, "Dear {name}, hat {number} for {day}: {link}", 0))
	require.ErrorIs(t, s.SaveWording(ctx, DesignReady, "Late.", 0), ErrConflict)
	problem(t, s.SaveWording(ctx, DesignReady, "{what}", 1), "body")
	require.ErrorIs(t, s.SaveWording(ctx, "nonsense", "x", 0), ErrNotFound)
	settle(t, s, c)
	l := lastLetter(t, s, c, 1)
	assert.Equal(t, "Dear Nella {number}, hat "+c.Number+" for "+dayWords(c.Day)+": {link}", l.Body, "what she calls herself is no field")
	require.NoError(t, s.SaveWording(ctx, DesignReady, "", 1), "ours again")
	w, err := s.Wording(ctx, DesignReady)
	require.NoError(t, err)
	assert.True(t, w.Usual)
	assert.Contains(t, w.Body, "now has a design")
}

func TestFieldsSayWhatIsKnown(t *testing.T) {
	s, _ := newStore(t)
	c := sent(t, s, map[string]string{"nape": Later, "day": NotFixed})
	words, err := s.Fill(ctx, c.ID, "{missing} | {hour} | {day} | {link}")
	require.NoError(t, err)
	nape, _ := Questions.Find("nape")
	assert.Equal(t, nape.Short+" | no hour set yet | a day not fixed yet | {link}", words)
	booked(t, s, c, tomorrow)
	whole := sent(t, s, nil)
	words, err = s.Fill(ctx, c.ID, "{hour}")
	require.NoError(t, err)
	when, err := s.saidTo(ctx, c.ClientID, tomorrow)
	require.NoError(t, err)
	assert.Equal(t, when, words)
	words, err = s.Fill(ctx, whole.ID, "{missing}")
	require.NoError(t, err)
	assert.Equal(t, "no tape", words)
}
