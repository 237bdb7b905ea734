package main

import (
	"fmt"
	"io"
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A client measures herself on a phone; the milliner settles, signs, books; the client sees it all.
func TestWholePathThroughTheForm(t *testing.T) {
	origin := startPortal(t, options{demo: true})
	b := openBrowser(t, origin)
	b.wide(390)
	answerTheForm(b)
	hers := b.path()
	require.True(t, strings.HasPrefix(hers, "/hat/"), "sent, she stands on her own page and not at %s", hers)
	assert.Contains(t, b.text("main"), "garden party", "her page says what was asked")
	b.good()

	b.wide(1280)
	b.signIn()
	b.follow("Wren Testwell")
	commission := b.path()
	settleAndSign(b, commission)
	bookFitting(b, commission)

	b.wide(390)
	b.visit(hers)
	b.good()
	page := b.text("main")
	assert.Contains(t, page, "Fitting", "her page shows the fitting")
	assert.True(t, b.has("figure.drawing svg"), "her page shows the hat that was settled")
	calendar := fetch(t, b, "a[href$='.ics']")
	assert.Contains(t, calendar, "BEGIN:VEVENT\r\n", "the calendar file holds the fitting")
	b.press("form[action$='/confirm'] button")
	assert.Contains(t, strings.ToLower(b.text("article.hour")), "you have said yes", "she confirmed")
	b.shot("walk-her-page")
}

// answerTheForm goes from the first page to the sent enquiry, erring once on the way.
func answerTheForm(b *browser) {
	b.t.Helper()
	b.visit("/")
	b.press("main a.button")
	b.good()
	b.press("button[value=yes]")
	b.answer("you", func() {
		b.choose("wearer", "me")
		b.write("[name=name]", "Wren Testwell")
		b.write("[name=reach]", "wren@saltmere.example")
	})
	b.answer("occasion", func() {
		b.choose("occasion", "garden_party")
		b.write("[name=day]", "12 June 2027")
	})
	b.answer("hair_day", func() { b.choose("hair_day", "up") })
	b.at("girth")
	b.read("girth", "quite large", "57", "57")
	b.press("form button:not([name])")
	require.Contains(b.t, b.text("[role=alert]"), "“quite", "a length that is none is named beside the field")
	require.Equal(b.t, "57", eval[string](b, "document.querySelectorAll('[name=girth]')[1].value"), "what was typed survives")
	b.good()
	b.answer("girth", func() { b.read("girth", "57", "57.3 cm", `22 1/2"`) })
	b.answer("nape", func() { b.read("nape", "23", "23.1", "22.9") })
	b.at("ear_to_ear")
	b.good()
	b.press("button[name=skip]")
	b.answer("hair_measured", func() { b.choose("hair_measured", "yes") })
	require.True(b.t, strings.HasSuffix(b.path(), "/check"), "all is answered, at %s", b.path())
	b.good()
	b.press("form button:not([name])")
}

// at holds that she stands at one page of the form.
func (b *browser) at(page string) {
	b.t.Helper()
	require.True(b.t, strings.HasSuffix(b.path(), "/ask/"+page), "wanted the page %s and stand at %s", page, b.path())
}

func (b *browser) answer(page string, fill func()) {
	b.t.Helper()
	b.at(page)
	fill()
	b.good()
	b.press("form button:not([name])")
}

func (b *browser) choose(key, value string) {
	b.t.Helper()
	b.click(fmt.Sprintf("label:has([name=%s][value=%s])", key, value))
}

func (b *browser) read(key string, readings ...string) {
	b.t.Helper()
	for i, r := range readings {
		b.write(fmt.Sprintf(".reading:nth-child(%d) [name=%s]", i+1, key), r)
	}
}

// settleAndSign changes one figure of the proposal and signs the hat off.
func settleAndSign(b *browser, commission string) {
	b.t.Helper()
	b.good()
	b.visit(commission + "/settle")
	b.good()
	require.GreaterOrEqual(b.t, eval[int](b, "document.querySelectorAll('.result svg').length"), 2, "the proposal is drawn from front and side")
	before := b.text(".result")
	b.write("[name='hat.brim_width_mm']", "5 cm")
	b.press("#figures .at-top button")
	require.NotEqual(b.t, before, b.text(".result"), "her figure recomputes the rest")
	b.good()
	b.shot("walk-settle")
	b.press("button[value=sign]")
	b.good()
	require.Contains(b.t, b.path(), "/sheets/1", "signed off into the first fit sheet")
	b.shot("walk-sheet")
}

// bookFitting takes the first free hour of the next weeks.
func bookFitting(b *browser, commission string) {
	b.t.Helper()
	b.visit(commission)
	b.follow("Book an appointment")
	if b.has("a[href*='kind=fitting']") {
		b.press("a[href*='kind=fitting']")
	}
	b.good()
	for week := 0; !b.has("[name=start]") && week < 4; week++ {
		b.follow("Week after")
	}
	b.click(".pick [name=start]")
	b.press("form.booking .actions button")
	b.good()
	b.shot("walk-booked")
}

// follow presses the first link or button in which the words stand.
func (b *browser) follow(words string) {
	b.t.Helper()
	found := eval[bool](b, fmt.Sprintf(`(()=>{const e=[...document.querySelectorAll('main a, main button')].find(e=>e.textContent.includes(%q)); e?.setAttribute('data-walk', %q); return !!e})()`, words, words))
	require.True(b.t, found, "nothing to press says %q at %s:\n%s", words, b.path(), b.text("main"))
	b.press(fmt.Sprintf("[data-walk=%q]", words))
}

// fetch follows a link outside the browser, with no cookie: private links need none.
func fetch(t *testing.T, b *browser, css string) string {
	t.Helper()
	href := eval[string](b, fmt.Sprintf("document.querySelector(%q).href", css))
	res, err := http.Get(href)
	require.NoError(t, err)
	defer res.Body.Close()
	require.Equal(t, http.StatusOK, res.StatusCode, "%s", href)
	body, err := io.ReadAll(res.Body)
	require.NoError(t, err)
	return string(body)
}

// The same path with the client in the chat, in the rehearsal window of the workroom.
func TestWholePathThroughTheRehearsalChat(t *testing.T) {
	origin := startPortal(t, options{demo: true})
	b := openBrowser(t, origin)
	b.wide(390)
	b.signIn()
	b.visit("/workroom/rehearsal")
	b.good()
	b.press("form[action$='/again'] button")
	for _, said := range []string{"yes", "me", "Chat Testwell", "chat@saltmere.example", "garden party", "12 June 2027", "up",
		"57", "57.3 cm", `22 1/2"`, "23", "23.1", "22.9", "skip", "yes"} {
		b.say(said)
		b.good()
	}
	require.Contains(t, b.text("main"), "57.2", "the summary shows what will be sent")
	b.shot("walk-chat")
	b.follow("Send")
	b.good()
	b.wide(1280)
	b.visit("/workroom")
	b.follow("Chat Testwell")
	commission := b.path()
	settleAndSign(b, commission)
	bookFitting(b, commission)
	b.visit("/workroom/rehearsal")
	assert.Contains(t, b.text("main"), "fitting", "the chat was told of the booking")
	b.shot("walk-chat-told")
}

func (b *browser) say(words string) {
	b.t.Helper()
	b.write("textarea", words)
	b.follow("Say it")
}
