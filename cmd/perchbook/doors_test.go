package main

import (
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"net/url"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/bot"
	"perchbook/orders"
	"perchbook/server"
)

// A raw answer is what a client gives for one question, by whichever door.
type raw struct {
	key   string
	texts []string // typed, or the values pressed
	sure  bool     // she is asked whether it is right, and says yes
	more  bool     // the last one is asked for only after the others
	left  bool     // she leaves it out
}

// soon is a day that is neither past nor far.
func soon() string { return time.Now().AddDate(0, 4, 0).Format("2 January 2006") }

var grownUp = []raw{
	{key: "wearer", texts: []string{"me"}}, {key: "name", texts: []string{"  Nella   Quill "}}, {key: "reach", texts: []string{"Nella@Post.example"}},
	{key: "occasion", texts: []string{"races"}}, {key: "day", texts: []string{soon()}}, {key: "hair_day", texts: []string{"up"}},
	{key: "girth", texts: []string{"57", `22 1/2"`, "58,6 cm", "571mm"}, more: true},
	{key: "nape", texts: []string{"19", "19.1", "190 mm"}, sure: true},
	{key: "ear_to_ear", texts: []string{"30", "30", "30"}, sure: true},
	{key: "hair_measured", texts: []string{"yes"}},
}

// TestPageAndChatAgree gives the same raw answers to the real page and to the real chat.
func TestPageAndChatAgree(t *testing.T) {
	for name, answers := range map[string][]raw{
		"a whole enquiry with extras": append(slices.Clone(grownUp),
			raw{key: "occasion_words", texts: []string{"By the lake,\nin the afternoon."}}, raw{key: "time_of_day", left: true},
			raw{key: "hours", texts: []string{"6"}}, raw{key: "outfit_colours", texts: []string{"ivory", "sage"}}, raw{key: "outfit_shade", texts: []string{"the green of a pear"}},
			raw{key: "hair_colour", texts: []string{"red"}}, raw{key: "height", texts: []string{"5 ft 6"}}, raw{key: "hair_worn", texts: []string{"knot"}}, raw{key: "knot", texts: []string{"nape"}},
			raw{key: "side", texts: []string{"left"}}, raw{key: "trimming", texts: []string{"leaves", "ribbon"}},
			raw{key: "health_consent", texts: []string{"yes"}}, raw{key: "health", texts: []string{"latex"}}),
		"a large head, kept, and the nape left for later": {
			{key: "wearer", texts: []string{"adult"}}, {key: "name", texts: []string{"Pim Fennick"}}, {key: "reach", texts: []string{"+44 1632 960961"}},
			{key: "occasion", texts: []string{"other"}}, {key: "day", texts: []string{orders.NotFixed}}, {key: "hair_day", texts: []string{"down"}},
			{key: "girth", texts: []string{"65", "65.2", "65.1"}, sure: true}, {key: "nape", texts: []string{orders.Later}}, {key: "ear_to_ear", left: true}, {key: "hair_measured", texts: []string{"unsure"}},
			{key: "health_consent", texts: []string{"no"}}, {key: "glasses", texts: []string{"yes"}},
		},
		"a child": {
			{key: "wearer", texts: []string{"child"}}, {key: "name", texts: []string{"Isolde Tanner"}}, {key: "reach", texts: []string{"isolde@post.example"}},
			{key: "occasion", texts: []string{"wedding"}}, {key: "day", texts: []string{soon()}}, {key: "face", texts: []string{"round"}},
		},
	} {
		t.Run(name, func(t *testing.T) {
			store := openStore(t)
			page, chat := byPage(t, store, answers), byChat(t, store, answers)
			require.Greater(t, len(page.Answers), len(answers), "every question was put on the page")
			assert.Equal(t, page.Answers, chat.Answers, "page and chat keep the same answers")
			for _, a := range answers {
				assert.Equal(t, a.sure, page.Answers[a.key].Confirmed, "%s was asked about and kept", a.key)
			}
			first, second := cards(t, store, page), cards(t, store, chat)
			assert.Equal(t, first, second, "and the same measure card")
		})
	}
}

