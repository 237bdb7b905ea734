package main

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// without skips a test for want of a tool, and fails it where all tools must be there.
func without(t *testing.T, what string) {
	t.Helper()
	if os.Getenv("PERCHBOOK_NEED_ALL") != "" {
		t.Fatalf("%s is missing and PERCHBOOK_NEED_ALL is set", what)
	}
	t.Skipf("skipped: %s is missing; .ci/run installs it", what)
}

// axeFile is the accessibility checker that .ci/run installs from npm.
const axeFile = "../../testdata/npm/node_modules/axe-core/axe.min.js"

// A browser is one real Chromium with one page open.
type browser struct {
	t      *testing.T
	ctx    context.Context
	origin string
	axe    string
}

const patience = 20 * time.Second

func openBrowser(t *testing.T, origin string) *browser {
	t.Helper()
	path, err := exec.LookPath("chromium")
	if err != nil {
		without(t, "the browser Chromium")
	}
	axe, err := os.ReadFile(axeFile)
	if err != nil {
		without(t, "the accessibility checker axe-core")
	}
	alloc, stop := chromedp.NewExecAllocator(t.Context(), chromedp.Headless, chromedp.NoSandbox, chromedp.DisableGPU, chromedp.NoFirstRun,
		chromedp.ExecPath(path), chromedp.Flag("disable-quic", true), chromedp.Flag("disable-background-networking", true),
		chromedp.Flag("disable-component-update", true), chromedp.Flag("disable-sync", true), chromedp.UserDataDir(t.TempDir()))
	ctx, cancel := chromedp.NewContext(alloc)
	t.Cleanup(func() {
		_ = chromedp.Cancel(ctx)
		cancel()
		stop()
	})
	// The context of the first call is the browser's life, so that call has no time limit of its own.
	require.NoError(t, chromedp.Do(ctx), "start Chromium")
	return &browser{t: t, ctx: ctx, origin: origin, axe: string(axe)}
}

// do carries steps out, and fails the test with what was wanted when one does not succeed in time.
func (b *browser) do(what string, steps ...chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	ctx, stop := context.WithTimeout(b.ctx, patience)
	defer stop()
	if err := chromedp.Do(ctx, steps...); err != nil {
		at, _ := chromedp.Run(b.ctx, chromedp.Location())
		text, _ := chromedp.Run(b.ctx, chromedp.Text(chromedp.CSS("body")))
		b.shot("failed")
		b.t.Fatalf("%s: %v\nat %s\n%s", what, err, at, text)
	}
}

func (b *browser) wide(width int64) {
	b.t.Helper()
	b.do(fmt.Sprintf("%d px wide", width), chromedp.EmulateViewport(width, 900))
}

func (b *browser) visit(path string) {
	b.t.Helper()
	if !strings.HasPrefix(path, "http") {
		path = b.origin + path
	}
	b.do("open "+path, chromedp.Navigate(path))
}

// write fills a control in as a person would, over whatever stood there.
func (b *browser) write(css, text string) {
	b.t.Helper()
	require.True(b.t, b.has(css), "there is no %s at %s", css, b.path())
	eval[bool](b, fmt.Sprintf("(document.querySelector(%q).value='', true)", css))
	b.do("write into "+css, chromedp.SendKeys(chromedp.CSS(css), text))
}

// press clicks something that leads to another page and waits for it.
func (b *browser) press(css string) {
	b.t.Helper()
	b.leads("pressing "+css, func() { b.do("press "+css, chromedp.Click(chromedp.CSS(css))) })
}

// leads does something that leads to another page and waits for it.
func (b *browser) leads(what string, f func()) {
	b.t.Helper()
	before := eval[float64](b, "performance.timeOrigin")
	f()
	for end := time.Now().Add(patience); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		ctx, stop := context.WithTimeout(b.ctx, time.Second)
		now, err := chromedp.Run(ctx, chromedp.Evaluate[string](fmt.Sprintf("performance.timeOrigin > %f ? document.readyState : 'old'", before)))
		stop()
		if err == nil && now == "complete" {
			return
		}
	}
	b.t.Fatalf("%s led nowhere", what)
}

func (b *browser) click(css string) {
	b.t.Helper()
	b.do("click "+css, chromedp.Click(chromedp.CSS(css)))
}

func (b *browser) text(css string) string {
	b.t.Helper()
	return eval[string](b, fmt.Sprintf("document.querySelector(%q)?.innerText ?? ''", css))
}

func (b *browser) has(css string) bool {
	b.t.Helper()
	return eval[bool](b, fmt.Sprintf("!!document.querySelector(%q)", css))
}

func (b *browser) path() string {
	b.t.Helper()
	return eval[string](b, "location.pathname")
}

func eval[T any](b *browser, js string) T {
	b.t.Helper()
	ctx, stop := context.WithTimeout(b.ctx, patience)
	defer stop()
	v, err := chromedp.Run(ctx, chromedp.Evaluate[T](js, chromedp.EvalAwaitPromise))
	require.NoError(b.t, err, "evaluate %.80s at %s", js, "the open page")
	return v
}

// good holds the open page to what every page owes its reader: no finding of the accessibility
// checker, nothing wider than the screen, nothing fetched from elsewhere.
func (b *browser) good() {
	b.t.Helper()
	at := b.path()
	b.do("load the accessibility checker", func(ctx context.Context, t *chromedp.Target) (chromedp.Void, error) {
		return chromedp.Evaluate[chromedp.Void](b.axe+";0")(ctx, t)
	})
	found := eval[string](b, `axe.run(document,{resultTypes:['violations']}).then(r=>JSON.stringify(r.violations.map(v=>v.id+': '+v.nodes.map(n=>n.html.slice(0,160)+' '+n.failureSummary).join(' | '))))`)
	var violations []string
	require.NoError(b.t, json.Unmarshal([]byte(found), &violations))
	for _, v := range violations {
		b.t.Errorf("%s: accessibility: %s", at, v)
	}
	if wider := eval[string](b, `(()=>{const w=document.documentElement.clientWidth; if (document.documentElement.scrollWidth<=w) return ''; return [...document.querySelectorAll('body *')].filter(e=>e.getBoundingClientRect().right>w+1).slice(0,3).map(e=>e.outerHTML.slice(0,120)).join(' | ')||'page'})()`); wider != "" {
		b.t.Errorf("%s: wider than the screen: %s", at, wider)
		b.shot("wide" + strings.ReplaceAll(at, "/", "-"))
	}
	if elsewhere := eval[string](b, `performance.getEntriesByType('resource').map(e=>e.name).filter(n=>!n.startsWith(location.origin)&&!n.startsWith('data:')&&!n.startsWith('blob:')).join(' ')`); elsewhere != "" {
		b.t.Errorf("%s: fetched from elsewhere: %s", at, elsewhere)
	}
}

// shot keeps a picture of the page where PERCHBOOK_SHOTS says, for people to look at.
func (b *browser) shot(name string) {
	dir := os.Getenv("PERCHBOOK_SHOTS")
	if dir == "" {
		return
	}
	png, err := chromedp.Run(b.ctx, chromedp.FullScreenshot(100))
	if err == nil {
		err = os.WriteFile(filepath.Join(dir, strings.Trim(name, "-")+".png"), png, 0o600)
	}
	if err != nil {
		b.t.Logf("no picture of %s: %v", name, err)
	}
}
