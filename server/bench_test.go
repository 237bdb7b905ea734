package server

import (
	"bytes"
	"image"
	"image/jpeg"
	"io"
	"log/slog"
	"maps"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strconv"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/alexedwards/argon2id"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/orders"
)

// benchSite is the whole portal with a clock of its own, seen by a browser that keeps its cookies.
// The clock stands in the past: the session library uses the real one, and a session must not be
// over before it begins.
type benchSite struct {
	t       testing.TB
	store   *orders.Store
	srv     *Server
	h       http.Handler
	now     time.Time
	log     *bytes.Buffer
	cookies map[string]string
	from    string
	ran     atomic.Int64 // statements
}

const (
	benchMaker    = "Wren"
	benchPassword = "thread and needle"
)

// tuesday is when the tests begin: 10:20 in the studio.
var tuesday = time.Date(2026, 4, 28, 9, 20, 0, 0, time.UTC)

// newBench starts a portal with a maker and a studio in London, and nobody signed in.
func newBench(t testing.TB) *benchSite {
	t.Helper()
	b := &benchSite{t: t, now: tuesday, log: &bytes.Buffer{}, cookies: map[string]string{}, from: "192.0.2.7:4000"}
	clock := func() time.Time { return b.now }
	store, err := orders.Open(t.Context(), t.TempDir(), orders.Settings{Now: clock, Origin: testOrigin, Ran: func() { b.ran.Add(1) }})
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, store.Close()) })
	b.store = store
	cheap := &argon2id.Params{Memory: 64, Iterations: 1, Parallelism: 1, SaltLength: 16, KeyLength: 32}
	hash, err := argon2id.CreateHash(benchPassword, cheap)
	require.NoError(t, err)
	_, err = store.SaveMaker(t.Context(), orders.Maker{Name: benchMaker, PasswordHash: hash})
	require.NoError(t, err)
	st, err := store.Studio(t.Context())
	require.NoError(t, err)
	st.Name, st.Place, st.Reach, st.Zone = "The Tern Lane Workroom", "Saltmere", "hats@ternlane.example", "Europe/London"
	_, err = store.SaveStudio(t.Context(), st)
	require.NoError(t, err)
	b.srv, err = New(Config{Store: store, Log: slog.New(slog.NewTextHandler(b.log, nil)), Now: clock})
	require.NoError(t, err)
	b.h, err = b.srv.Handler()
	require.NoError(t, err)
	return b
}

// signedInBench is newBench with the maker in.
func signedInBench(t testing.TB) *benchSite {
	b := newBench(t)
	got := b.post("/enter", say("name", benchMaker, "password", benchPassword))
	require.Equal(t, "/workroom", got.location, "signed in")
	return b
}

func (b *benchSite) do(r *http.Request) reply {
	b.t.Helper()
	w := b.answerTo(r)
	body, err := io.ReadAll(w.Result().Body)
	require.NoError(b.t, err)
	got := reply{w.Code, w.Header().Get("Location"), w.Header().Get("Content-Type"), string(body), w.Header()}
	assert.Less(b.t, got.status, 500, "%s %s:\n%s", r.Method, r.URL.Path, b.log)
	if strings.HasPrefix(got.kind, "text/html") && got.status != http.StatusSeeOther {
		checkPage(b.t, got.body)
	}
	return got
}

// answerTo sends a request with the cookies kept so far.
func (b *benchSite) answerTo(r *http.Request) *httptest.ResponseRecorder {
	r.RemoteAddr = b.from
	for name, value := range b.cookies {
		r.AddCookie(&http.Cookie{Name: name, Value: value})
	}
	w := httptest.NewRecorder()
	b.h.ServeHTTP(w, r)
	for _, c := range w.Result().Cookies() {
		b.cookies[c.Name] = c.Value
	}
	return w
}

func (b *benchSite) get(path string) reply {
	b.t.Helper()
	return b.do(httptest.NewRequest(http.MethodGet, path, nil))
}

// see opens a page that must be there.
func (b *benchSite) see(path string) string {
	b.t.Helper()
	got := b.get(path)
	require.Equal(b.t, http.StatusOK, got.status, "%s should be there", path)
	return got.body
}

