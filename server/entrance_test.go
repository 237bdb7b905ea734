package server

import (
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"github.com/gin-gonic/gin"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/orders"
)

func TestOnlyTheRightPasswordEnters(t *testing.T) {
	b := newBench(t)
	shows(t, b.see("/enter"), "Sign in")
	wrong := b.refused(http.StatusUnprocessableEntity, "/enter", say("name", benchMaker, "password", "thread and thimble"))
	shows(t, wrong, `value="Wren"`)
	hides(t, wrong, "thread and thimble")
	unknown := b.refused(http.StatusUnprocessableEntity, "/enter", say("name", "Nobody", "password", benchPassword))
	shows(t, unknown, "do not belong together")
	assert.Equal(t, "/enter", b.get("/workroom").location, "still outside")

	got := b.post("/enter", say("name", benchMaker, "password", benchPassword))
	assert.Equal(t, http.StatusSeeOther, got.status)
	assert.Equal(t, "/workroom", got.location)
	b.see("/workroom")
	assert.Equal(t, "/workroom", b.get("/enter").location, "who is in need not enter")
}

func TestGuessingPasswordsIsSlowedDown(t *testing.T) {
	b := newBench(t)
	status := 0
	for range 12 {
		status = b.post("/enter", say("name", benchMaker, "password", "a wrong guess")).status
	}
	assert.Equal(t, http.StatusTooManyRequests, status, "after a dozen guesses from one address")
	b.from = "198.51.100.4:4000"
	got := b.post("/enter", say("name", benchMaker, "password", benchPassword))
	assert.Equal(t, http.StatusTooManyRequests, got.status, "and from another address for the same name")
	got = b.post("/enter", say("name", "Another", "password", "a wrong guess"))
	assert.Equal(t, http.StatusUnprocessableEntity, got.status, "another name from there is not held up")
}

func TestSigningInRenewsTheSession(t *testing.T) {
	b := signedInBench(t)
	require.Len(t, b.cookies, 1, "one cookie")
	before := b.cookies["perchbook"]
	b.accepted("/enter", say("name", benchMaker, "password", benchPassword))
	after := b.cookies["perchbook"]
	assert.NotEqual(t, before, after, "a new token at every sign-in")
	b.cookies["perchbook"] = before
	assert.Equal(t, "/enter", b.get("/workroom").location, "the old token opens nothing")
}

func TestTheSessionCookieIsGuarded(t *testing.T) {
	b := newBench(t)
	r := httptest.NewRequest(http.MethodPost, "/enter", strings.NewReader(say("name", benchMaker, "password", benchPassword).Encode()))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	w := httptest.NewRecorder()
	b.h.ServeHTTP(w, r)
	cookies := w.Result().Cookies()
	require.Len(t, cookies, 1)
	assert.True(t, cookies[0].HttpOnly, "no script reads it")
	assert.Equal(t, http.SameSiteLaxMode, cookies[0].SameSite, "other sites do not send it with posts")
}

func TestSigningOutShutsTheDoor(t *testing.T) {
	b := signedInBench(t)
	kept := b.cookies["perchbook"]
	assert.Equal(t, "/enter", b.post("/workroom/leave", nil).location)
	b.cookies["perchbook"] = kept
	assert.Equal(t, "/enter", b.get("/workroom").location, "the token is dead, not only forgotten")
}

func TestTheSetUpLinkOpensOnce(t *testing.T) {
	b := newBench(t)
	code, err := b.store.NewCode(t.Context(), SetUp, "", time.Hour)
	require.NoError(t, err)
	first := "/enter/first/" + code
	b.see(first)
	shows(t, b.see(first), "Set my password") // looking does not spend it
	short := b.refused(http.StatusUnprocessableEntity, first, say("name", "Linnet", "password", "short"))
	shows(t, short, `value="Linnet"`)

	b.accepted(first, say("name", "Linnet", "password", "a long sentence"))
	assert.Equal(t, http.StatusGone, b.get(first).status, "it opens once")
	assert.Equal(t, http.StatusGone, b.post(first, say("name", "Thief", "password", "another sentence")).status)
	_, err = b.store.MakerByName(t.Context(), "Thief")
	require.ErrorIs(t, err, orders.ErrNotFound, "the second use made nobody")

	b.post("/workroom/leave", nil)
	assert.Equal(t, "/workroom", b.post("/enter", say("name", "Linnet", "password", "a long sentence")).location, "the new password works")
	hides(t, b.log.String(), code)
}

func TestALateSetUpLinkOpensNothing(t *testing.T) {
	b := newBench(t)
	code, err := b.store.NewCode(t.Context(), SetUp, "", time.Hour)
	require.NoError(t, err)
	b.now = b.now.Add(2 * time.Hour)
	assert.Equal(t, http.StatusGone, b.get("/enter/first/"+code).status)
}

func TestEveryRoomIsBehindSignIn(t *testing.T) {
	b := newBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	photo := b.photograph(c)
	g := gin.New()
	b.srv.workroomRoutes(g.Group("/workroom"))
	routes := g.Routes()
	require.Greater(t, len(routes), 15, "the rooms of the workroom")
	for _, r := range routes {
		path := strings.NewReplacer(":id", c.ID, ":photo", photo, ":letter", "x", ":number", "1").Replace(r.Path)
		got := b.do(httptest.NewRequest(r.Method, path, nil))
		assert.Equal(t, http.StatusSeeOther, got.status, "%s %s without sign-in", r.Method, r.Path)
		assert.Equal(t, "/enter", got.location, "%s %s without sign-in", r.Method, r.Path)
	}
	assert.Equal(t, 2, b.commission(c.ID).Version, "nothing was changed")
}

func TestAnotherSiteCannotPost(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	for _, from := range []string{"cross-site", "same-site"} {
		r := httptest.NewRequest(http.MethodPost, room(c)+"/move", strings.NewReader(say("version", "2", "stage", "withdrawn", "why", "x").Encode()))
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		r.Header.Set("Sec-Fetch-Site", from)
		assert.Equal(t, http.StatusForbidden, b.do(r).status, "a post from a page that is %s", from)
	}
	assert.Equal(t, orders.Measured, b.commission(c.ID).Stage, "it stands where it stood")
}
