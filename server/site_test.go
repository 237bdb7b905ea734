package server

import (
	"context"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/orders"
)

// clientSite is the whole portal with a clock of its own, seen by a client who keeps no cookies.
type clientSite struct {
	t     *testing.T
	store *orders.Store
	h     http.Handler
	now   time.Time
	log   *strings.Builder
	from  string // address she comes from
}

const testOrigin = "http://hats.example"

func newClientSite(t *testing.T) *clientSite {
	t.Helper()
	s := &clientSite{t: t, now: time.Date(2027, 3, 1, 9, 30, 0, 0, time.UTC), log: &strings.Builder{}, from: "192.0.2.1:5000"}
	clock := func() time.Time { return s.now }
	store, err := orders.Open(t.Context(), t.TempDir(), orders.Settings{Now: clock, Origin: testOrigin})
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, store.Close()) })
	s.store = store
	srv, err := New(Config{Store: store, Log: slog.New(slog.NewTextHandler(s.log, nil)), PublicURL: testOrigin, Now: clock, ChatLink: "https://chat.example/begin"})
	require.NoError(t, err)
	s.h, err = srv.Handler()
	require.NoError(t, err)
	return s
}

// studio describes the workroom as its milliner would.
func (s *clientSite) studio() {
	s.t.Helper()
	st, err := s.store.Studio(s.t.Context())
	require.NoError(s.t, err)
	st.Name, st.Place, st.Reach, st.Zone = "The Tern Lane Workroom", "Saltmere", "hats@ternlane.example", "Europe/London"
	_, err = s.store.SaveStudio(s.t.Context(), st)
	require.NoError(s.t, err)
}

// A reply is what the site answered.
type reply struct {
	status   int
	location string
	kind     string
	body     string
	headers  http.Header
}

func (s *clientSite) do(r *http.Request) reply {
	s.t.Helper()
	r.RemoteAddr = s.from
	w := httptest.NewRecorder()
	s.h.ServeHTTP(w, r)
	body, err := io.ReadAll(w.Result().Body)
	require.NoError(s.t, err)
	got := reply{w.Code, w.Header().Get("Location"), w.Header().Get("Content-Type"), string(body), w.Header()}
	assert.Less(s.t, got.status, 500, "%s %s:\n%s", r.Method, r.URL.Path, s.log)
	if strings.HasPrefix(got.kind, "text/html") && got.body != "" && got.status != http.StatusSeeOther {
		checkPage(s.t, got.body)
	}
	return got
}

func (s *clientSite) get(path string) reply {
	s.t.Helper()
	return s.do(httptest.NewRequest(http.MethodGet, path, nil))
}

// see opens a page that must be there.
func (s *clientSite) see(path string) string {
	s.t.Helper()
	got := s.get(path)
	require.Equal(s.t, http.StatusOK, got.status, "%s should be there", path)
	return got.body
}

func (s *clientSite) post(path string, form url.Values) reply {
	s.t.Helper()
	r := httptest.NewRequest(http.MethodPost, path, strings.NewReader(form.Encode()))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	return s.do(r)
}

// say writes a form as pairs of name and values.
func say(pairs ...string) url.Values {
	v := url.Values{}
	for i := 0; i+1 < len(pairs); i += 2 {
		v.Add(pairs[i], pairs[i+1])
	}
	return v
}

// begin agrees to the notice and returns the address of her draft.
func (s *clientSite) begin() string {
	s.t.Helper()
	got := s.post("/begin", say("privacy", "yes"))
	require.Equal(s.t, http.StatusSeeOther, got.status, "the agreement is taken:\n%s", got.body)
	base, page, ok := strings.Cut(got.location, "/ask/")
	require.True(s.t, ok && page == "you", "the first question follows, not %s", got.location)
	return base
}

// answers for the needed questions, one form a screen.
var goodAnswers = []struct {
	page string
	form url.Values
}{
	{"you", say("wearer", "me", "name", "Wren Ambrose", "reach", "wren@post.example")},
	{"occasion", say("occasion", "wedding", "day", "12 June 2027")},
	{"hair_day", say("hair_day", "up")},
	{"girth", say("girth", "57.2", "girth", "22 1/2 in", "girth", "570mm")},
	{"nape", say("nape", "23", "nape", "23,2 cm", "nape", "23.1")},
	{"ear_to_ear", say("skip", "ear_to_ear")},
	{"hair_measured", say("hair_measured", "yes")},
}

// answerAll gives every needed answer and leaves her at the summary.
func (s *clientSite) answerAll(base string) {
	s.t.Helper()
	for i, a := range goodAnswers {
		s.see(base + "/ask/" + a.page)
		got := s.post(base+"/ask/"+a.page, a.form)
		require.Equal(s.t, http.StatusSeeOther, got.status, "the answers of %s are taken:\n%s", a.page, got.body)
		want := base + "/check?kept=" + a.page
		if i+1 < len(goodAnswers) {
			want = base + "/ask/" + goodAnswers[i+1].page + "?kept=" + a.page
		}
		require.Equal(s.t, want, got.location, "what follows %s", a.page)
		s.see(got.location)
	}
}

// sent is a whole enquiry: the address of her own page, and the commission.
func (s *clientSite) sent() (string, orders.Commission) {
	s.t.Helper()
	base := s.begin()
	s.answerAll(base)
	got := s.post(base+"/send", nil)
	require.Equal(s.t, http.StatusSeeOther, got.status, "it can be sent")
	hat, _, _ := strings.Cut(got.location, "?")
	return hat, s.commission(hat)
}

func (s *clientSite) commission(hat string) orders.Commission {
	s.t.Helper()
	c, err := s.store.CommissionByLink(context.Background(), strings.TrimPrefix(hat, orders.CommissionPath))
	require.NoError(s.t, err, "the link opens the commission")
	return c
}

func (s *clientSite) draft(base string) orders.Draft {
	s.t.Helper()
	d, err := s.store.DraftByLink(context.Background(), strings.TrimPrefix(base, orders.DraftPath))
	require.NoError(s.t, err, "the link opens the draft")
	return d
}

// A page that its reader has left is no fault of the house.
func TestWhoeverLeavesAPageCausesNoError(t *testing.T) {
	b := signedInBench(t)
	hers := orders.CommissionPath + b.store.CommissionLink(b.enquiry(orders.DoorWeb, nil))
	b.cookies = map[string]string{}
	ctx, leave := context.WithCancel(t.Context())
	leave()
	got := b.answerTo(httptest.NewRequest(http.MethodGet, hers, nil).WithContext(ctx))
	require.Equal(t, http.StatusRequestTimeout, got.Code)
	require.NotContains(t, b.log.String(), "level=ERROR")
}