func (b *benchSite) post(path string, form url.Values) reply {
	b.t.Helper()
	r := httptest.NewRequest(http.MethodPost, path, strings.NewReader(form.Encode()))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	return b.do(r)
}

// accepted posts what must be taken, and opens the page that follows.
func (b *benchSite) accepted(path string, form url.Values) string {
	b.t.Helper()
	got := b.post(path, form)
	require.Equal(b.t, http.StatusSeeOther, got.status, "%s is taken:\n%s", path, inside(got.body))
	next, _, _ := strings.Cut(got.location, "#")
	return b.see(next)
}

// refused posts what must not be taken, and returns the page that says why.
func (b *benchSite) refused(status int, path string, form url.Values) string {
	b.t.Helper()
	got := b.post(path, form)
	require.Equal(b.t, status, got.status, "%s is refused:\n%s", path, inside(got.body))
	shows(b.t, got.body, "<title>Problem")
	return got.body
}

// enquiry is a commission that came in by a door, with some answers changed; "" leaves one out.
func (b *benchSite) enquiry(door string, changed map[string]string) orders.Commission {
	b.t.Helper()
	answers := map[string]string{
		"wearer": "me", "name": "Nella Quill", "reach": "nella@post.example", "occasion": "races", "day": "2026-06-12",
		"hair_day": "down", "girth": "570.0 572.0 571.0", "nape": "230.0 231.0 229.0", "hair_measured": "yes",
	}
	maps.Copy(answers, changed)
	d, err := b.store.Begin(b.t.Context(), door, orders.Answer{Value: "yes"})
	require.NoError(b.t, err)
	for key, value := range answers {
		if value != "" {
			_, err = b.store.Answer(b.t.Context(), d.ID, key, orders.Answer{Value: value, Said: value})
			require.NoError(b.t, err, "answer %s", key)
		}
	}
	c, err := b.store.Send(b.t.Context(), d.ID)
	require.NoError(b.t, err)
	return c
}

// photograph adds one to the client's answers.
func (b *benchSite) photograph(c orders.Commission) string {
	b.t.Helper()
	var pic bytes.Buffer
	require.NoError(b.t, jpeg.Encode(&pic, image.NewRGBA(image.Rect(0, 0, 30, 20)), nil))
	p, err := b.store.AddPhoto(b.t.Context(), c.DraftID, "photographs", pic.Bytes())
	require.NoError(b.t, err)
	return p.ID
}

func (b *benchSite) commission(id string) orders.Commission {
	b.t.Helper()
	c, err := b.store.Commission(b.t.Context(), id)
	require.NoError(b.t, err)
	return c
}

func (b *benchSite) fitted(id string) orders.Fitted {
	b.t.Helper()
	f, err := b.store.Fitted(b.t.Context(), id)
	require.NoError(b.t, err)
	return f
}

func (b *benchSite) letters(c orders.Commission) []orders.Letter {
	b.t.Helper()
	list, err := b.store.Letters(b.t.Context(), c.ClientID)
	require.NoError(b.t, err)
	return list
}

func room(c orders.Commission) string { return "/workroom/commissions/" + c.ID }

// versioned adds the version of the working, as the page would have it, to a form.
func (b *benchSite) versioned(c orders.Commission, form url.Values) url.Values {
	form.Set("version", strconv.Itoa(b.fitted(c.ID).Working.Version))
	return form
}

// wholeHat sets every figure of the hat that the engine would advise.
func wholeHat(more ...string) url.Values {
	v := say("hat.base_mm", "12 cm", "hat.forward_deg", "25", "hat.forward_deg.way", "+", "hat.sideways_deg", "35", "hat.sideways_deg.way", "-",
		"hat.brim_width_mm", "9 cm", "hat.brim_slope_deg", "60", "hat.brim_slope_deg.way", "+", "note", "Ivory thread.")
	for name, values := range say(more...) {
		v[name] = values
	}
	return v
}

// signed settles and signs off a commission's hat, and opens its sheet.
func (b *benchSite) signed(c orders.Commission) string {
	b.t.Helper()
	b.accepted(room(c)+"/settle", b.versioned(c, wholeHat()))
	return b.accepted(room(c)+"/settle", b.versioned(c, wholeHat("do", "sign")))
}
