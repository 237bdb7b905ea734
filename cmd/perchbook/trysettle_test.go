package main

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Drawing a slider moves drawings and sizes along, as the button would, and keeps nothing.
func TestTheHatFollowsASlider(t *testing.T) {
	b := openBrowser(t, startPortal(t, options{demo: true}))
	b.wide(1280)
	b.signIn()
	b.follow("Odile Mackerel")
	b.visit(b.path() + "/settle")
	b.good()
	b.shot("try-before")
	before := b.text(".result")
	const slider = "[id='o-hat.brim_width_mm'] .draw"
	require.Equal(t, 5, eval[int](b, "document.querySelectorAll('.draw').length"), "a slider for each figure of the hat")
	took := eval[float64](b, `new Promise(done => {
		const s = document.querySelector("`+slider+`"), began = performance.now();
		new MutationObserver(() => done(performance.now() - began)).observe(document.querySelector("#result"), {childList: true});
		s.value = 5; s.dispatchEvent(new Event("input", {bubbles: true}));
	})`)
	t.Logf("the page followed after %.0f ms", took)
	assert.Equal(t, "5 cm", eval[string](b, "document.querySelector(\"[name='hat.brim_width_mm']\").value"), "the field says what was drawn")
	tried := b.text(".result")
	assert.NotEqual(t, before, tried)
	assert.Contains(t, tried, "not kept yet")
	assert.NotEmpty(t, eval[string](b, "document.querySelector('#gone').textContent"), "and it is said to who listens")
	b.good()
	b.shot("try-after")

	b.press("#figures .at-top button")
	kept := b.text(".result dl")
	b.visit(b.path())
	assert.Equal(t, kept, b.text(".result dl"), "what the button keeps is what was tried")

	b.write("[name='hat.base_mm']", "no length")
	require.Eventually(t, func() bool { return b.has("[id='f-hat.base_mm-problem']") }, patience, 20*time.Millisecond, "what can't be read is said beside its field")
	b.wide(390)
	b.good()
	b.shot("try-narrow")
}

// A reel taken from the list is worked with at once.
func TestTheHatFollowsAReel(t *testing.T) {
	b := openBrowser(t, startPortal(t, options{demo: true}))
	b.wide(1280)
	b.signIn()
	b.follow("Odile Mackerel")
	b.visit(b.path() + "/settle")
	require.Contains(t, b.text("#sizes"), "Fine round, black", "the first reel, as proposed")
	eval[bool](b, `(document.querySelector("details.more").open = true)`)
	eval[bool](b, `(() => {
		const list = document.querySelector("[name='elastic.reel']");
		list.value = "2";
		return list.dispatchEvent(new Event("input", {bubbles: true}));
	})()`)
	require.Eventually(t, func() bool { return strings.Contains(b.text("#sizes"), "Flat, brown") }, patience, 20*time.Millisecond, "the other reel")
	for _, width := range []int64{320, 1280} {
		b.wide(width)
		b.good()
		b.shot(fmt.Sprintf("reel-%d", width))
	}
	b.visit("/workroom/studio")
	b.shot("studio-reels")
}
