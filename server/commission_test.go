package server

import (
	"encoding/json"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/orders"
)

func TestAnEmptyWorkroomSaysHowToBegin(t *testing.T) {
	b := signedInBench(t)
	page := b.see("/workroom")
	shows(t, page, "It begins with a client")
	shows(t, page, testOrigin+"/")
}

func TestTheListOfOpenCommissions(t *testing.T) {
	b := signedInBench(t)
	b.enquiry(orders.DoorWeb, map[string]string{"name": "Odile Marrowby"})
	moved := b.enquiry(orders.DoorWeb, map[string]string{"name": "Isolde Tanner", "day": "2026-05-12"})
	b.signed(moved)
	gone := b.enquiry(orders.DoorWeb, map[string]string{"name": "Pim Fennick", "nape": orders.Later, "day": orders.NotFixed})
	_, err := b.store.Move(t.Context(), gone.ID, 1, orders.Withdrawn, benchMaker, "never answered")
	require.NoError(t, err)
	b.enquiry(orders.DoorWeb, map[string]string{"name": "Tamsin Reed", "girth": orders.Later, "day": orders.NotFixed})

	page := b.see("/workroom/commissions")
	shows(t, page, `All open <span class="count">3</span>`)
	shows(t, page, "14 days left")
	hides(t, page, "Pim Fennick") // withdrawn
	first, second, last := strings.Index(page, "Isolde Tanner"), strings.Index(page, "Odile Marrowby"), strings.Index(page, "Tamsin Reed")
	assert.True(t, 0 < first && first < second && second < last, "the earlier day first, and none fixed last")

	shows(t, b.see("/workroom/commissions?stage=withdrawn"), "Pim Fennick")
	measured := b.see("/workroom/commissions?stage=measured")
	shows(t, measured, "Odile Marrowby")
	hides(t, measured, "Isolde Tanner")
	shows(t, b.see("/workroom/commissions?stage=ready"), "No commission stands here now")
	for _, odd := range []string{"stage=%3Cnonsense%3E", "after=nothing", "before=%27"} {
		assert.Equal(t, inside(page), inside(b.see("/workroom/commissions?"+odd)), "%s: all of them, from the beginning", odd)
	}
}

func TestDaysLeftAreCountedInTheStudiosZone(t *testing.T) {
	b := newBench(t)
	b.now = time.Date(2026, 6, 10, 23, 30, 0, 0, time.UTC) // half past midnight of the 11th in London
	d, err := b.srv.desk(t.Context())
	require.NoError(t, err)
	for day, want := range map[string]string{
		"2026-06-11": "today", "2026-06-12": "tomorrow", "2026-06-21": "10 days left", "2026-06-10": "1 day ago", "2026-06-01": "10 days ago", orders.NotFixed: "",
	} {
		words, soon := d.left(orders.Commission{Day: day, Stage: orders.InHand})
		assert.Equal(t, want, words, "until %s", day)
		assert.Equal(t, day != orders.NotFixed, soon, "%s is soon", day)
	}
	_, soon := d.left(orders.Commission{Day: "2026-06-11", Stage: orders.HandedOver})
	assert.False(t, soon, "nothing is soon once it is handed over")
}

func TestOneCommissionShowsAllThatIsKnown(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, map[string]string{"girth": "641.0 640.0 643.0", "trimming": "flowers veil"})
	_, err := b.store.Answer(t.Context(), c.DraftID, "face", orders.Answer{Value: "heart", Said: "heart"})
	require.NoError(t, err)
	_, err = b.store.Answer(t.Context(), c.DraftID, "height", orders.Answer{Value: "2150.0", Said: "7 ft 1", Confirmed: true})
	require.NoError(t, err)
	photo := b.photograph(c)
	page := b.see(room(c))
	for _, words := range []string{
		c.Number, "Nella Quill", "mailto:nella@post.example", "A day at the races", "45 days left", // who and what for
		"64.1 cm (25 1/4 in), 64.0 cm (25 1/4 in), 64.3 cm (25 3/8 in)", "± 1.2 cm", "64.1 cm", // each reading, the doubt of three (2 sqrt(36 + 9/3) mm), their mean
		"Heart: wide above", "Flowers, A veil", "unlikely; asked, and kept", "typed: 7 ft 1", // answers in words
		"Enquiry → measured", "the client", // history
		"Settle the hat", room(c) + "/settle", "/workroom/diary?for=" + c.ID,
		testOrigin + orders.CommissionPath + b.store.CommissionLink(c),
		room(c) + "/photographs/" + photo,
	} {
		shows(t, page, words)
	}
	got := b.get(room(c) + "/photographs/" + photo)
	assert.Equal(t, http.StatusOK, got.status)
	assert.Equal(t, "image/jpeg", got.kind)
	assert.Equal(t, "private, no-store", got.headers.Get("Cache-Control"))
	shows(t, page, "has not said whether they are mirrored")
	for value, words := range map[string]string{"no": "own right is on the left of the picture", "yes": "Mirrored: the client’s own right is on the right"} {
		_, err = b.store.Answer(t.Context(), c.DraftID, "mirrored", orders.Answer{Value: value, Said: value})
		require.NoError(t, err)
		shows(t, b.see(room(c)), words)
	}

	other := b.enquiry(orders.DoorChat, map[string]string{"name": "Tamsin Reed", "reach": "01632 960123"})
	assert.Equal(t, http.StatusNotFound, b.get(room(other)+"/photographs/"+photo).status, "another client's photograph")
	for _, path := range []string{"/workroom/commissions/nobody", "/workroom/commissions/nobody/settle", "/workroom/commissions/nobody/sheets/1", "/workroom/diary/appointments/nobody", "/workroom/diary?for=nobody", "/workroom/diary?move=nobody"} {
		assert.Equal(t, http.StatusNotFound, b.get(path).status, path)
	}
}

