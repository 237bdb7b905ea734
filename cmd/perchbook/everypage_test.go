package main

import (
	"context"
	"io"
	"log/slog"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// startPortal runs the whole program on a free port and returns its origin.
func startPortal(t *testing.T, o options) string {
	t.Helper()
	o.listen = "localhost:0"
	if o.data == "" {
		o.data = t.TempDir()
	}
	ctx, stop := context.WithCancel(context.WithoutCancel(t.Context()))
	ready, done := make(chan string, 1), make(chan error, 1)
	p := portal{options: o, log: slog.New(slog.NewTextHandler(testLog{t}, nil)), out: io.Discard, ready: func(at string) { ready <- at }}
	go func() { done <- p.run(ctx) }()
	t.Cleanup(func() {
		stop()
		require.NoError(t, <-done, "the portal should stop cleanly")
	})
	select {
	case at := <-ready:
		return at
	case err := <-done:
		done <- err
		t.Fatalf("the portal did not start: %v", err)
	case <-time.After(time.Minute):
		t.Fatal("the portal did not start within a minute")
	}
	return ""
}

// testLog fails the test on an error line: no page of a walk may cause one.
type testLog struct{ t *testing.T }

func (l testLog) Write(line []byte) (int, error) {
	if strings.Contains(string(line), "level=ERROR") {
		l.t.Errorf("the portal logged %s", line)
	}
	return len(line), nil
}

// signIn enters the workroom of the demonstration.
func (b *browser) signIn() {
	b.t.Helper()
	b.visit("/enter")
	b.write("[name=name]", demoMaker)
	b.write("[name=password]", demoPassword)
	b.press("main button")
	require.Equal(b.t, "/workroom", b.path(), "signed in")
}

// One page of each shape of address is looked at, ids and weeks left out; and the own page and the
// settling of every commission, since they stand in different stages.
var (
	changing = regexp.MustCompile(`/(enquiry|hat)/[^/]+|/[a-z2-7]{26}|[?].*|\d+`)
	staged   = regexp.MustCompile(`^/workroom/commissions/[^/]+(/settle)?$`)
	noPage   = regexp.MustCompile(`[.](ics|pdf)$|/copy$|/photographs/[a-z2-7]{26}$|^/assets/`)
)

// TestEveryPageOwesItsReader follows every link from the first page and from the workroom.
func TestEveryPageOwesItsReader(t *testing.T) {
	origin := startPortal(t, options{demo: true})
	b := openBrowser(t, origin)
	b.wide(390)
	b.signIn()
	todo := []string{"/", "/enter", "/begin", "/workroom", "/no-such-page"}
	seen, shapes := map[string]bool{}, map[string]bool{}
	for len(todo) > 0 {
		path := todo[0]
		todo = todo[1:]
		shape := changing.ReplaceAllString(path, "/$1/x")
		if seen[path] || noPage.MatchString(path) || shapes[shape] && !staged.MatchString(path) {
			continue
		}
		seen[path], shapes[shape] = true, true
		b.visit(path)
		for _, width := range []int64{320, 390, 1280} {
			b.wide(width)
			b.good()
			b.shot(strings.NewReplacer("/", "-", "?", "-").Replace(shape) + "-" + string(rune('0'+width/320)))
		}
		todo = append(todo, linksOf(b)...)
	}
	require.Greater(t, len(seen), 20, "pages reached: %v", seen)
	t.Logf("%d pages looked at", len(seen))
}

// linksOf are the addresses within the portal that the open page leads to.
func linksOf(b *browser) []string {
	b.t.Helper()
	return eval[[]string](b, `[...document.querySelectorAll('a[href]')].map(a=>a.href).concat([...document.querySelectorAll('input[readonly]')].map(i=>i.value)).filter(h=>URL.canParse(h)).map(h=>new URL(h)).filter(u=>u.origin===location.origin&&!u.hash).map(u=>u.pathname+u.search)`)
}
