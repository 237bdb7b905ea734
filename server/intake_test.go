package server

import (
	"net/http"
	"net/http/httptest"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/orders"
)

func TestWelcomeBeforeAndAfterTheStudioIsSetUp(t *testing.T) {
	s := newClientSite(t)
	shows(t, s.see("/"), "We make hats the size of a saucer") // a studio without a name still speaks
	s.studio()
	page := s.see("/")
	shows(t, page, "The Tern Lane Workroom in Saltmere makes")
	shows(t, page, `href="https://chat.example/begin"`) // the chat is offered
}

func TestNothingIsKeptBeforeSheAgrees(t *testing.T) {
	s := newClientSite(t)
	s.see("/begin")
	for what, form := range map[string]url.Values{"nothing": {}, "no": say("privacy", "no"), "nonsense": say("privacy", "perhaps")} {
		got := s.post("/begin", form)
		assert.Equal(t, http.StatusUnprocessableEntity, got.status, "answering %s begins nothing", what)
		assert.Empty(t, got.location)
	}
	page := s.see(s.begin() + "/ask/you")
	shows(t, page, testOrigin+orders.DraftPath) // the first question tells how to come back
}

// A client without cookies goes through every screen, back and forth, and sends.
func TestAWholeEnquiry(t *testing.T) {
	s := newClientSite(t)
	s.studio()
	base := s.begin()
	s.answerAll(base)
	page := s.see(base + "/check")
	shows(t, page, "57.1 cm (22 1/2 in)") // the summary says both units
	shows(t, page, "Send it to the studio")
	shows(t, s.see(base), "Welcome back, Wren Ambrose") // the private address brings her back

	got := s.post(base+"/send", nil)
	require.Equal(t, http.StatusSeeOther, got.status)
	shows(t, s.see(got.location), "It has arrived")
	hat, _, _ := strings.Cut(got.location, "?")
	again := s.post(base+"/send", nil)
	assert.Equal(t, got.location, again.location, "sent twice it is the same hat")
	all, err := s.store.Commissions(t.Context())
	require.NoError(t, err)
	assert.Len(t, all, 1, "sent twice it is one commission")
	assert.Equal(t, hat, s.get(base).location, "the old address leads on to her own page")
	assert.Equal(t, hat, s.get(base+"/ask/occasion").location, "so does a page left open")
}

func TestEchoSaysWhatWasUnderstood(t *testing.T) {
	s := newClientSite(t)
	base := s.begin()
	s.answerAll(base)
	page := s.see(base + "/ask/nape?kept=girth")
	shows(t, page, "Kept:")
	shows(t, page, "57.1 cm (22 1/2 in)")                    // the mean of what she typed, in both units
	hides(t, s.see(base+"/ask/nape?kept=nonsense"), "Kept:") // an address with nonsense shows nothing
}

func TestGoingBackKeepsTheAnswerAsTyped(t *testing.T) {
	s := newClientSite(t)
	base := s.begin()
	s.answerAll(base)
	page := s.see(base + "/ask/girth")
	shows(t, page, `value="22 1/2 in"`)            // as she typed it
	shows(t, page, `href="`+base+`/ask/hair_day"`) // back leads one question back
	shows(t, s.see(base+"/ask/hair_day"), `value="up" checked`)
	shows(t, s.see(base+"/ask/occasion"), `value="12 June 2027"`)
	got := s.post(base+"/ask/girth?from=check", say("girth", "58", "girth", "58", "girth", "58"))
	assert.Equal(t, base+"/check?kept=girth", got.location, "changed from the summary, it leads back there")
}

