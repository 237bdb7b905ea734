package bot

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/orders"
)

const origin = "https://hats.example"

// open opens a real store in a folder of its own, with the invented studio.
func open(t testing.TB, dir string) *orders.Store {
	t.Helper()
	s, err := orders.Open(t.Context(), dir, orders.Settings{Origin: origin})
	require.NoError(t, err, "no store to test with")
	t.Cleanup(func() { _ = s.Close() })
	st, err := s.Studio(t.Context())
	require.NoError(t, err)
	if st.Name != "the Tern Lane Workroom" {
		st.Name = "the Tern Lane Workroom"
		_, err = s.SaveStudio(t.Context(), st)
		require.NoError(t, err)
	}
	return s
}

// window is a partner in the rehearsal window.
type window struct {
	store *orders.Store
	read  int
	seen  buttonsSeen
}

const address = "window-1"

func newWindow(t *testing.T) *window {
	return &window{store: open(t, t.TempDir()), seen: buttonsSeen{}}
}

func (w *window) write(t *testing.T, text string) []Reply {
	require.NoError(t, Say(t.Context(), w.store, address, text))
	return w.news(t)
}

func (w *window) press(t *testing.T, label string) []Reply {
	require.NoError(t, Press(t.Context(), w.store, address, w.seen.data(t, label)))
	return w.news(t)
}

func (w *window) news(t *testing.T) []Reply {
	letters, err := Transcript(t.Context(), w.store, address)
	require.NoError(t, err)
	var replies []Reply
	for _, l := range letters[w.read:] {
		if l.Out {
			replies = append(replies, Reply{l.Body, l.Buttons})
		}
	}
	w.read = len(letters)
	w.seen.see(replies)
	return replies
}

func TestTheWholeIntakeInTheRehearsalWindow(t *testing.T) {
	w := newWindow(t)
	play(t, w, rehearsed+needed+sending+`
		< It has the number
		< `+origin+orders.CommissionPath+`
		[Add more]
		> My sister marries by the lake.
		> stop
		> Can it be green?`)
	all, err := w.store.Commissions(t.Context())
	require.NoError(t, err)
	require.Len(t, all, 1)
	c := all[0]
	assert.Equal(t, orders.DoorRehearsal, c.Door, "a rehearsal is not marked as one")
	assert.Equal(t, "Odile Quillfeather", c.ClientName)
	d, err := w.store.Draft(t.Context(), c.DraftID)
	require.NoError(t, err)
	assert.Equal(t, "570.0 575.0 571.5", d.Answers["girth"].Value)
	assert.Equal(t, orders.Later, d.Answers["nape"].Value)
	assert.Equal(t, "My sister marries by the lake.", d.Answers["occasion_words"].Value, "an addition after sending is lost")

	letters, err := w.store.Letters(t.Context(), c.ClientID)
	require.NoError(t, err)
	talk := []string{}
	for _, l := range letters {
		if !l.Out && l.Kind == orders.LetterTalk {
			talk = append(talk, l.Body)
			assert.Equal(t, c.ID, l.CommissionID, "the letter belongs to no commission")
		}
		assert.NotEqual(t, orders.Waiting, l.State, "a letter to the rehearsal window waits for ever")
	}
	assert.Equal(t, []string{"Can it be green?"}, talk)
}

// rehearsed is the opening in the rehearsal window.
const rehearsed = `
	> hello
	< This is a rehearsal
	< https://hats.example/
	[Yes, I agree]
	< Who will wear the hat?
`

func TestTheMillinersLetterArrivesInTheWindow(t *testing.T) {
	w := newWindow(t)
	play(t, w, rehearsed+needed+sending)
	all, err := w.store.Commissions(t.Context())
	require.NoError(t, err)
	l, err := w.store.Write(t.Context(), all[0].ID, "Green it shall be. See {link}")
	require.NoError(t, err)
	require.Equal(t, orders.Waiting, l.State)
	news := shown(w.news(t))
	assert.Contains(t, news, "Green it shall be. See "+origin+orders.CommissionPath)
	waiting, err := w.store.Unsent(t.Context(), orders.ChannelRehearsal, 10)
	require.NoError(t, err)
	assert.Empty(t, waiting, "what was read still waits")
}

func TestNothingIsStoredOfHerBeforeConsent(t *testing.T) {
	w := newWindow(t)
	play(t, w, `
		> Odile Quillfeather, 57 cm
		> 58 cm
		[No, thank you]`)
	letters, err := Transcript(t.Context(), w.store, address)
	require.NoError(t, err)
	for _, l := range letters {
		assert.True(t, l.Out, "what she said was kept: %s", l.ID)
		assert.NotContains(t, l.Body, "Odile")
	}
	chat, err := w.store.Chat(t.Context(), orders.ChannelRehearsal, address)
	require.NoError(t, err)
	assert.Empty(t, chat.DraftID, "a draft was begun without consent")
}

func TestWhatTheStoreRefusesIsSaidAndKeepsTheRest(t *testing.T) {
	st := State{Answers: orders.Answers{}, Asking: "day"}
	c, replies := refused(st, Change{Heard: "I agree"}, &orders.Problem{Key: "name", Text: "The name is still to be answered."})
	assert.Equal(t, "name", c.Asking, "the lacking question is not asked")
	assert.Equal(t, "I agree", c.Heard)
	assert.Contains(t, shown(replies), "The name is still to be answered.")
	assert.Contains(t, shown(replies), "What is your name?")
}

func TestWhoWasErasedIsAStrangerInTheChat(t *testing.T) {
	w := newWindow(t)
	play(t, w, rehearsed+needed+sending)
	all, err := w.store.Commissions(t.Context())
	require.NoError(t, err)
	require.NoError(t, w.store.Erase(t.Context(), all[0].ID))
	w.read = 0
	play(t, w, `
		[Where is my hat?]
		! Your enquiry is with the studio
		< This is a rehearsal
		< Nothing is kept until you agree.
		[Yes, I agree]
		< Who will wear the hat?`)
}
