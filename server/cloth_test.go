package server

import (
	"fmt"
	"net/http"
	"net/url"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/orders"
)

// hidden is the value of a hidden field of the form that posts to an address.
func hidden(t *testing.T, page, action, name string) string {
	t.Helper()
	_, form, found := strings.Cut(page, `action="`+action+`"`)
	require.True(t, found, "a form posts to %s", action)
	m := regexp.MustCompile(`name="` + name + `" value="([^"]*)"`).FindStringSubmatch(form)
	require.NotNil(t, m, "%s has a field %s", action, name)
	return m[1]
}

func (b *benchSite) roll(number int) orders.Roll {
	b.t.Helper()
	r, err := b.store.Roll(b.t.Context(), number)
	require.NoError(b.t, err)
	return r
}

func sageAsTyped(more ...string) url.Values {
	v := say("colour", "Sage green", "swatch", "#8A9A5B", "width", "90,5 cm", "swatch_width", "10 cm", "swatch_length", "20 cm", "swatch_weighed", "2.4 g",
		"bias_marked", "20 cm", "bias_pulled", "24.4 cm", "note", "a firm one", "length", "3 m")
	for name, values := range say(more...) {
		v[name] = values
	}
	return v
}

func TestARollIsAddedCorrectedCountedAndPutAway(t *testing.T) {
	b := signedInBench(t)
	shows(t, b.see("/workroom/cloth"), "Add the first")
	b.see("/workroom/cloth/rolls")
	page := b.accepted("/workroom/cloth/rolls", sageAsTyped())
	made := orders.RollCloth{Colour: "Sage green", Swatch: "#8a9a5b", Width: 905, SwatchWidth: 100, SwatchLength: 200, SwatchWeighed: 2.4, BiasMarked: 200, BiasPulled: 244, Note: "a firm one"}
	assert.Equal(t, made, b.roll(1).Made)
	for _, words := range []string{"Roll 1, Sage green", "3 m", "120 g/m²", "22.0 %", `fill="#8a9a5b"`, "a firm one", "Came in", benchMaker} {
		shows(t, page, words)
	}
	list := b.see("/workroom/cloth")
	shows(t, list, "120 g/m²")
	shows(t, list, "22 % on the bias")

	counted := say("entry", hidden(t, page, "/workroom/cloth/rolls/1/counted", "entry"), "counted", "2.85 m", "why", "the end is stained")
	page = b.accepted("/workroom/cloth/rolls/1/counted", counted)
	shows(t, page, "−15 cm")
	shows(t, page, "the end is stained")
	bought := say("entry", hidden(t, page, "/workroom/cloth/rolls/1/bought", "entry"), "bought", "150 cm", "from", "the mill")
	b.accepted("/workroom/cloth/rolls/1/bought", bought)
	b.accepted("/workroom/cloth/rolls/1/bought", bought) // sent twice
	assert.Equal(t, 4350, b.roll(1).Left)

	b.accepted("/workroom/cloth/rolls/1", sageAsTyped("colour", "Moss", "version", "1"))
	b.refused(http.StatusConflict, "/workroom/cloth/rolls/1", sageAsTyped("colour", "Fern", "version", "1"))
	assert.Equal(t, "Moss", b.roll(1).Made.Colour)
	page = b.accepted("/workroom/cloth/rolls/1/away", say("version", "2"))
	shows(t, page, "Put away")
	shows(t, b.see("/workroom/cloth/put-away"), "Moss")
	hides(t, b.see("/workroom/cloth"), "Moss")
	b.accepted("/workroom/cloth/rolls/1/out", say("version", "3"))
	assert.Zero(t, b.roll(1).Left)
}