func TestBadAnswersKeepWhatWasTyped(t *testing.T) {
	s := newClientSite(t)
	base := s.begin()
	s.answerAll(base)
	before := s.draft(base).Answers
	for what, bad := range map[string]struct {
		page  string
		form  url.Values
		shows string
	}{
		"no choice":             {"hair_day", nil, "Please choose one"},
		"a choice unknown":      {"occasion", say("occasion", "a riot"), "a riot"},
		"a name without any":    {"you", say("wearer", "me", "name", "", "reach", "wren@post.example"), `value="wren@post.example"`},
		"a way without way":     {"you", say("name", "Wren Ambrose", "reach", "wren at post"), `value="wren at post"`},
		"a day in the past":     {"occasion", say("day", "12 June 2020"), `value="12 June 2020"`},
		"a day that is none":    {"occasion", say("day", "30 February 2028"), `value="30 February 2028"`},
		"words for a length":    {"girth", say("girth", "banana", "girth", "57"), `value="banana"`},
		"a number that is none": {"girth", say("girth", "NaN", "girth", "Inf", "girth", "0x1p9"), `value="NaN"`},
		"a head that cannot be": {"girth", say("girth", "200 cm", "girth", "200 cm", "girth", "200 cm"), `value="200 cm"`},
		"seven readings":        {"girth", url.Values{"girth": strings.Split("57 57 57 57 57 57 57", " ")}, `value="57"`},
		"a very long name":      {"you", say("name", strings.Repeat("é", 200), "reach", "wren@post.example"), strings.Repeat("é", 200)},
		"odd bytes":             {"you", say("name", "\xff\x00", "reach", "\u202e"), `role="alert"`},
	} {
		got := s.post(base+"/ask/"+bad.page, bad.form)
		assert.Equal(t, http.StatusUnprocessableEntity, got.status, "%s is refused", what)
		shows(t, got.body, bad.shows)
		shows(t, got.body, `role="alert"`) // said under the heading, or above it with the way to the field
		assert.Equal(t, bad.page != "hair_day", strings.Contains(got.body, `<a href="#f-`), "%s: said once where it stands at hand", what)
	}
	assert.Equal(t, before, s.draft(base).Answers, "no answer given before is lost")
}

func TestOneGoodAnswerOfTwoIsKept(t *testing.T) {
	s := newClientSite(t)
	base := s.begin()
	s.post(base+"/ask/you", say("name", "Wren Ambrose", "reach", "?"))
	assert.Equal(t, "Wren Ambrose", s.draft(base).Answers["name"].Value)
}

func TestReadings(t *testing.T) {
	s := newClientSite(t)
	base := s.begin()
	s.post(base+"/ask/you", say("wearer", "me"))
	at := base + "/ask/girth"
	fields := func(r reply) int { return strings.Count(r.body, `name="girth"`) }

	got := s.post(at, say("girth", "57.2", "girth", "", "girth", ""))
	assert.Equal(t, http.StatusUnprocessableEntity, got.status, "one reading is not enough")
	assert.Equal(t, 3, fields(got), "three fields while she fills them")
	got = s.post(at, say("girth", "57.2", "girth", "58.4", "girth", "57"))
	assert.Equal(t, 4, fields(got), "a fourth when they lie 10 mm apart or more")
	got = s.post(at, say("girth", "57.2", "girth", "58.1", "girth", "57.2"))
	assert.Equal(t, http.StatusSeeOther, got.status, "9 mm apart is near enough")
	got = s.post(at, say("girth", "57.2", "girth", "58.4", "girth", "57", "girth", "57.4"))
	require.Equal(t, http.StatusSeeOther, got.status, "four readings are taken")
	assert.Equal(t, 4, fields(s.get(at)), "and shown again")

	got = s.post(at, say("girth", "57.2", "enough", "girth"))
	require.Equal(t, http.StatusSeeOther, got.status, "one reading when it is all she has")
	assert.Equal(t, "572.0", s.draft(base).Answers["girth"].Value)
	got = s.post(at, say("girth", "banana", "later", "girth"))
	require.Equal(t, http.StatusSeeOther, got.status, "left for the consultation")
	assert.Equal(t, orders.Later, s.draft(base).Answers["girth"].Value)
}

func TestAnUnlikelyValueIsAskedAboutOnce(t *testing.T) {
	s := newClientSite(t)
	base := s.begin()
	s.post(base+"/ask/you", say("wearer", "me"))
	at, large := base+"/ask/girth", say("girth", "64", "girth", "64.1", "girth", "64.2")
	got := s.post(at, large)
	require.Equal(t, http.StatusUnprocessableEntity, got.status)
	shows(t, got.body, `<button name="sure" value="girth">`) // she may say that it is right
	large.Set("sure", "girth")
	require.Equal(t, http.StatusSeeOther, s.post(at, large).status, "and is believed")
	assert.True(t, s.draft(base).Answers["girth"].Confirmed, "the milliner will see that")
	large.Del("sure")
	assert.Equal(t, http.StatusSeeOther, s.post(at, large).status, "sent again unchanged it is not asked again")
	assert.Equal(t, http.StatusUnprocessableEntity, s.post(at, say("girth", "65", "girth", "65", "girth", "65")).status, "another value is")
}

