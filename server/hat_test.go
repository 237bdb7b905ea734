package server

import (
	"net/http"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/orders"
)

// book makes an appointment in the milliner's stead, on a day in summer time.
func (s *clientSite) book(c orders.Commission, kind, place string, start time.Time) orders.Appointment {
	s.t.Helper()
	a, err := s.store.Book(s.t.Context(), c.ID, kind, place, start)
	require.NoError(s.t, err)
	return a
}

var thursday = time.Date(2027, 4, 8, 13, 30, 0, 0, time.UTC) // 14:30 in London

func TestHerPageSaysWhereTheHatStands(t *testing.T) {
	s := newClientSite(t)
	s.studio()
	hat, c := s.sent()
	page := s.see(hat)
	shows(t, page, "Your hat "+c.Number)
	shows(t, page, "A wedding. To be worn on Saturday 12 June 2027.")
	shows(t, page, "Nothing yet. What the studio writes")
	shows(t, page, testOrigin+hat)
	for _, st := range orders.Stages {
		words, ok := stageWords[st]
		require.True(t, ok && words.name != "" && words.now != "", "the stage %s has words for her", st)
	}
	here := func() string {
		_, after, _ := strings.Cut(s.see(hat), `aria-current="step"><span class="name">`)
		name, _, _ := strings.Cut(after, "<")
		return name
	}
	assert.Equal(t, stageWords[c.Stage].name, here())
	c, err := s.store.Move(t.Context(), c.ID, c.Version, orders.Withdrawn, "Maud", "called off by telephone")
	require.NoError(t, err)
	assert.Equal(t, "Withdrawn", here())
	hides(t, s.see(hat), "called off by telephone") // the milliner's reasons are hers
}

func TestAnAppointmentIsConfirmedAndMoved(t *testing.T) {
	s := newClientSite(t)
	s.studio()
	hat, c := s.sent()
	a := s.book(c, orders.Fitting, orders.InPerson, thursday)
	page := s.see(hat)
	shows(t, page, "Thursday 8 April 2027")
	shows(t, page, "14:30 to 15:15")
	shows(t, page, "the studio’s time, BST")
	shows(t, page, "The Tern Lane Workroom, Saltmere")

	at := hat + "/appointments/" + a.ID
	require.Equal(t, http.StatusSeeOther, s.post(at+"/confirm", nil).status)
	shows(t, s.see(hat), "You have said yes.")
	hides(t, s.see(hat), "Yes, I will come")

	got := s.post(at+"/move", say("wish-"+a.ID, " "))
	assert.Equal(t, http.StatusUnprocessableEntity, got.status, "a wish needs words")
	long := strings.Repeat("any Thursday ", 60)
	got = s.post(at+"/move", say("wish-"+a.ID, long))
	assert.Equal(t, http.StatusUnprocessableEntity, got.status)
	shows(t, got.body, strings.TrimSpace(long)) // what she wrote stays
	got = s.post(at+"/move", say("wish-"+a.ID, "any Thursday after four"))
	require.Equal(t, http.StatusSeeOther, got.status)
	shows(t, s.see(hat), "“any Thursday after four”")

	s.now = thursday.Add(time.Hour)
	assert.Equal(t, http.StatusUnprocessableEntity, s.post(at+"/confirm", nil).status, "what has passed can't be confirmed")
	page = s.see(hat)
	shows(t, page, "This has passed.")
	hides(t, page, "Ask for another time")
}

func TestAnAppointmentOfAnotherIsNotHers(t *testing.T) {
	s := newClientSite(t)
	hat, _ := s.sent()
	_, other := s.sent()
	a := s.book(other, orders.Fitting, orders.InPerson, thursday)
	for _, path := range []string{"/confirm", "/move"} {
		assert.Equal(t, http.StatusNotFound, s.post(hat+"/appointments/"+a.ID+path, say("wish-"+a.ID, "mine")).status, path)
	}
	assert.Equal(t, http.StatusNotFound, s.get(hat+"/appointments/"+a.ID+"/calendar.ics").status)
	after, err := s.store.Appointment(t.Context(), a.ID)
	require.NoError(t, err)
	assert.Equal(t, a.State, after.State)
}

