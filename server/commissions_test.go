package server

import (
	"context"
	"fmt"
	"html"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/orders"
)

// many puts n enquiries in at once.
func many(t testing.TB, store *orders.Store, n int) {
	t.Helper()
	for begun := 0; begun < n; begun += 500 {
		require.NoError(t, store.Together(t.Context(), func(s *orders.Store) error {
			for i := begun; i < min(begun+500, n); i++ {
				if err := ask(t.Context(), s, i); err != nil {
					return err
				}
			}
			return nil
		}))
	}
}

func ask(ctx context.Context, s *orders.Store, i int) error {
	d, err := s.Begin(ctx, orders.DoorWeb, orders.Answer{Value: "yes"})
	if err != nil {
		return err
	}
	for key, value := range map[string]string{"wearer": "me", "name": fmt.Sprintf("Client %d", i), "reach": "c@post.example", "occasion": "races",
		"day": fmt.Sprintf("2026-%02d-%02d", 6+i%6, 1+i%28), "hair_day": "down", "girth": orders.Later, "nape": orders.Later, "hair_measured": "yes"} {
		if _, err := s.Answer(ctx, d.ID, key, orders.Answer{Value: value, Said: value}); err != nil {
			return err
		}
	}
	_, err = s.Send(ctx, d.ID)
	return err
}

// However many commissions there are, the list takes as many statements and shows as much.
func TestTheListStaysAsSmallAsItIs(t *testing.T) {
	b := signedInBench(t)
	look := func(path string) (int64, int) {
		before := b.ran.Load()
		page := b.see(path)
		return b.ran.Load() - before, len(page)
	}
	many(t, b.store, 60)
	statements, size := look("/workroom/commissions")
	assert.Less(t, statements, int64(12), "the list asks little")
	many(t, b.store, 240)
	again, length := look("/workroom/commissions")
	assert.Equal(t, statements, again, "statements of the list")
	assert.InEpsilon(t, size, length, 0.05, "size of the list")
}

func TestTheListIsTurnedPageByPage(t *testing.T) {
	b := signedInBench(t)
	many(t, b.store, 120)
	first := b.see("/workroom/commissions")
	hides(t, first, "Those before")
	second := b.see(leads(t, first, "next"))
	last := b.see(leads(t, second, "next"))
	hides(t, last, "Those after")
	assert.Equal(t, inside(first), inside(b.see(leads(t, second, "prev"))), "the way back")
	stage := b.see("/workroom/commissions?stage=enquiry")
	assert.Contains(t, leads(t, stage, "next"), "stage=enquiry", "the next page is of the same stage")
}

// leads is the address of the link with that rel.
func leads(t *testing.T, page, rel string) string {
	t.Helper()
	before, _, found := strings.Cut(page, `" rel="`+rel+`"`)
	require.True(t, found, "a link leads on: %s", rel)
	return html.UnescapeString(before[strings.LastIndex(before, `"`)+1:])
}

// BenchmarkTheListPage is the whole page, asked for over HTTP by somebody signed in.
func BenchmarkTheListPage(b *testing.B) {
	for _, n := range []int{100, 10_000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			site := signedInBench(b)
			many(b, site.store, n)
			for b.Loop() {
				w := site.answerTo(httptest.NewRequest(http.MethodGet, "/workroom/commissions", nil))
				if w.Code != http.StatusOK {
					b.Fatalf("the list answers %d", w.Code)
				}
			}
		})
	}
}