func openStore(t *testing.T) *orders.Store {
	t.Helper()
	s, err := orders.Open(t.Context(), t.TempDir(), orders.Settings{Origin: "http://hats.example"})
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, s.Close()) })
	return s
}

func cards(t *testing.T, s *orders.Store, d orders.Draft) []orders.MeasureCard {
	t.Helper()
	list, err := s.Cards(t.Context(), d.CommissionID)
	require.NoError(t, err)
	for i := range list {
		list[i].ID, list[i].CommissionID, list[i].Taken = "", "", time.Time{}
	}
	return list
}

// sentDraft is the draft of the newest commission that came by a door.
func sentDraft(t *testing.T, s *orders.Store, by string) orders.Draft {
	t.Helper()
	all, err := s.Commissions(t.Context())
	require.NoError(t, err)
	at := slices.IndexFunc(all, func(c orders.Commission) bool { return c.Door == by })
	require.GreaterOrEqual(t, at, 0, "an enquiry was sent by the %s door", by)
	d, err := s.Draft(t.Context(), all[at].DraftID)
	require.NoError(t, err)
	return d
}

// A formClient fills the web form in, over HTTP.
type formClient struct {
	t    *testing.T
	http *http.Client
	base string // address of her draft
}

func byPage(t *testing.T, store *orders.Store, answers []raw) orders.Draft {
	t.Helper()
	site, err := server.New(server.Config{Store: store, Log: slog.New(slog.NewTextHandler(io.Discard, nil))})
	require.NoError(t, err)
	handler, err := site.Handler()
	require.NoError(t, err)
	listening := httptest.NewServer(handler)
	defer listening.Close()
	c := &formClient{t: t, http: &http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}}
	begun := c.post(listening.URL+"/begin", url.Values{"privacy": {"yes"}}, http.StatusSeeOther)
	path, _, _ := strings.Cut(begun, "/ask/")
	c.base = listening.URL + path
	for i := 0; i < len(answers); i++ {
		form, a := url.Values{}, answers[i]
		c.fill(form, a)
		for i+1 < len(answers) && pageOf(answers[i+1]) == pageOf(a) { // several stand on one page
			i++
			c.fill(form, answers[i])
		}
		c.give(a, form)
	}
	c.leaveTheRest(store)
	c.post(c.base+"/send", nil, http.StatusSeeOther)
	return sentDraft(t, store, orders.DoorWeb)
}

func pageOf(a raw) string {
	q, _ := orders.Questions.Find(a.key)
	return q.Page
}

// fill puts an answer into the fields of its question, or presses the button that stands for it.
func (c *formClient) fill(form url.Values, a raw) {
	switch {
	case a.left:
		form.Set("skip", a.key)
	case slices.Equal(a.texts, []string{orders.Later}):
		form[a.key] = []string{"", "", ""}
		form.Set("later", a.key)
	case slices.Equal(a.texts, []string{orders.NotFixed}):
		form.Set("open", a.key)
	default:
		form[a.key] = a.texts
	}
}

func (c *formClient) give(a raw, form url.Values) {
	c.t.Helper()
	q, ok := orders.Questions.Find(a.key)
	require.True(c.t, ok, "there is no question %s", a.key)
	at := c.base + "/ask/" + q.Page
	if a.more {
		form[a.key] = a.texts[:len(a.texts)-1]
		c.post(at, form, http.StatusUnprocessableEntity)
		form[a.key] = a.texts
	}
	if a.sure {
		c.post(at, form, http.StatusUnprocessableEntity)
		form.Set("sure", a.key)
	}
	c.post(at, form, http.StatusSeeOther)
}

// leaveTheRest leaves out every other question that the page offers, photographs apart.
func (c *formClient) leaveTheRest(store *orders.Store) {
	c.t.Helper()
	_, link, _ := strings.Cut(c.base, orders.DraftPath)
	d, err := store.DraftByLink(c.t.Context(), link)
	require.NoError(c.t, err)
	for _, q := range orders.Questions {
		if _, given := d.Answers[q.Key]; !given && !q.Needed && q.Kind != orders.Photograph && q.Applies(d.Answers) {
			c.post(c.base+"/ask/"+q.Page, url.Values{"skip": {q.Key}}, http.StatusSeeOther)
		}
	}
}