func TestNonsenseAboutARollIsSaidBesideItsField(t *testing.T) {
	b := signedInBench(t)
	for _, wrong := range [][2]string{
		{"colour", ""}, {"colour", strings.Repeat("x", 61)}, {"swatch", "red"}, {"width", "9 cm"}, {"width", "NaN"}, {"weight", "104"}, {"weight", "1e3"},
		{"swatch_width", ""}, {"swatch_length", "5 m"}, {"swatch_weighed", "Inf"}, {"swatch_weighed", "240"}, {"bias_marked", ""}, {"bias_pulled", "19 cm"},
		{"note", strings.Repeat("x", 501)}, {"length", "much"}, {"length", "-3 m"}, {"length", "2000 m"},
	} {
		page := b.refused(http.StatusUnprocessableEntity, "/workroom/cloth/rolls", sageAsTyped(wrong[0], wrong[1]))
		assert.Contains(t, page, `id="f-`+wrong[0]+`-problem"`, "%s %q has its problem beside it", wrong[0], wrong[1])
		if wrong[0] != "width" {
			assert.Contains(t, page, `value="90,5 cm"`, "what was typed survives")
		}
	}
	list, _, err := b.store.Rolls(t.Context(), false, 0, 9)
	require.NoError(t, err)
	require.Empty(t, list)
	b.accepted("/workroom/cloth/rolls", sageAsTyped())
	for _, wrong := range [][3]string{{"counted", "counted", "soon"}, {"counted", "why", ""}, {"bought", "bought", "0"}, {"bought", "bought", "-1 m"}, {"counted", "counted", ""}} {
		form := say("entry", orders.NewEntryID(), "counted", "2 m", "why", "because", "bought", "1 m")
		form.Set(wrong[1], wrong[2])
		page := b.refused(http.StatusUnprocessableEntity, "/workroom/cloth/rolls/1/"+wrong[0], form)
		assert.Contains(t, page, `id="f-`+wrong[1]+`-problem"`, "%v", wrong)
	}
	assert.Equal(t, 3000, b.roll(1).Left)
	for _, path := range []string{"/workroom/cloth/rolls/9", "/workroom/cloth/rolls/x", "/workroom/cloth/rolls/1e9"} {
		assert.Equal(t, http.StatusNotFound, b.get(path).status, path)
	}
	assert.Equal(t, http.StatusNotFound, b.post("/workroom/cloth/elastic/3", say("length-3", "3 m")).status, "there is no such reel")
}

// A hat from choosing its roll to cutting it.
func TestAHatIsCutFromItsRoll(t *testing.T) {
	b := signedInBench(t)
	b.accepted("/workroom/cloth/rolls", sageAsTyped())
	c := b.enquiry(orders.DoorWeb, nil)
	shows(t, b.see(room(c)+"/settle"), "Roll 1, Sage green, 3 m free")
	page := b.accepted(room(c)+"/settle", b.versioned(c, wholeHat("cloth.roll", "1")))
	takes := orders.ToCut(b.fitted(c.ID).Settled.Result.Cloth.Takes.Length)
	shows(t, page, "Takes "+metres(takes)+" of 3 m that is free for it")
	page = b.accepted(room(c)+"/settle", b.versioned(c, wholeHat("cloth.roll", "1", "do", "sign")))
	shows(t, page, "Roll 1, Sage green, "+rollAmount(takes).String())
	assert.Equal(t, 3000-takes, b.roll(1).Free)
	shows(t, b.see("/workroom/cloth/rolls/1"), c.Number+" / 1")

	path := room(c) + "/sheets/1"
	entry := hidden(t, page, path+"/cut", "entry")
	for _, typed := range []string{"", "some", "0", "4 m", "NaN"} {
		again := b.refused(http.StatusUnprocessableEntity, path+"/cut", say("entry", entry, "cut-"+entry, typed))
		assert.Contains(t, again, `id="f-cut-`+entry+`-problem"`, "cut %q", typed)
	}
	cut := say("entry", entry, "cut-"+entry, "70 cm")
	page = b.accepted(path+"/cut", cut)
	shows(t, page, "70 cm written down as cut; 2.3 m is left.")
	shows(t, b.accepted(path+"/cut", cut), "written down already")
	assert.Equal(t, []int{2300, 2300}, []int{b.roll(1).Left, b.roll(1).Free})
	assert.Equal(t, http.StatusNotFound, b.post(path+"/cut", say("entry", orders.NewEntryID(), "cut-", "70 cm")).status)

	other := b.enquiry(orders.DoorWeb, nil)
	b.accepted(room(other)+"/settle", b.versioned(other, wholeHat("cloth.roll", "1")))
	page = b.accepted(room(other)+"/settle", b.versioned(other, wholeHat("cloth.roll", "1", "do", "sign")))
	b.accepted(room(other)+"/sheets/1/let-go", say("entry", hidden(t, page, room(other)+"/sheets/1/let-go", "entry")))
	assert.Equal(t, 2300, b.roll(1).Free)
}

