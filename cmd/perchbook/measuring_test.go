package main

import (
	"context"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/accessibility"
	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// like shows the page as some device does: on paper, without motion, in the colours of its owner.
func (b *browser) like(medium string, features ...*emulation.MediaFeature) {
	b.t.Helper()
	b.do("look at it otherwise", func(ctx context.Context, t *chromedp.Target) (chromedp.Void, error) {
		_, err := cdp.Call(ctx, t, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: medium, Features: features})
		return chromedp.Void{}, err
	})
}

const moving = `[...document.querySelectorAll('.measuring *')].filter(e => getComputedStyle(e).animationName !== 'none').length`

// The tape is laid on, the ruler comes level and the finger slides by the style sheet alone; on paper and for
// who wants no motion they lie where they belong. In forced colours each line has one of the owner's.
func TestDrawingsOfMeasuringMoveOnlyWhereTheyMay(t *testing.T) {
	b := openBrowser(t, startPortal(t, options{demo: true}))
	b.wide(390)
	c := &counted{browser: b}
	c.upToTheTapes()
	require.Positive(t, eval[int](b, moving), "the tape is laid on")
	b.shot("measuring-girth")
	b.like("", &emulation.MediaFeature{Name: "prefers-reduced-motion", Value: "reduce"})
	assert.Zero(t, eval[int](b, moving), "without motion nothing moves")
	b.like("print")
	assert.Zero(t, eval[int](b, moving), "on paper nothing moves")
	b.shot("measuring-girth-print")
	c.browser.like("", &emulation.MediaFeature{Name: "prefers-color-scheme", Value: "dark"}, &emulation.MediaFeature{Name: "prefers-reduced-motion", Value: "reduce"})
	b.good()
	b.shot("measuring-girth-dark")
	b.like("", &emulation.MediaFeature{Name: "forced-colors", Value: "active"}, &emulation.MediaFeature{Name: "prefers-color-scheme", Value: "dark"})
	tape := eval[string](b, `getComputedStyle(document.querySelector('.measuring .lay')).stroke`)
	assert.Equal(t, eval[string](b, `getComputedStyle(document.querySelector('.measuring')).color`), tape, "in forced colours the tape is drawn as the text is")
	b.shot("measuring-girth-forced")
}

// A reading is covered as soon as its field is left, by touch or by key, and shown again when it is entered;
// who hears the page is told each reading's name and what stands in it. None of it needs a script.
func TestEarlierReadingsAreCovered(t *testing.T) {
	b := openBrowser(t, startPortal(t, options{demo: true}))
	b.wide(390)
	c := &counted{browser: b}
	c.upToTheTapes()
	require.Zero(t, eval[int](b, `document.scripts.length`), "the page has no script")
	covered := func() string {
		return eval[string](b, `[...document.querySelectorAll('[name=girth]')].map(e => getComputedStyle(e).webkitTextSecurity).join(' ')`)
	}
	c.fill(".reading:nth-child(1) [name=girth]", "57")
	assert.Equal(t, "none none none", covered(), "what she is writing is seen, and nothing stands in the others")
	c.fill(".reading:nth-child(2) [name=girth]", "57.3")
	assert.Equal(t, "disc none none", covered(), "the first is covered once she touches the second")
	b.do("to the next field by key", chromedp.SendKeys(chromedp.CSS(".reading:nth-child(2) [name=girth]"), "\t"))
	assert.Equal(t, "disc disc none", covered(), "the second once she leaves it by key")
	b.click(".reading:nth-child(1) [name=girth]")
	assert.Equal(t, "none disc none", covered(), "touched again, it is seen again")
	assert.Equal(t, "57", eval[string](b, `document.activeElement.value`))

	var heard []string
	b.do("listen to the page", func(ctx context.Context, t *chromedp.Target) (chromedp.Void, error) {
		tree, err := cdp.Call(ctx, t, accessibility.GetFullAXTree, accessibility.GetFullAXTreeParams{})
		if err != nil {
			return chromedp.Void{}, err
		}
		for _, n := range tree.Nodes {
			if n.Role != nil && string(n.Role.Value) == `"textbox"` && n.Name != nil && strings.Contains(string(n.Name.Value), "reading") {
				said := string(n.Name.Value)
				if n.Value != nil {
					said += " " + string(n.Value.Value)
				}
				heard = append(heard, said)
			}
		}
		return chromedp.Void{}, nil
	})
	require.Len(t, heard, 3, "three fields are named: %v", heard)
	assert.True(t, strings.HasPrefix(heard[0], `"First reading"`) && strings.HasPrefix(heard[2], `"Third reading"`), "%v", heard)
	assert.Contains(t, heard[0], "57")
	t.Log(heard)
}
