package main

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A hat is settled and signed off, an hour booked and a letter answered without a pointer, on a phone's
// width and a laptop's; on the way everything that has the focus shows it and lies in sight.
func TestTheWorkroomByKeyboardAlone(t *testing.T) {
	origin := startPortal(t, options{demo: true})
	b := openBrowser(t, origin)
	b.wide(390)
	b.visit("/enter")
	b.tabTo("Your name")
	b.keys(demoMaker)
	b.tabTo("Password")
	b.keys(demoPassword)
	b.enter()
	for width, client := range map[int64]string{390: "Odile Mackerel", 1280: "Bryony Saltcote"} {
		b.wide(width)
		b.visit("/workroom")
		b.tabTo(client)
		b.enter()
		commission := b.path()
		b.tabTo("Settle the hat")
		b.enter()
		b.tabTo("Brim width")
		b.keys("4.4 cm")
		b.enter()
		assert.Equal(t, "With your figures", b.text("#result-heading"), "Enter in a field works it out")
		assert.Contains(t, b.text("#o-hat\\.brim_width_mm"), "yours below", "and keeps the figure that was typed")
		b.tabTo("Sign off this hat")
		b.enter()
		require.Equal(t, commission+"/sheets/1", b.path(), "signed off")

		b.visit(commission)
		b.tabTo("Book an appointment")
		b.enter()
		b.tabTo("Week after")
		b.enter()
		b.tabTo("hour:")
		b.keys(" ")
		b.tabTo("Book this")
		b.enter()
		require.Equal(t, commission, b.path(), "booked")
		assert.Contains(t, b.text(".noted"), "Booked: ")

		b.tabTo("Letters")
		b.keys(kb.Enter)
		b.tabTo("Write to " + client)
		b.keys(fmt.Sprintf("Written without a pointer at %d.", width))
		b.tabTo("Put it into the letter book", "Send it by chat")
		b.enter()
		letters := eval[string](b, "[...document.querySelectorAll('ol.letters li')].map(l=>l.innerText+(l.querySelector('textarea')?.value??'')).join()")
		assert.Contains(t, letters, fmt.Sprintf("Written without a pointer at %d.", width), "the letter stands in the book")
	}
}

func (b *browser) keys(keys string) {
	b.t.Helper()
	b.do("press keys", chromedp.KeyEvent(keys))
}

// enter presses Enter, which has to lead to another page.
func (b *browser) enter() {
	b.t.Helper()
	b.leads("Enter on "+eval[focus](b, focusNow).Words, func() { b.keys(kb.Enter) })
}

// A focus is what has the keyboard's focus, as a person sees it.
type focus struct {
	Words          string
	Shown, InSight bool
}

// A date field shows on its parts, which no style can ask about, that they have the focus.
const focusNow = `(()=>{
const e=document.activeElement;
if(!e||e===document.body)return {Words:'',Shown:true,InSight:true};
const outlined=x=>x&&getComputedStyle(x).outlineStyle!=='none'&&parseFloat(getComputedStyle(x).outlineWidth)>0;
const r=e.getClientRects()[0]??e.getBoundingClientRect(), at=document.elementFromPoint(r.x+Math.min(r.width/2,innerWidth-r.x-1),r.y+Math.min(r.height/2,100));
const label=e.labels?.[0], words=e.matches('.pick input')?'hour:'+label.innerText:label?.innerText||e.getAttribute('aria-label')||e.innerText||'';
return {Words:words.replace(/\s+/g,' ').trim(),Shown:outlined(e)||outlined(e.nextElementSibling)||e.type==='date',InSight:!!at&&(e.contains(at)||at.contains(e)&&at!==document.body&&at.id!=='main'||!!label?.contains(at))};
})()`

// tabTo goes on with Tab until something that says one of the words has the focus.
func (b *browser) tabTo(words ...string) {
	b.t.Helper()
	var way []string
	for range 200 {
		b.keys(kb.Tab)
		f := eval[focus](b, focusNow)
		assert.True(b.t, f.Shown, "%s: one does not see that %q has the focus", b.path(), f.Words)
		assert.True(b.t, f.InSight, "%s: %q has the focus and is out of sight", b.path(), f.Words)
		for _, w := range words {
			if strings.HasPrefix(f.Words, w) || strings.Contains(f.Words, w) && strings.HasSuffix(f.Words, w) {
				return
			}
		}
		way = append(way, f.Words)
	}
	b.shot("keyboard-lost")
	b.t.Fatalf("%s: Tab never comes to %q but to\n%s", b.path(), words, strings.Join(way[:min(len(way), 80)], "\n"))
}