func TestWhatClientsWriteIsNeverMarkup(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, map[string]string{"name": `<b>Nell</b> "Q" & {{.}}`, "occasion_words": "</textarea><script>alert(1)</script>"})
	b.accepted(room(c)+"/letters", say("body", "</textarea><script>alert(2)</script>"))
	for _, path := range []string{"/workroom", room(c), room(c) + "/settle", room(c) + "/measure", "/workroom/diary?for=" + c.ID} {
		hides(t, b.see(path), "<script>alert")
	}
}

func TestAChildIsMeasuredByHand(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, map[string]string{"wearer": "child", "girth": "", "nape": "", "hair_day": "", "hair_measured": ""})
	for _, path := range []string{room(c), room(c) + "/settle", room(c) + "/measure"} {
		shows(t, b.see(path), "adult heads only")
	}
	hides(t, b.see(room(c)+"/settle"), "Sign off this hat")
	b.refused(http.StatusUnprocessableEntity, room(c)+"/settle", b.versioned(c, wholeHat("do", "sign")))
}

func TestMissingTapesAreTakenByTheMaker(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, map[string]string{"girth": orders.Later, "nape": orders.Later})
	settle := b.see(room(c) + "/settle")
	shows(t, settle, "Round the head and Nape to crown")
	shows(t, settle, room(c)+"/measure")
	b.see(room(c) + "/measure")

	for name, form := range map[string][]string{
		"nothing at all":        {},
		"letters":               {"girth", "abc", "nape", "23"},
		"NaN":                   {"girth", "NaN", "nape", "23"},
		"far too long":          {"girth", "1e9", "nape", "23"},
		"inches as centimetres": {"girth", "22 cm", "nape", "23"},
		"impossible callipers":  {"girth", "57", "nape", "23", "head_length", "9 cm"},
		"a note without end":    {"girth", "57", "nape", "23", "note", strings.Repeat("x", 2001)},
	} {
		page := b.refused(http.StatusUnprocessableEntity, room(c)+"/measure", say(form...))
		for i := 1; i < len(form); i += 2 {
			assert.Contains(t, page, form[i], "%s: what was typed survives", name)
		}
	}
	cards, err := b.store.Cards(t.Context(), c.ID)
	require.NoError(t, err)
	require.Empty(t, cards, "nothing of that was kept")

	odd := say("girth", "57", "girth", "57.2", "girth", "61", "nape", "２３ cm")
	shows(t, b.refused(http.StatusUnprocessableEntity, room(c)+"/measure", odd), `name="sure-girth"`)
	odd.Set("sure-girth", "yes")
	page := b.accepted(room(c)+"/measure", odd)
	shows(t, page, "Taken by the workroom")
	shows(t, page, "57.0 cm (22 1/2 in), 57.2 cm (22 1/2 in), 61.0 cm (24 in)")
	assert.Equal(t, orders.Measured, b.commission(c.ID).Stage, "with both tapes it is measured")

	b.accepted(room(c)+"/measure", say("head_length", "19,5 cm", "head_breadth", "6 in", "note", "snug"))
	cards, err = b.store.Cards(t.Context(), c.ID)
	require.NoError(t, err)
	require.Len(t, cards, 2, "a card is added, never changed")
	assert.Equal(t, orders.ByMaker, cards[1].TakenBy)
	assert.InDelta(t, 195, cards[1].HeadLength, 1e-9)
	assert.InDelta(t, 152.4, cards[1].HeadBreadth, 1e-9)
	shows(t, b.see(room(c)), "Head breadth, callipers")
}

