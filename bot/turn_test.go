package bot

import (
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/orders"
)

func TestUnlikelyDayIsReplacedByAnother(t *testing.T) {
	m := newMemory()
	play(t, m, opening+`
		[I will, and I am 18 or older]
		> Odile
		> odile@quillfeather.example
		[A wedding]
		> 12 June 2041
		< If that is right, keep it.
		> 12 June 2028
		< Day: 12 June 2028.`)
	assert.Equal(t, "2028-06-12", m.st.Answers["day"].Value)
	assert.False(t, m.st.Answers["day"].Confirmed, "a day that was never in doubt counts as confirmed")
	play(t, m, `
		> back
		> 12 June 2041
		[Yes, keep it]
		< Day: 12 June 2041.`)
	assert.True(t, m.st.Answers["day"].Confirmed, "the kept day is not marked so")
}

func TestSeveralChoices(t *testing.T) {
	m := newMemory()
	play(t, m, opening+needed)
	m.st.Asking = "trimming"
	play(t, m, `
		> help
		< What may it be trimmed with?
		[Flowers]
		< So far: Flowers.
		[A veil]
		< So far: Flowers, A veil.
		[✓ Flowers]
		< So far: A veil.
		[Done]
		< Trimming: A veil.
		[Feathers]
		< So far: A veil, Feathers.
		[Done]
		< Trimming: A veil, Feathers.`)
	assert.Equal(t, "veil feathers", m.st.Answers["trimming"].Value)
}

func TestHealthStandsInNoLetter(t *testing.T) {
	m := newMemory()
	play(t, m, opening+needed)
	m.st.Asking = "health_consent"
	play(t, m, `
		> yes
		< A note about health: Yes.`)
	m.st.Asking = "health"
	play(t, m, `
		> a hearing aid
		< What to be careful with: noted.
		! hearing aid
		> back
		! hearing aid
		> summary
		! hearing aid`)
	assert.Equal(t, "a hearing aid", m.st.Answers["health"].Value)
	play(t, m, `
		[Change an answer]
		[What to be careful with]
		! You said
		[Erase this note]
		< What to be careful with: no. Nothing of it is kept.`)
	assert.Equal(t, orders.Answer{}, m.st.Answers["health"], "the note is erased by itself")
	play(t, m, `
		[Change an answer]
		[A note about health]
		[No, thank you]
		< A note about health: no. Nothing of it is kept.`)
	assert.Empty(t, m.st.Answers["health_consent"].Value, "the yes is taken back")
	assert.NotContains(t, strings.Join(m.kept, "\n"), "hearing aid", "the letter book repeats a health note")
}

func TestNothingIsKeptBeforeConsent(t *testing.T) {
	m := newMemory()
	for _, h := range []Heard{{Text: "Odile Quillfeather, 57 cm"}, {Text: "57 cm"}, {Press: "name=Odile"}, {Other: Picture}, {Text: "no"}, {Text: "/help"}} {
		c, replies := Turn(m.st, h)
		assert.Empty(t, c.Heard, "%v is kept before the notice is agreed to", h)
		assert.Empty(t, c.Save, "%v is stored before the notice is agreed to", h)
		assert.Nil(t, c.Begin, "%v counts as agreeing", h)
		assert.NotContains(t, shown(replies), "Odile", "the outbox would keep what she said")
		assert.NotContains(t, shown(replies), "57", "the outbox would keep what she said")
		m.hear(h)
	}
}

func TestRehearsalSaysSo(t *testing.T) {
	m := newMemory()
	m.st.Rehearsal = true
	replies := shown(m.hear(Heard{}))
	assert.Contains(t, replies, "This is a rehearsal")
	assert.NotContains(t, replies, "messenger's own servers")
}

func TestGroupsAreDeclinedOnce(t *testing.T) {
	m := newMemory()
	assert.Contains(t, shown(m.hear(Heard{Text: "hello", Group: true})), "a chat of our own")
	assert.Empty(t, m.hear(Heard{Text: "57", Group: true}), "a group is told again and again")
	assert.False(t, m.st.Begun)
}

func TestOtherThingsGetASentenceAndTheQuestion(t *testing.T) {
	m := newMemory()
	play(t, m, opening)
	for other, text := range others {
		replies := shown(m.hear(Heard{Other: other}))
		assert.Contains(t, replies, text)
		assert.Contains(t, replies, "Who will wear the hat?", "the question is lost after %s", other)
	}
	assert.Contains(t, shown(m.hear(Heard{Other: "hologram"})), others[Unknown])
	assert.Contains(t, shown(m.hear(Heard{Edited: true})), "write it again")
	assert.Len(t, m.st.Answers, 1, "something other than words became an answer")
}