func TestTapesThatDoNotGoTogetherAreAskedAbout(t *testing.T) {
	s := newClientSite(t)
	base := s.begin()
	s.answerAll(base)
	at, short := base+"/ask/nape", say("nape", "19", "nape", "19", "nape", "19")
	got := s.post(at, short)
	require.Equal(t, http.StatusUnprocessableEntity, got.status, "19 cm does not go with 57")
	shows(t, got.body, `name="sure" value="nape"`)
	short.Set("sure", "nape")
	require.Equal(t, http.StatusSeeOther, s.post(at, short).status)
	assert.True(t, s.draft(base).Answers["nape"].Confirmed)

	s.post(at, say("nape", "23", "nape", "23", "nape", "23"))
	require.Equal(t, http.StatusSeeOther, s.post(base+"/ask/girth", say("girth", "53", "girth", "53", "girth", "53")).status)
	s.post(base+"/ask/nape", say("nape", "20.5", "nape", "20.5", "nape", "20.5"))
	s.post(base+"/ask/girth", say("girth", "61", "girth", "61", "girth", "61"))
	shows(t, s.see(base+"/check"), "You gave 20.5 cm") // the summary says what does not go together
}

func TestADayMayBeOpen(t *testing.T) {
	s := newClientSite(t)
	base := s.begin()
	require.Equal(t, http.StatusSeeOther, s.post(base+"/ask/occasion", say("occasion", "wedding", "day", "", "open", "day")).status)
	assert.Equal(t, orders.NotFixed, s.draft(base).Answers["day"].Value)
	page := s.see(base + "/ask/occasion")
	shows(t, page, `value="Not fixed yet"`)
	require.Equal(t, http.StatusSeeOther, s.post(base+"/ask/occasion", say("occasion", "other", "day", "Not fixed yet")).status, "what the page shows is understood again")
	got := s.post(base+"/ask/occasion", say("day", "", "open", "day"))
	require.Equal(t, http.StatusUnprocessableEntity, got.status, "the other question of the page has no answer")
	shows(t, got.body, `value="Not fixed yet"`) // and the button needs no second press
}

func TestAChildIsNotMeasuredHere(t *testing.T) {
	s := newClientSite(t)
	base := s.begin()
	s.post(base+"/ask/you", say("wearer", "child"))
	assert.Equal(t, http.StatusNotFound, s.get(base+"/ask/girth").status, "no tape is asked for")
	shows(t, s.see(base+"/ask/occasion"), "Step 2 of 3") // and fewer screens are counted
}

func TestWhatIsMissingIsSaid(t *testing.T) {
	s := newClientSite(t)
	base := s.begin()
	s.post(base+"/ask/you", say("wearer", "me"))
	shows(t, s.see(base+"/check"), "7 answers are still missing")
	got := s.post(base+"/send", nil)
	assert.Equal(t, http.StatusUnprocessableEntity, got.status)
	shows(t, got.body, `<a href="#a-girth">`) // each missing answer is named
	all, err := s.store.Commissions(t.Context())
	require.NoError(t, err)
	assert.Empty(t, all)
}

func TestEveryOptionalQuestionHasAScreenAndMayBeLeftOut(t *testing.T) {
	s := newClientSite(t)
	base := s.begin()
	s.answerAll(base)
	list := s.see(base + "/more")
	for _, page := range orders.Questions.Extras(s.draft(base).Answers) {
		shows(t, list, base+"/ask/"+page+`"`)
		s.see(base + "/ask/" + page)
		q := orders.Questions.On(page, s.draft(base).Answers)[0]
		got := s.post(base+"/ask/"+page, say("skip", q.Key))
		assert.Equal(t, http.StatusSeeOther, got.status, "%s may be left out", page)
	}
	assert.Equal(t, http.StatusSeeOther, s.post(base+"/send", nil).status)
}