// post sends a form, wants that status, and returns where the answer leads.
func (c *formClient) post(at string, form url.Values, status int) string {
	c.t.Helper()
	res, err := c.http.PostForm(at, form)
	require.NoError(c.t, err)
	defer func() { _ = res.Body.Close() }()
	body, err := io.ReadAll(res.Body)
	require.NoError(c.t, err)
	require.Equal(c.t, status, res.StatusCode, "%s with %v:\n%s", at[strings.LastIndex(at, "/"):], form, body)
	return res.Header.Get("Location")
}

// A chatClient speaks in the rehearsal chat.
type chatClient struct {
	t     *testing.T
	store *orders.Store
}

const chatAddress = "the same answers"

func byChat(t *testing.T, store *orders.Store, answers []raw) orders.Draft {
	t.Helper()
	c := chatClient{t, store}
	c.say("")
	c.press("Yes, I agree")
	var extras []raw
	for _, a := range answers {
		if q, _ := orders.Questions.Find(a.key); q.OnTheWay() {
			c.asks(a.key)
			c.give(a)
		} else {
			extras = append(extras, a)
		}
	}
	c.press("Add more")
	c.add(extras)
	c.press("Send it")
	return sentDraft(t, store, orders.DoorRehearsal)
}

// add answers the extra questions as they come, and skips those that are not in the list.
func (c chatClient) add(extras []raw) {
	c.t.Helper()
	for range orders.Questions {
		key := c.asked()
		if key == "" {
			return
		}
		a := raw{key: key, left: true}
		if at := slices.IndexFunc(extras, func(a raw) bool { return a.key == key }); at >= 0 {
			a = extras[at]
		}
		c.give(a)
	}
	c.t.Fatal("the chat never stops asking")
}

func (c chatClient) give(a raw) {
	c.t.Helper()
	q, _ := orders.Questions.Find(a.key)
	switch value := strings.Join(a.texts, " "); {
	case a.left:
		c.press("Skip this")
	case value == orders.Later || value == orders.NotFixed || q.Kind == orders.Choice || q.Kind == orders.Consent && value == orders.Yes:
		c.pressValue(a.key + "=" + value)
	case q.Kind == orders.Choices:
		for _, v := range a.texts {
			c.pressValue(a.key + "=" + v)
		}
		c.press("Done")
	default:
		for _, text := range a.texts {
			c.say(text)
		}
	}
	if a.sure {
		c.press("Yes, keep it")
	}
}

func (c chatClient) last() orders.Letter {
	c.t.Helper()
	said, err := bot.Transcript(c.t.Context(), c.store, chatAddress)
	require.NoError(c.t, err)
	require.NotEmpty(c.t, said, "the chat says something")
	return said[len(said)-1]
}

// asked is the key of the question that was put last, "" at the summary.
func (c chatClient) asked() string {
	c.t.Helper()
	body := c.last().Body
	for _, q := range orders.Questions {
		if strings.Contains(body, q.Label) {
			return q.Key
		}
	}
	return ""
}

func (c chatClient) asks(key string) {
	c.t.Helper()
	require.Equal(c.t, key, c.asked(), "the chat asks this next, and not:\n%s", c.last().Body)
}

func (c chatClient) say(words string) {
	c.t.Helper()
	require.NoError(c.t, bot.Say(c.t.Context(), c.store, chatAddress, words))
}

func (c chatClient) press(label string) {
	c.t.Helper()
	c.button(func(o orders.Option) bool { return o.Label == label }, label)
}

func (c chatClient) pressValue(value string) {
	c.t.Helper()
	c.button(func(o orders.Option) bool { return o.Value == value }, value)
}

// button presses one that stands under the last message.
func (c chatClient) button(is func(orders.Option) bool, what string) {
	c.t.Helper()
	last := c.last()
	at := slices.IndexFunc(last.Buttons, is)
	require.GreaterOrEqual(c.t, at, 0, "there is no button %s under:\n%s", what, last.Body)
	require.NoError(c.t, bot.Press(c.t.Context(), c.store, chatAddress, last.Buttons[at].Value))
}
