package main

import (
	"net/url"
	"strings"
	"sync"
	"testing"

	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/orders"
)

// mostWeight is what a client's page may weigh over the wire on first load with all that it loads, headers
// too, but for photographs she sent herself.
const mostWeight = 60_000

// A wire counts what crosses it while pages load.
type wire struct {
	mu    sync.Mutex
	to    map[network.RequestID]string // address of each request under way
	bytes map[string]float64           // by address
}

func listenTo(b *browser) *wire {
	b.t.Helper()
	w := &wire{}
	w.forget()
	require.NoError(b.t, chromedp.Listen(b.ctx, w.hear))
	for _, call := range []func() error{
		func() error { _, err := chromedp.Call(b.ctx, network.Enable, network.EnableParams{}); return err },
		func() error {
			_, err := chromedp.Call(b.ctx, network.SetCacheDisabled, network.SetCacheDisabledParams{CacheDisabled: true})
			return err
		},
	} {
		require.NoError(b.t, call())
	}
	return w
}

func (w *wire) forget() {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.to, w.bytes = map[network.RequestID]string{}, map[string]float64{}
}

func (w *wire) hear(ev any) {
	w.mu.Lock()
	defer w.mu.Unlock()
	switch e := ev.(type) {
	case *network.EventRequestWillBeSent:
		w.to[e.RequestID] = e.Request.URL
	case *network.EventLoadingFinished:
		w.bytes[w.to[e.RequestID]] += e.EncodedDataLength
	}
}

// weight is what has crossed, photographs of hers apart; and the addresses that are not the portal's own.
func (w *wire) weight(origin string) (total float64, elsewhere []string) {
	w.mu.Lock()
	defer w.mu.Unlock()
	for _, to := range w.to {
		if u, err := url.Parse(to); err != nil || u.Scheme != "data" && u.Scheme != "blob" && u.Scheme+"://"+u.Host != origin {
			elsewhere = append(elsewhere, to)
		}
	}
	for to, n := range w.bytes {
		if !strings.Contains(to, "/photographs/") || strings.HasSuffix(strings.Split(to, "?")[0], "/ask/photographs") {
			total += n
		}
	}
	return total, elsewhere
}

// clientsPages are the addresses of every page of a client's that can be reached from one of hers.
func clientsPages(b *browser, from ...string) []string {
	b.t.Helper()
	seen, shapes := []string{}, map[string]bool{}
	for len(from) > 0 {
		path := from[0]
		from = from[1:]
		shape := changing.ReplaceAllString(path, "/$1/x")
		if shapes[shape] || noPage.MatchString(path) || strings.HasPrefix(path, "/workroom") || strings.HasPrefix(path, "/enter") {
			continue
		}
		shapes[shape] = true
		seen = append(seen, path)
		b.visit(path)
		from = append(from, linksOf(b)...)
	}
	return seen
}

// everyHat is the own page of each client of a portal.
func everyHat(t *testing.T, data string) (pages []string) {
	t.Helper()
	store, err := orders.Open(t.Context(), data, orders.Settings{Existing: true})
	require.NoError(t, err)
	defer store.Close()
	all, err := store.Commissions(t.Context())
	require.NoError(t, err)
	for _, c := range all {
		pages = append(pages, orders.CommissionPath+store.CommissionLink(c))
	}
	return pages
}

func TestEveryClientPageIsLightAndAtHome(t *testing.T) {
	data := t.TempDir()
	origin := startPortal(t, options{demo: true, data: data})
	b := openBrowser(t, origin)
	b.wide(390)
	hats := everyHat(t, data)
	b.visit("/begin")
	b.press("button[value=yes]")
	draft, _, _ := strings.Cut(b.path(), "/ask/")
	pages := clientsPages(b, append([]string{"/", "/begin", "/erased", draft, draft + "/ask/wearer"}, hats...)...)
	pages = append(pages, hats...) // each stands at another stage
	require.Greater(t, len(pages), 40, "pages of a client: %v", pages)

	w := listenTo(b)
	heaviest, of := 0.0, ""
	for _, path := range pages {
		w.forget()
		b.visit(path)
		eval[bool](b, "new Promise(done => setTimeout(() => done(true), 30))") // the last events are on their way
		total, elsewhere := w.weight(origin)
		assert.Empty(t, elsewhere, "%s asks another host", path)
		assert.Positive(t, total, "%s was not weighed", path)
		assert.LessOrEqual(t, total, float64(mostWeight), "%s weighs too much: %v", path, w.bytes)
		if total > heaviest {
			heaviest, of = total, changing.ReplaceAllString(path, "/$1/x")
		}
	}
	t.Logf("%d pages, the heaviest is %s with %.0f bytes", len(pages), of, heaviest)
}
