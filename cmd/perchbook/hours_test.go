package main

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// A client of the demonstration books an hour herself on a phone, and the pages owe their reader the
// same while an hour is held, while she waits and once the feed is open.
func TestSheBooksAnHourInTheBrowser(t *testing.T) {
	origin := startPortal(t, options{demo: true})
	b := openBrowser(t, origin)
	b.wide(390)
	b.signIn()
	b.visit("/workroom")
	hat := ""
	for _, href := range eval[[]string](b, `[...document.querySelectorAll('a[href*="/commissions/"]')].map(a=>a.getAttribute('href'))`) {
		b.visit(href)
		b.visit(eval[string](b, `[...document.querySelectorAll('a[href*="/hat/"], input[readonly]')].map(e=>e.href||e.value).find(v=>v.includes('/hat/')) ?? location.href`))
		if !b.has("a[href$='/hours']") {
			continue
		}
		hat = b.path()
		b.visit(hat + "/hours")
		if b.has("form[action$='/hours/wait']") { // else she waits already
			break
		}
	}
	require.NotEmpty(t, hat, "a commission with a page that books")
	b.visit(hat + "/hours")
	b.write("#f-zone", "Asia/Tokyo")
	b.press("form[action$='/hours/zone'] button")
	require.True(t, b.has(".pick small"), "the studio's clock stands below hers")
	b.press("form[action$='/hours/wait'] button")
	b.click(".pick input")
	b.press("form[action$='/hours/hold'] button")
	require.Contains(t, b.text("#held"), "in your time")
	for _, width := range []int64{320, 390, 1280} {
		b.wide(width)
		b.good()
		b.shot("hours-held-" + string(rune('0'+width/320)))
	}
	b.press("form[action$='/hours/take'] button")
	require.Contains(t, b.text(".hour"), "You have said yes")
	b.good()
	b.visit("/workroom/diary/feed")
	b.press("form[action$='/open'] button")
	b.good()
	b.shot("feed-open")
}
