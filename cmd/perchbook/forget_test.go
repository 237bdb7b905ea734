package main

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// A client looks at every page on the way to erasing what she has not sent in.
func TestSheErasesHerDraftInTheBrowser(t *testing.T) {
	b := openBrowser(t, startPortal(t, options{demo: true}))
	b.wide(320)
	b.visit("/begin")
	b.press("button[value=yes]")
	base, _, _ := strings.Cut(b.path(), "/ask/")
	for _, path := range []string{base + "/check", base} {
		b.visit(path)
		b.good()
		b.shot("forget" + strings.ReplaceAll(strings.TrimPrefix(path, base), "/", "-"))
	}
	b.follow("Erase my answers")
	b.good()
	b.shot("forget-asked")
	b.press("main form button")
	b.good()
	b.shot("forget-done")
	assert.Contains(t, b.text("main"), "Your answers are erased")
	b.visit(base)
	assert.NotContains(t, b.text("main"), "Welcome back")
}