func TestTooShortARollIsSaidAtSigning(t *testing.T) {
	b := signedInBench(t)
	b.accepted("/workroom/cloth/rolls", sageAsTyped("length", "20 cm"))
	c := b.enquiry(orders.DoorWeb, nil)
	page := b.accepted(room(c)+"/settle", b.versioned(c, wholeHat("cloth.roll", "1")))
	shows(t, page, "Past the limit.")
	hides(t, page, "I buy the rest")
	sign := b.versioned(c, wholeHat("cloth.roll", "1", "do", "sign"))
	page = b.refused(http.StatusUnprocessableEntity, room(c)+"/settle", sign)
	shows(t, page, "Roll 1, Sage green: 20 cm free")
	shows(t, page, "I buy the rest")
	b.accepted(room(c)+"/settle", b.versioned(c, wholeHat("cloth.roll", "1", "do", "sign", "buy-rest", "yes")))
	assert.Negative(t, b.roll(1).Free)

	list := b.see("/workroom/cloth/shopping")
	for _, words := range []string{"Roll 1, Sage green", metres(-b.roll(1).Free), c.Number, "order by", room(c) + "/sheets/1"} {
		shows(t, list, words)
	}
	page = b.refused(http.StatusUnprocessableEntity, "/workroom/cloth/rolls/1/away", say("version", "1"))
	shows(t, page, "is reserved")
	counted := say("entry", orders.NewEntryID(), "counted", "3 m", "why", "a second end")
	b.accepted("/workroom/cloth/rolls/1/counted", counted)
	shows(t, b.see("/workroom/cloth/shopping"), "All cloth and elastic that is reserved lies there")
}

func TestNotionsAndElasticStandOnTheShoppingList(t *testing.T) {
	b := signedInBench(t)
	b.accepted("/workroom/studio", studioAsTyped(b, "reel-1-name", "Fine, black", "reel-1-rest", "20 cm", "reel-1-loaded", "24 cm", "reel-1-weight", "100 g"))
	shows(t, b.see("/workroom/cloth"), "Fine, black")
	b.refused(http.StatusUnprocessableEntity, "/workroom/cloth/elastic/1", say("length-1", "long"))
	b.accepted("/workroom/cloth/elastic/1", say("length-1", "30 cm"))
	b.accepted("/workroom/cloth/notions", say("notion", "Wire", "buy", "yes"))
	b.refused(http.StatusUnprocessableEntity, "/workroom/cloth/notions", say("notion", "wire"))
	b.accepted("/workroom/cloth/notions", say("notion", "Combs"))
	list := b.see("/workroom/cloth/shopping")
	shows(t, list, "Wire")
	hides(t, list, "Combs")
	c := b.enquiry(orders.DoorWeb, nil)
	b.accepted(room(c)+"/settle", b.versioned(c, wholeHat()))
	page := b.refused(http.StatusUnprocessableEntity, room(c)+"/settle", b.versioned(c, wholeHat("do", "sign")))
	shows(t, page, "“Fine, black”: 30 cm free")
	b.accepted(room(c)+"/settle", b.versioned(c, wholeHat("do", "sign", "buy-rest", "yes")))
	list = b.see("/workroom/cloth/shopping")
	shows(t, list, "Fine, black")
	shows(t, list, "Without a roll")
	notions, err := b.store.Notions(t.Context())
	require.NoError(t, err)
	b.accepted("/workroom/cloth/notions", say("n-"+notions[0].ID, "off", "n-"+notions[1].ID, "enough"))
	hides(t, b.see("/workroom/cloth/shopping"), "Wire")
	notions, err = b.store.Notions(t.Context())
	require.NoError(t, err)
	require.Len(t, notions, 1)
}

// However many rolls, entries and hats there are, each page asks as little and stays as small.
func TestClothPagesStayAsSmallAsTheyAre(t *testing.T) {
	b := signedInBench(t)
	look := func(path string) (int64, int) {
		before := b.ran.Load()
		page := b.see(path)
		return b.ran.Load() - before, len(page)
	}
	more := func(n int) {
		require.NoError(t, b.store.Together(t.Context(), func(s *orders.Store) error {
			for i := range n {
				if _, err := s.AddRoll(t.Context(), orders.RollCloth{Colour: fmt.Sprintf("Colour %03d", i)}, 1000, "Wren"); err != nil {
					return err
				}
				if err := s.Buy(t.Context(), 1, orders.NewEntryID(), 100, "", "Wren"); err != nil {
					return err
				}
			}
			return nil
		}))
	}
	more(45)
	paths := []string{"/workroom/cloth", "/workroom/cloth/rolls/1", "/workroom/cloth/shopping"}
	asked, sizes := map[string]int64{}, map[string]int{}
	for _, path := range paths {
		asked[path], sizes[path] = look(path)
		assert.Less(t, asked[path], int64(16), "%s asks little", path)
	}
	more(150)
	for _, path := range paths {
		statements, length := look(path)
		assert.Equal(t, asked[path], statements, "statements of %s", path)
		assert.InEpsilon(t, sizes[path], length, 0.05, "size of %s", path)
	}
	second := b.see(leads(t, b.see("/workroom/cloth"), "next"))
	shows(t, second, "Roll "+strconv.Itoa(rollsOnPage+1)+",")
	b.see(leads(t, b.see("/workroom/cloth/rolls/1"), "next"))
}
