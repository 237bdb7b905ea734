package main

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What is typed into a quotation is kept without a button, also when the page is left at once.
func TestAQuotationIsKeptAsItIsTyped(t *testing.T) {
	b := openBrowser(t, startPortal(t, options{demo: true}))
	b.wide(1280)
	b.signIn()
	b.follow("Clover Fennimere")
	at := b.path() + "/quotation"
	b.visit(at)
	require.Contains(t, b.text("#kept"), "Nothing is kept yet")
	b.write("[name=adjust]", "7.11")
	require.Eventually(t, func() bool { return strings.Contains(b.text("#kept"), "Kept as it stands here") }, patience, 20*time.Millisecond, "it is kept as it is typed")
	assert.Contains(t, b.text("#worked"), "7.11", "the sums follow")
	b.write("[name=hours]", "8")
	b.visit("/workroom") // at once, before the pause in which it is kept
	b.visit(at)
	value := func(name string) string {
		return eval[string](b, `document.querySelector("[name=`+name+`]").value`)
	}
	require.Eventually(t, func() bool { b.visit(at); return value("hours") == "8" }, patience, 100*time.Millisecond, "left at once, and kept")
	assert.Equal(t, "7.11", value("adjust"))

	eval[string](b, `fetch(location.pathname, {method: "POST", body: new URLSearchParams({do: "keep", version: document.querySelector("[name=version]").value, newest: "1", says: "From elsewhere"})}).then(r => r.text())`)
	b.write("[name=says]", "Typed here")
	require.Eventually(t, func() bool { return strings.Contains(b.text("#kept"), "changed on another page meanwhile") }, patience, 20*time.Millisecond)
	b.press("[name=do][value=work]")
	assert.Contains(t, b.text("section[aria-labelledby=theirs]"), "From elsewhere")
	assert.Equal(t, "Typed here", strings.TrimSpace(value("says")))
	for _, width := range []int64{390, 1280} {
		b.wide(width)
		b.good()
		b.shot("quotation-conflict-" + string(rune('0'+width/320)))
	}
	b.press("[name=do][value=work]")
	assert.Empty(t, b.text("section[aria-labelledby=theirs]"))
	b.visit(at)
	assert.Equal(t, "Typed here", strings.TrimSpace(value("says")), "pressed again, hers is kept")
}