func TestStageAndFittingAreTold(t *testing.T) {
	m := newMemory()
	play(t, m, opening+needed+sending)
	for _, stage := range orders.Stages {
		m.st.Stage = stage
		text := shown(m.hear(Heard{Text: "where is my hat"}))
		require.NotEmpty(t, stages[stage], "stage %s has no words", stage)
		assert.Contains(t, text, stages[stage])
	}
	m.st.Today = today.In(time.FixedZone("studio", 3600))
	m.st.Appointments = []orders.Appointment{{Kind: orders.Fitting, Place: orders.InPerson, State: orders.Confirmed,
		Start: time.Date(2027, 5, 20, 13, 30, 0, 0, time.UTC)}}
	assert.Contains(t, shown(m.hear(Heard{Text: "fitting date?"})),
		"Your fitting: Thursday 20 May 2027 at 14:30, in person, confirmed by you.")
}

func TestLettersAreOnlyWhatIsForTheMilliner(t *testing.T) {
	m := newMemory()
	play(t, m, opening+needed+sending+`
		[Add more]
		> My sister marries by the lake.
		> stop
		> where is my hat
		> Can it be green?`)
	assert.Equal(t, []string{"Can it be green?"}, m.letters)
}

func TestTurnLeavesTheStateAlone(t *testing.T) {
	st := State{Today: today, Begun: true, Answers: orders.Answers{"privacy": {Value: "yes"}}, Pending: []string{"girth=57"}}
	st.Pending = slices.Grow(st.Pending, 4)
	Turn(st, Heard{Press: "wearer=child"})
	Turn(st, Heard{Press: "girth=57"})
	assert.Len(t, st.Answers, 1, "Turn changed the answers it was given")
	assert.Equal(t, []string{"girth=57"}, st.Pending)
}

func TestEveryQuestionCanBeAskedHere(t *testing.T) {
	m := &talk{State: State{Answers: orders.Answers{}}}
	for _, q := range orders.Questions {
		_, known := special[q.Kind]
		assert.True(t, known || q.Kind == orders.Choice || q.Kind == orders.Choices, "kind %s has no prompt", q.Kind)
		assert.NotContains(t, []string{greeted, paused, declined}, q.Key, "a question has the name of a place")
		assert.Empty(t, strings.Trim(q.Key, "abcdefghijklmnopqrstuvwxyz_"), "a key must not hold the signs of buttons and parts")
		for _, b := range append(m.buttons(q), verbButton("enough", q), verbButton("keep", q)) {
			assert.LessOrEqual(t, len(b.Value), 64, "button %q is too long for the messenger", b.Value)
			assert.NotEmpty(t, b.Label, "a button of %s has no label", q.Key)
		}
	}
}

func TestCommandsHaveOneMeaning(t *testing.T) {
	seen := map[string]string{}
	for _, c := range commands() {
		for _, w := range append([]string{c.name}, c.also...) {
			assert.Equal(t, bare(w), w, "%q would never be matched", w)
			assert.Empty(t, seen[w], "%q means two things", w)
			seen[w] = c.name
			found, ok := find("/ " + strings.ToUpper(w))
			assert.True(t, ok && found.name == c.name, "%q is not found", w)
		}
		assert.LessOrEqual(t, len(doButton(c.name).Value), 64)
	}
	_, ok := find("where is the nape")
	assert.False(t, ok, "any words are taken for a command")
}

// Every command at every place: an answer, and no question lost.
func TestEveryCommandAtEveryPlace(t *testing.T) {
	script := strings.Split(strings.TrimSpace(opening+needed+sending), "\n")
	for n := range script {
		for _, c := range commands() {
			m := newMemory()
			play(t, m, strings.Join(script[:n], "\n"))
			before := m.st
			replies := m.write(t, c.name)
			assert.NotEmpty(t, replies, "%q after line %d gets no answer", c.name, n)
			for key, a := range before.Answers {
				assert.Equal(t, a, m.st.Answers[key], "%q after line %d lost an answer", c.name, n)
			}
		}
	}
}

func TestTheSummaryIsShownOnce(t *testing.T) {
	m := newMemory()
	play(t, m, opening+needed)
	assert.Equal(t, 1, strings.Count(shown(m.write(t, "summary")), "Occasion: A wedding"))
}

func TestTapesAreShownStepByStepWithTheirDrawing(t *testing.T) {
	m := newMemory()
	play(t, m, opening+strings.SplitAfter(needed, "[A wedding]")[0])
	m.write(t, "12 June 2027")
	asked := shown(m.write(t, "up"))
	assert.Contains(t, asked, "\nSnug, not tight", "each step has a line of its own")
	assert.Contains(t, asked, "{link}/ask/girth", "the drawing is one press away")
	assert.Contains(t, shown(m.write(t, "I can't measure")), "To be measured at the studio")
}

func TestReadingsKeptBeforeAnInterruptionAreCounted(t *testing.T) {
	m := newMemory()
	play(t, m, opening+strings.SplitAfter(needed, "> 57,5 cm")[0]+`
		> change the day
		< You said: 12 June 2027
		[Leave it as it is]
		< Readings of it that I have already: 2.`)
}