func TestExtrasAreKeptNowAndLater(t *testing.T) {
	s := newClientSite(t)
	hat, c := s.sent()
	got := s.post(hat+"/ask/trimming", say("trimming", "ribbon", "trimming", "flowers"))
	require.Equal(t, http.StatusSeeOther, got.status)
	shows(t, s.see(got.location), "Flowers, Ribbon or a bow")
	s.post(hat+"/ask/girth", say("girth", "58", "girth", "58", "girth", "58"))
	cards, err := s.store.Cards(t.Context(), c.ID)
	require.NoError(t, err)
	assert.Len(t, cards, 2, "a corrected tape makes a new measure card")
	page := s.see(hat)
	shows(t, page, "58.0 cm")
	shows(t, page, "Flowers, Ribbon or a bow")
	s.see(hat + "/check")
	s.see(hat + "/more")
}

func TestAHealthNoteIsErasedByItselfOrWithItsConsent(t *testing.T) {
	s := newClientSite(t)
	hat, c := s.sent()
	at, note := hat+"/ask/health", say("health", "latex makes me itch")
	assert.Equal(t, http.StatusNotFound, s.post(at, note).status, "nothing is asked before she allows it")
	for what, erase := range map[string]func() reply{
		"by itself":         func() reply { return s.post(at, say("skip", "health")) },
		"with its consent":  func() reply { return s.post(hat+"/ask/health_consent", say("health_consent", "no")) },
		"by a blank answer": func() reply { return s.post(at, say("health", "")) },
	} {
		require.Equal(t, http.StatusSeeOther, s.post(hat+"/ask/health_consent", say("health_consent", "yes")).status)
		hides(t, s.see(at), "Erase this note")
		require.Equal(t, http.StatusSeeOther, s.post(at, note).status)
		shows(t, s.see(at), "Erase this note")
		shows(t, s.see(hat), "latex makes me itch")
		require.Equal(t, http.StatusSeeOther, erase().status, what)
		d, err := s.store.Draft(t.Context(), c.DraftID)
		require.NoError(t, err)
		assert.Empty(t, d.Answers["health"].Value, "erased %s", what)
		hides(t, s.see(hat), "latex makes me itch")
	}
}

func TestWhereRightIsWasAskedOnlyOfPhotographs(t *testing.T) {
	s := newClientSite(t)
	base := s.begin()
	s.answerAll(base)
	hides(t, s.see(base+"/more"), "/ask/mirrored")
	assert.Equal(t, http.StatusNotFound, s.get(base+"/ask/mirrored").status, "there is nothing to ask it of")
	s.upload(base+"/photographs/photographs/add", aPhotograph(t))
	shows(t, s.see(base+"/more"), "/ask/mirrored")
	got := s.upload(base+"/photographs/photographs/add", aPhotograph(t), "done")
	assert.Equal(t, base+"/ask/mirrored?kept=photographs", got.location, "Done leads there")
	assert.Len(t, strings.Fields(s.draft(base).Answers["photographs"].Value), 2, "and keeps what was chosen before it was pressed")
	got = s.upload(base+"/photographs/photographs/add", nil, "done")
	assert.Equal(t, base+"/ask/mirrored?kept=photographs", got.location, "with nothing more chosen too")
}

// A page left open in another tab, after sending: the answer is kept, and she stands on her own page.
func TestAnAnswerFromAnOldTabIsKept(t *testing.T) {
	s := newClientSite(t)
	base := s.begin()
	s.answerAll(base)
	s.post(base+"/send", nil)
	got := s.post(base+"/ask/you", say("wearer", "me", "name", "Wren A.", "reach", "wren@post.example"))
	require.Equal(t, http.StatusSeeOther, got.status)
	assert.True(t, strings.HasPrefix(got.location, orders.CommissionPath), "she stands at %s", got.location)
	assert.Equal(t, "Wren A.", s.draft(base).Answers["name"].Value)
}

func TestMarkupIsShownAndNotObeyed(t *testing.T) {
	s := newClientSite(t)
	const evil = `<script>alert("1")</script>"><img src=x onerror=alert(2)>`
	base := s.begin()
	s.answerAll(base)
	s.post(base+"/ask/you", say("name", evil, "reach", "wren@post.example"))
	s.post(base+"/ask/outfit", say("outfit", evil))
	s.post(base+"/send", nil)
	hat := s.get(base).location
	for _, path := range []string{hat, hat + "/check", hat + "/more", hat + "/ask/you", hat + "/ask/outfit", hat + "/ask/occasion?kept=you"} {
		page := s.see(path)
		hides(t, page, "<script")
		hides(t, page, "<img src=x")
	}
	shows(t, s.see(hat+"/ask/outfit"), "&lt;script&gt;") // it is shown as she typed it
}