func TestLettersStandOnHerPage(t *testing.T) {
	s := newClientSite(t)
	hat, c := s.sent()
	for _, words := range []string{"Oldest: good day", "Second", "Third", "I have sage left.\nShall I? <b>", "Newest. Your page: {link}"} {
		s.now = s.now.Add(time.Minute)
		_, err := s.store.Write(t.Context(), c.ID, words)
		require.NoError(t, err)
	}
	page := s.see(hat)
	shows(t, page, "Shall I? &lt;b&gt;")
	hides(t, page, "{link}")
	assert.Less(t, strings.Index(page, "Newest"), strings.Index(page, "Older letters"), "the newest stands on top")
	assert.Greater(t, strings.Index(page, "Oldest: good day"), strings.Index(page, "Older letters"), "older ones are folded")
}

func TestTheSettledHatIsSaidInPlainWords(t *testing.T) {
	s := newClientSite(t)
	hat, c := s.sent()
	hides(t, s.see(hat), "<h2>The hat</h2>")
	f, err := s.store.Fitted(t.Context(), c.ID)
	require.NoError(t, err)
	w := f.Working
	w.CommissionID = c.ID
	w.Figures = map[string]float64{"hat.base_mm": 115, "hat.forward_deg": 18, "hat.sideways_deg": -22, "hat.brim_width_mm": 55, "hat.brim_slope_deg": 15}
	w, err = s.store.SaveWorking(t.Context(), w)
	require.NoError(t, err)
	_, err = s.store.SignOff(t.Context(), c.ID, w.Version, "Maud", "she asked for it")
	require.NoError(t, err)
	page := s.see(hat)
	for _, words := range []string{"11.5 cm", "5.5 cm", "turned up", "On your own right", "to drive or to cycle", "Settled by the studio on 1 March 2027"} {
		shows(t, page, words)
	}
	sheSaysYes(t, s, hat, c)
}

// One press says yes to the design that stands there; it is a letter, and is asked for no longer.
func sheSaysYes(t *testing.T, s *clientSite, hat string, c orders.Commission) {
	t.Helper()
	const yes = "I like the hat as it was settled on 1 March 2027 (sheet 1). Please go on."
	shows(t, s.see(hat), `value="`+yes+`">Yes, I like it`)
	s.post(hat+"/letters", say("body", yes))
	page := s.see(hat)
	hides(t, page, "Yes, I like it")
	shows(t, page, yes)
	now, err := s.store.Commission(t.Context(), c.ID)
	require.NoError(t, err)
	assert.Equal(t, orders.Proposed, now.Stage, "agreeing, with its deposit, is entered by the studio")
}

func TestALaterTapeIsNamed(t *testing.T) {
	s := newClientSite(t)
	base := s.begin()
	s.answerAll(base)
	s.post(base+"/ask/girth", say("later", "girth"))
	s.post(base+"/send", nil)
	shows(t, s.see(s.get(base).location), "the studio measures at the consultation")
}

func TestSheWritesToTheStudioFromHerPage(t *testing.T) {
	s := newClientSite(t)
	s.studio()
	hat, c := s.sent()
	for what, text := range map[string]string{"nothing": " \n", "a book": strings.Repeat("word ", 1000)} {
		got := s.post(hat+"/letters", say("body", text))
		assert.Equal(t, http.StatusUnprocessableEntity, got.status, what)
		shows(t, got.body, strings.TrimSpace(text)+"</textarea>") // what she wrote stays
	}
	for range 2 { // pressed twice
		got := s.post(hat+"/letters", say("body", "May my <sister> come?"))
		require.Equal(t, hat+"#letters", got.location)
	}
	assert.Equal(t, 1, strings.Count(s.see(hat), "May my &lt;sister&gt; come?"), "it stands in her letters once")
	letters, err := s.store.Letters(t.Context(), c.ClientID)
	require.NoError(t, err)
	last := letters[len(letters)-1]
	assert.Equal(t, orders.Letter{ID: last.ID, ClientID: c.ClientID, CommissionID: c.ID, Kind: orders.LetterTalk, Body: "May my <sister> come?", Buttons: last.Buttons, State: orders.Received, At: last.At}, last)
	assert.Equal(t, http.StatusNotFound, s.post("/hat/nobody.x/letters", say("body", "hello")).status, "nobody else writes here")
}

func TestWhereAHatSitsIsSaidWithoutAClock(t *testing.T) {
	for clock, want := range map[float64]string{
		12: "towards the forehead", 0.5: "towards the forehead", 11.5: "towards the forehead",
		1.5: "half-way between forehead and ear", 10.5: "half-way between forehead and ear", 3: "towards the ear", 9: "towards the ear",
		4.5: "towards the place behind the ear", 7.5: "towards the place behind the ear", 6: "towards the back of the head",
	} {
		assert.Equal(t, want, lyingTowards(clock).String(), "clock %v", clock)
	}
}