func TestMovesAreAllowedReasonedAndVersioned(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	old := strconv.Itoa(c.Version)
	move := func(version, to, why string) map[string][]string {
		return say("version", version, "stage", to, "why", why)
	}

	for _, to := range []string{"ready", "nonsense", "", "proposed"} { // no such move, no such stage, no fit sheet yet
		b.refused(http.StatusUnprocessableEntity, room(c)+"/move", move(old, to, "because"))
	}
	shows(t, b.refused(http.StatusUnprocessableEntity, room(c)+"/move", move(old, "withdrawn", "")), "Write a word on why")
	assert.Equal(t, c, b.commission(c.ID), "nothing moved")

	page := b.accepted(room(c)+"/move", move(old, "withdrawn", "The day is off."))
	shows(t, page, "Measured → withdrawn")
	shows(t, page, "The day is off.")
	shows(t, page, benchMaker)

	for _, version := range []string{old, "", "first"} {
		late := b.refused(http.StatusConflict, room(c)+"/move", move(version, "lapsed", "No answer."))
		shows(t, late, "No answer.")
		shows(t, late, movedMeanwhile)
	}
	assert.Equal(t, orders.Withdrawn, b.commission(c.ID).Stage, "the older page changed nothing")
}

func TestAPrivateLinkIsEndedAndRenewed(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	old := orders.CommissionPath + b.store.CommissionLink(c)
	b.see(old)
	page := b.accepted(room(c)+"/link", nil)
	assert.Equal(t, http.StatusNotFound, b.get(old).status, "the old link opens nothing")
	renewed := orders.CommissionPath + b.store.CommissionLink(b.commission(c.ID))
	require.NotEqual(t, old, renewed)
	shows(t, page, testOrigin+renewed)
	hides(t, page, testOrigin+old)
	b.see(renewed)
}

// state is everything that a page could have changed.
func (b *benchSite) state() string {
	b.t.Helper()
	var all []any
	list, err := b.store.Commissions(b.t.Context())
	require.NoError(b.t, err)
	for _, c := range list {
		f, err := b.srv.file(b.t.Context(), c.ID)
		require.NoError(b.t, err)
		all = append(all, f.Commission, f.Draft, f.Cards, f.Fitted.Working, f.Sheets, f.Booked, f.Letters, f.History)
	}
	st, err := b.store.Studio(b.t.Context())
	require.NoError(b.t, err)
	text, err := json.Marshal(append(all, st))
	require.NoError(b.t, err)
	return string(text)
}

func TestLookingChangesNothing(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	b.signed(c)
	a, err := b.store.Book(t.Context(), c.ID, orders.Fitting, orders.InPerson, tuesday.Add(48*time.Hour).Truncate(time.Hour))
	require.NoError(t, err)
	before := b.state()
	for _, path := range []string{
		"/workroom", "/workroom/weeks", "/workroom/weeks?page=1", "/workroom/studio/pace", "/workroom/commissions", "/workroom/commissions?stage=proposed", room(c), room(c) + "/settle", room(c) + "/settle?reset=all&do=sign", room(c) + "/measure?girth=57",
		room(c) + "/sheets/1", "/workroom/diary", "/workroom/diary?for=" + c.ID + "&start=2026-04-30T09:00:00Z", "/workroom/diary?move=" + a.ID,
		"/workroom/diary/appointments/" + a.ID, "/workroom/studio?name=Other", "/workroom/rehearsal",
	} {
		b.see(path)
	}
	assert.Equal(t, before, b.state(), "after opening every page")
}

func TestACommissionTakenUpAgainGoesBackToWhereItStood(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	c = b.commission(c.ID)
	for _, step := range []struct {
		to  orders.Stage
		why string
	}{{orders.Measured, ""}, {orders.Withdrawn, "The day was called off."}} {
		if c.Stage == step.to {
			continue
		}
		b.accepted(room(c)+"/move", say("version", strconv.Itoa(c.Version), "stage", string(step.to), "why", step.why))
		c = b.commission(c.ID)
	}
	page := b.see(room(c))
	shows(t, page, `<option value="measured" selected>`)
	shows(t, page, "Take it up again")
}

func TestReadingsFarApartAreSaidToBe(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	page := b.accepted(room(c)+"/measure", url.Values{"nape": {"23 cm", "23.9 cm"}})
	hides(t, page, "cm apart")
	page = b.accepted(room(c)+"/measure", url.Values{"nape": {"23 cm", "24.6 cm"}})
	shows(t, page, "The measure card is kept. Nape to crown: 23.8 cm (9 3/8 in). The readings lie 1.6 cm apart: take one more.")
	shows(t, b.see(room(c)), "The readings lie 1.6 cm apart: take one more.")
}

func TestNothingInTheWorkroomLeadsBackThere(t *testing.T) {
	b := signedInBench(t)
	lost := b.get("/workroom/commissions/nothing")
	require.Equal(t, http.StatusNotFound, lost.status)
	shows(t, lost.body, `<a href="/workroom">To the workroom</a>`)
	hides(t, lost.body, "ask the studio")
	shows(t, b.get("/hat/nothing").body, "ask the studio")
}