func TestForeignAndBrokenLinks(t *testing.T) {
	s := newClientSite(t)
	base := s.begin()
	hat, _ := s.sent()
	forged := base[:len(base)-1] + map[bool]string{true: "A", false: "B"}[base[len(base)-1] != 'A']
	for _, path := range []string{
		forged, forged + "/check", orders.DraftPath + "x", orders.DraftPath + "x.y", orders.CommissionPath + "x.y",
		orders.CommissionPath + strings.TrimPrefix(base, orders.DraftPath), orders.DraftPath + strings.TrimPrefix(hat, orders.CommissionPath),
		base + "/ask/nonsense", base + "/ask/privacy", base + "/ask/" + strings.Repeat("x", 4000), base + "/nonsense", hat + "/nonsense",
		base + "/photographs/x", hat + "/appointments/x/calendar.ics",
	} {
		got := s.get(path)
		assert.Equal(t, http.StatusNotFound, got.status, "%.80s", path)
		shows(t, got.body, "private link") // the page says what may be wrong
		assert.Equal(t, http.StatusNotFound, s.post(path, say("name", "x")).status, "posted: %.80s", path)
	}
}

func TestRevokedLinksOpenNothing(t *testing.T) {
	s := newClientSite(t)
	base := s.begin()
	s.answerAll(base)
	s.post(base+"/send", nil)
	hat := s.get(base).location
	_, err := s.store.Revoke(t.Context(), s.commission(hat).ID)
	require.NoError(t, err)
	for _, path := range []string{hat, base, hat + "/ask/you"} {
		assert.Equal(t, http.StatusNotFound, s.get(path).status, "%s was revoked", path)
	}
	assert.Equal(t, http.StatusNotFound, s.post(hat+"/ask/you", say("name", "Mallory")).status)
}

func TestAFarTooLongAnswerIsRefusedKindly(t *testing.T) {
	s := newClientSite(t)
	base := s.begin()
	s.answerAll(base)
	got := s.post(base+"/ask/outfit", say("outfit", strings.Repeat("sage ", 20<<10)))
	assert.Equal(t, http.StatusRequestEntityTooLarge, got.status)
	shows(t, got.body, "far longer than this question can take")
	r := httptest.NewRequest(http.MethodPost, base+"/ask/outfit", strings.NewReader("%zz=%"))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	assert.Equal(t, http.StatusUnprocessableEntity, s.do(r).status, "a body that is no form is said to be none")
}

func TestBeginningIsLimitedByAddress(t *testing.T) {
	s := newClientSite(t)
	refused := 0
	for range 40 {
		if s.post("/begin", say("privacy", "yes")).status == http.StatusTooManyRequests {
			refused++
		}
	}
	assert.Positive(t, refused, "one address cannot fill the studio with drafts")
	s.from = "192.0.2.2:5000"
	s.begin()
}

func TestLogsHoldNothingPersonal(t *testing.T) {
	s := newClientSite(t)
	hat, _ := s.sent()
	s.get(hat + "x")
	logged := regexp.MustCompile(`time=\S+ `).ReplaceAllString(s.log.String(), "") // the hour may hold any digits
	for _, secret := range []string{"Wren", "Ambrose", "post.example", "57.2", "572", strings.TrimPrefix(hat, orders.CommissionPath)} {
		assert.NotContains(t, logged, secret, "the log")
	}
	assert.Contains(t, s.log.String(), "/ask/:page", "routes are logged")
}

// A browser that has lost a page it sent something to may ask for that address alone.
func TestAPageLoadedAgainIsNoDeadEnd(t *testing.T) {
	s := newClientSite(t)
	base := s.begin()
	assert.Equal(t, base+"/check", s.get(base+"/send").location)
	assert.Equal(t, base+"/ask/photographs", s.get(base+"/photographs/photographs/add").location)
	assert.Equal(t, http.StatusNotFound, s.get(base+"/photographs/name/add").status, "that is no question about photographs")
}
