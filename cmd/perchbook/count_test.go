package main

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What a client may have to go through, from the first page to the press that sends it.
const mostScreens, mostTaps = 12, 40

// A counted client does what a finger does and counts it: every page that she stands on, the same one
// again when she comes back to it, and every touch, also those that open a field for typing.
type counted struct {
	*browser
	screens []string
	taps    int
}

func (c *counted) press(css string) {
	c.t.Helper()
	at := strings.Split(c.path(), "/")
	c.screens = append(c.screens, at[len(at)-1])
	c.browser.press(css)
	c.taps++
}

func (c *counted) pick(key, value string) {
	c.t.Helper()
	c.choose(key, value)
	c.taps++
}

func (c *counted) fill(css, text string) {
	c.t.Helper()
	c.write(css, text)
	c.taps++
}

func (c *counted) tape(key string, readings ...string) {
	c.t.Helper()
	c.at(key)
	for i, r := range readings {
		c.fill(fmt.Sprintf(".reading:nth-child(%d) [name=%s]", i+1, key), r)
	}
	c.next()
}

func (c *counted) next() { c.t.Helper(); c.press("form button:not([name])") }

// upToTheTapes goes from the first page through what is asked before measuring.
func (c *counted) upToTheTapes() {
	c.t.Helper()
	c.visit("/")
	c.press("main a.button")
	c.press("button[value=yes]")
	c.pick("wearer", "me")
	c.fill("[name=name]", "Wren Testwell")
	c.fill("[name=reach]", "wren@saltmere.example")
	c.next()
	c.pick("occasion", "races")
	c.fill("[name=day]", "12 June 2027")
	c.next()
	c.pick("hair_day", "down")
	c.next()
}

// within holds that it was sent, in few enough screens and touches.
func (c *counted) within() {
	c.t.Helper()
	require.True(c.t, strings.HasPrefix(c.path(), "/hat/"), "sent, she stands on her own page and not at %s", c.path())
	c.t.Logf("%d screens, %d taps", len(c.screens), c.taps)
	assert.LessOrEqual(c.t, len(c.screens), mostScreens, "screens: %v", c.screens)
	assert.LessOrEqual(c.t, c.taps, mostTaps, "taps")
}

// Alone with a phone and a tape: an enquiry takes few screens and few touches, the shortest and one
// with the tape that checks the others and the outline of the face.
func TestAnEnquiryTakesFewScreensAndTaps(t *testing.T) {
	origin := startPortal(t, options{demo: true})
	b := openBrowser(t, origin)
	b.wide(390)
	t.Run("the shortest", func(t *testing.T) {
		b.t = t
		c := &counted{browser: b}
		c.upToTheTapes()
		c.tape("girth", "57", "57.3", "57.1")
		c.tape("nape", "23", "23.1", "22.9")
		c.press("button[name=skip]")
		c.pick("hair_measured", "yes")
		c.next()
		c.next()
		c.within()
	})
	t.Run("with ear to ear and a face", func(t *testing.T) {
		b.t = t
		c := &counted{browser: b}
		c.upToTheTapes()
		c.tape("girth", "57", "57.3", "57.1")
		c.tape("nape", "23", "23.1", "22.9")
		c.tape("ear_to_ear", "35", "35.2", "34.9")
		c.pick("hair_measured", "yes")
		c.next()
		c.press(".offer a[href*='/ask/face']")
		c.pick("face", "oval")
		c.next()
		c.next()
		c.within()
	})
}
