package server

import (
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/orders"
)

func TestFiguresAreKeptAndWorkedOut(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	b.see(room(c) + "/settle")
	page := b.accepted(room(c)+"/settle", b.versioned(c, wholeHat("hat.folds", "2", "elastic.working_stretch", "12", "hat.anchor_from_front", "30 %")))
	assert.Equal(t, map[string]float64{
		"hat.base_mm": 120, "hat.forward_deg": 25, "hat.sideways_deg": -35, "hat.brim_width_mm": 90, "hat.brim_slope_deg": 60,
		"hat.folds": 2, "elastic.working_stretch": 0.12, "hat.anchor_from_front": 0.3,
	}, b.fitted(c.ID).Working.Figures, "in the contract's names and units")
	assert.Equal(t, "Ivory thread.", b.fitted(c.ID).Working.Note)

	r := b.fitted(c.ID).Settled.Result
	for _, words := range []string{
		tape(r.Elastic.Cut.Millimetres()).Figure, tape(r.Placement.CrownToCentre.Millimetres()).Figure, clockWords(*r.Placement.Clock),
		cloth(r.Base.CutDiameter.Millimetres()).Inches, giveOrTake(r.Elastic), "drawing", "With your figures", "folded once",
		`value="12 cm"`, `value="35"`, `<option value="-" selected>her right`, "Ivory thread.",
	} {
		shows(t, page, words)
	}
}

// nonsense is what must never be taken for a figure, with a piece of what the page says.
var nonsense = map[string][3]string{
	"letters for a length":        {"hat.base_mm", "abc", "Base across"},
	"not a number":                {"hat.base_mm", "NaN", "Base across"},
	"an exponent":                 {"hat.base_mm", "1e9", "Base across"},
	"a length beyond all hats":    {"hat.base_mm", "4 m", "right here"},
	"less than nothing":           {"hat.brim_width_mm", "-3 cm", "less than nothing"},
	"two lengths":                 {"hat.brim_width_mm", "9 10", "more than one"},
	"not an angle":                {"hat.forward_deg", "NaN", "plain number"},
	"an infinite angle":           {"hat.forward_deg", "Inf", "plain number"},
	"an exponent for an angle":    {"hat.forward_deg", "1e9", "plain number"},
	"an angle too steep":          {"hat.brim_slope_deg", "89", "between 0 and 80"},
	"an angle with a sign":        {"hat.sideways_deg", "-35", "without a sign"},
	"layers that are never made":  {"hat.folds", "3", "4, 2 or 1"},
	"half a layer":                {"hat.folds", "2.5", "4, 2 or 1"},
	"more than all of the base":   {"hat.anchor_from_front", "101", "between 0 and 100"},
	"a trimming as heavy as lead": {"hat.trim_g", "99999", "between 0 and 300"},
	"elastic twice as long":       {"elastic.working_stretch", "100", "between 0 and 60"},
	"words":                       {"elastic.knot_mm", "a bit", "length"},
}

func TestNonsenseIsRefusedBesideItsFieldAndNothingIsLost(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	before := b.fitted(c.ID).Working
	for what, n := range nonsense {
		key, typed, says := n[0], n[1], n[2]
		page := b.refused(http.StatusUnprocessableEntity, room(c)+"/settle", b.versioned(c, wholeHat(key, typed, "note", "Mind the left ear.")))
		_, after, found := strings.Cut(page, `id="f-`+key+`-problem"`)
		require.True(t, found, "%s: the problem stands beside %s", what, key)
		problem, after, _ := strings.Cut(after, "</p>")
		assert.Contains(t, problem, says, what)
		_, after, _ = strings.Cut(after, `id="f-`+key+`"`)
		control, _, _ := strings.Cut(after, ">")
		assert.Contains(t, control, `value="`+typed+`"`, "%s: what was typed survives", what)
		assert.Contains(t, control, `aria-invalid="true"`, what)
		shows(t, page, "Mind the left ear.")
		if key != "hat.base_mm" {
			shows(t, page, `value="12 cm"`)
		}
	}
	assert.Equal(t, before, b.fitted(c.ID).Working, "none of it was kept")
}

func TestFullWidthAndCommaFiguresAreUnderstood(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	b.accepted(room(c)+"/settle", b.versioned(c, wholeHat("hat.base_mm", "４ 3/4 in", "hat.forward_deg", "２２,５°")))
	figures := b.fitted(c.ID).Working.Figures
	assert.InDelta(t, 120.65, figures["hat.base_mm"], 0.051, "4 3/4 in, to a tenth of a millimetre")
	assert.InDelta(t, 22.5, figures["hat.forward_deg"], 1e-9)
}

func TestAHatThatCannotBeIsRefusedBesideItsFigure(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	page := b.refused(http.StatusUnprocessableEntity, room(c)+"/settle", b.versioned(c, wholeHat("hat.base_mm", "24 cm")))
	why := b.fitted(c.ID).Broken
	require.NotNil(t, why, "the engine refuses so large a base")
	require.Equal(t, "hat.base_mm", why.Field)
	shows(t, page, `id="f-hat.base_mm-problem"`)
	shows(t, page, `value="24 cm"`)
	shows(t, b.see(room(c)+"/settle"), `value="24 cm"`)
	b.see(room(c))
	b.refused(http.StatusUnprocessableEntity, room(c)+"/settle", b.versioned(c, wholeHat("hat.base_mm", "24 cm", "do", "sign")))
	sheets, err := b.store.Sheets(t.Context(), c.ID)
	require.NoError(t, err)
	assert.Empty(t, sheets, "it was not signed")
}

func TestOneFigureOrAllGoBackToTheProposal(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	b.accepted(room(c)+"/settle", b.versioned(c, wholeHat("hat.folds", "2")))
	page := b.accepted(room(c)+"/settle", b.versioned(c, wholeHat("hat.folds", "2", "reset", "hat.folds")))
	figures := b.fitted(c.ID).Working.Figures
	assert.NotContains(t, figures, "hat.folds", "reset")
	assert.Len(t, figures, 5, "the others stay")
	hides(t, page, `name="reset" value="hat.folds"`)

	b.post(room(c)+"/settle", b.versioned(c, wholeHat("reset", "all")))
	assert.Empty(t, b.fitted(c.ID).Working.Figures, "all reset")
	assert.Equal(t, "Ivory thread.", b.fitted(c.ID).Working.Note, "the note is no figure")
	b.see(room(c) + "/settle")
}

func TestAnOldPageOverwritesNothing(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	old := b.versioned(c, wholeHat("hat.base_mm", "11 cm", "note", "From the old page."))
	b.accepted(room(c)+"/settle", b.versioned(c, wholeHat()))
	for _, version := range []string{old.Get("version"), "", "x"} {
		old.Set("version", version)
		page := b.refused(http.StatusConflict, room(c)+"/settle", old)
		shows(t, page, `value="11 cm"`)
		shows(t, page, "From the old page.")
		shows(t, page, settledMeanwhile)
	}
	assert.InDelta(t, 120, b.fitted(c.ID).Working.Figures["hat.base_mm"], 0, "what stood there stands")

	// a new tape makes the page old too: the result on it is no longer true
	open := b.versioned(c, wholeHat("do", "sign"))
	b.accepted(room(c)+"/measure", say("girth", "58"))
	b.refused(http.StatusConflict, room(c)+"/settle", open)
}

func TestOnlyWhatWasShownIsSigned(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	b.accepted(room(c)+"/settle", b.versioned(c, wholeHat()))
	page := b.accepted(room(c)+"/settle", b.versioned(c, wholeHat("hat.base_mm", "11 cm", "do", "sign")))
	shows(t, page, "had changed since the result was worked out")
	sheets, err := b.store.Sheets(t.Context(), c.ID)
	require.NoError(t, err)
	require.Empty(t, sheets, "figures never seen worked out are not signed")
	assert.Equal(t, orders.Measured, b.commission(c.ID).Stage)
}

func TestSigningOffMakesOneNumberedSheet(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	b.accepted(room(c)+"/settle", b.versioned(c, wholeHat()))
	form := b.versioned(c, wholeHat("do", "sign"))
	page := b.accepted(room(c)+"/settle", form)
	shows(t, page, "26-001 / 1")
	b.refused(http.StatusConflict, room(c)+"/settle", form) // the button pressed twice

	sheets, err := b.store.Sheets(t.Context(), c.ID)
	require.NoError(t, err)
	require.Len(t, sheets, 1, "one sheet")
	assert.Equal(t, benchMaker, sheets[0].SignedBy)
	assert.Equal(t, orders.Proposed, b.commission(c.ID).Stage)
	require.Len(t, b.letters(c), 1, "one letter")
	shows(t, b.see(room(c)), room(c)+"/sheets/1")

	b.accepted(room(c)+"/settle", b.versioned(c, wholeHat("hat.base_mm", "11 cm")))
	shows(t, b.see(room(c)), "Not as signed")
	unreasoned := b.refused(http.StatusUnprocessableEntity, room(c)+"/settle", b.versioned(c, wholeHat("hat.base_mm", "11 cm", "do", "sign")))
	shows(t, unreasoned, "Write a word on why the design changes")
	hides(t, unreasoned, "As it was worked out last")
	second := b.accepted(room(c)+"/settle", b.versioned(c, wholeHat("hat.base_mm", "11 cm", "do", "sign", "why", "She found it large.")))
	shows(t, second, "She found it large.")
	shows(t, second, `Base across: <b>11.0 cm (4 3/8 in)</b> <span class="soft">(was 12.0 cm (4 3/4 in))</span>`)
	hides(t, second, `Brim width: <b>9.0 cm (3 1/2 in)</b> <span class="soft">(was`) // it stays
	shows(t, second, "26-001 / 2")
	first := b.see(room(c) + "/sheets/1")
	shows(t, first, "Not the newest")
	shows(t, first, "12.0 cm")
	for _, number := range []string{"0", "3", "-1", "x", "99999999999999999999"} {
		assert.Equal(t, http.StatusNotFound, b.get(room(c)+"/sheets/"+number).status, "sheet %s", number)
	}
}

var blank = regexp.MustCompile(`\s+`)

func TestAFitSheetHasAllThatTheBenchNeeds(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	page := b.signed(c)
	r := b.fitted(c.ID).Settled.Result
	words := blank.ReplaceAllString(regexp.MustCompile(`<[^>]*>`).ReplaceAllString(page, " "), " ")
	for _, want := range []string{
		"Nella Quill", "Ivory thread.", "Signed off by Wren, Tue 28 April 2026, 10:20",
		"Cut circles " + cloth(r.Base.CutDiameter.Millimetres()).Figure, "four layers, all one way", "4 × Base circle 5, 6, 7, 8 across " + cloth(r.Base.CutDiameter.Millimetres()).Figure,
		"Base across " + tape(r.Base.Diameter.Millimetres()).Figure,
		"Crown to centre " + tape(r.Placement.CrownToCentre.Millimetres()).Figure, "Towards " + clockWords(*r.Placement.Clock),
		"Strip long " + cloth(r.Strip.Length.Millimetres()).Figure, "Brim width 9.0 cm",
		"Steam to: inner radius " + tape(r.Brim.FlatInnerRadius.Millimetres()).Figure, "Outer radius " + tape(r.Brim.FlatOuterRadius.Millimetres()).Figure,
		"Cut " + tape(r.Elastic.Cut.Millimetres()).Figure, "Straight ahead " + seen(r.View.Ahead).Figure,
		"Tilt to the side: 35° her right", // settled otherwise than proposed
		"Steam burns", "An iron burns", "Count needles and pins", "Stiffener gives off fumes", "Never over-tight", "never drive", "Local rules, and the instructions",
		"Lay of the cloth", "the lay takes", "Hats alike: 1 from this piece", "adhesive and water, 1 to 1",
	} {
		assert.Contains(t, words, want)
	}
	for _, n := range r.Cautions {
		assert.Contains(t, words, blank.ReplaceAllString(n.Says, " "), "the engine's own caution")
	}
}

func TestTheStripAgreesWithItself(t *testing.T) {
	b := newBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	w := orders.Working{CommissionID: c.ID, Figures: map[string]float64{"hat.base_mm": 120, "hat.forward_deg": 25, "hat.sideways_deg": -35, "hat.brim_width_mm": 83, "hat.brim_slope_deg": 60}}
	_, err := b.store.SaveWorking(t.Context(), w)
	require.NoError(t, err)
	s := b.fitted(c.ID).Settled.Result.Strip
	rows := stripSizes(s)
	mark, opened := rows[0].Amount.Figure, rows[2].Amount.Figure
	x, ok := plainNumber(strings.TrimSuffix(mark, " cm"))
	require.True(t, ok)
	y, ok := plainNumber(strings.TrimSuffix(opened, " cm"))
	require.True(t, ok)
	assert.InDelta(t, 2*x, y, 1e-9, "twice what is marked from the fold is what it opens to")
	assert.GreaterOrEqual(t, y*10, s.FlatWidth.Millimetres(), "rounding takes no cloth away")
}

func TestFormsWithoutFieldsAreNoFaults(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	b.refused(http.StatusConflict, room(c)+"/settle", url.Values{})
	b.refused(http.StatusConflict, room(c)+"/move", url.Values{})
	b.refused(http.StatusUnprocessableEntity, room(c)+"/letters", url.Values{})
	b.refused(http.StatusUnprocessableEntity, room(c)+"/measure", url.Values{})
	b.refused(http.StatusUnprocessableEntity, "/workroom/studio", url.Values{})
	assert.Equal(t, http.StatusNotFound, b.post("/workroom/diary/book", say("start", "2026-04-30T09:00:00Z")).status, "a booking for nobody")
}

func TestTheFiguresThatHersMovedAreNamed(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	page := b.see(room(c) + "/settle")
	hides(t, page, "Moved to suit yours")
	hides(t, page, "to suit yours</span>")

	page = b.accepted(room(c)+"/settle", b.versioned(c, url.Values{"hat.base_mm": {"15 cm"}}))
	f := b.fitted(c.ID)
	moved := 0
	for _, g := range figures[1:] {
		was, now := g.say(g.proposed(f)), ""
		if g.Advised != nil {
			now = g.say(g.in(f.Settled.Result))
		}
		row := "now <b>" + now + "</b> <span class=\"suits\">to suit yours</span>, proposed " + was + "</p>"
		if now == "" || now == was {
			hides(t, page, row)
			continue
		}
		moved++
		shows(t, page, row)
		shows(t, page, g.Name+": <b>"+now+"</b>")
	}
	require.NotZero(t, moved, "so large a base moves some other figure")
	hides(t, page, "to suit yours</span>, proposed "+figures[0].say(figures[0].proposed(f)))

	page = b.accepted(room(c)+"/settle", b.versioned(c, url.Values{"hat.base_mm": {"15 cm"}, "do": {"sign"}}))
	shows(t, page, "Moved to suit them")
}

func TestASheetSaysWhenTheHatHasChangedSince(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	b.accepted(room(c)+"/settle", b.versioned(c, wholeHat()))
	sheet := b.accepted(room(c)+"/settle", b.versioned(c, wholeHat("do", "sign")))
	hides(t, sheet, "Not as the hat stands now")
	hides(t, b.see(room(c)), "Not as signed")
	shows(t, b.see(room(c)), ">Fit sheet "+c.Number+" / 1</a> <a class")

	b.accepted(room(c)+"/measure", url.Values{"girth": {"58.4 cm", "58.5 cm", "58.6 cm"}})
	shows(t, b.see(room(c)), "Not as signed")
	shows(t, b.see(room(c)+"/sheets/1"), "Not as the hat stands now")
	sheet = b.accepted(room(c)+"/settle", b.versioned(c, wholeHat("do", "sign", "why", "Measured anew.")))
	hides(t, sheet, "Not as the hat stands now")
	hides(t, b.see(room(c)+"/sheets/1"), "Not as the hat stands now") // it says that it is not the newest
}

func TestTryingKeepsNothingAndShowsWhatItComesTo(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	before := b.fitted(c.ID)
	got := b.post(room(c)+"/settle", b.versioned(c, wholeHat("do", "try")))
	require.Equal(t, http.StatusOK, got.status)
	shows(t, got.body, "not kept yet")
	tried, err := before.With(map[string]float64{"hat.base_mm": 120, "hat.forward_deg": 25, "hat.sideways_deg": -35, "hat.brim_width_mm": 90, "hat.brim_slope_deg": 60})
	require.NoError(t, err)
	shows(t, got.body, tape(tried.Settled.Result.Elastic.Cut.Millimetres()).Figure)
	shows(t, got.body, "Past the limit.") // its lowest edge
	assert.Equal(t, before.Working, b.fitted(c.ID).Working, "nothing is kept")
	b.refused(http.StatusUnprocessableEntity, room(c)+"/settle", b.versioned(c, wholeHat("do", "try", "hat.base_mm", "abc")))
}

func TestTheMillinerTakesOneOfThreeProposals(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, map[string]string{"presence": "bold"})
	page := b.see(room(c) + "/settle")
	assert.Equal(t, 3, strings.Count(page, `name="take" value="`), "three to take")
	shows(t, page, "as the client wishes")
	bold := b.fitted(c.ID).Settled.Result.Brim.Width
	page = b.accepted(room(c)+"/settle", b.versioned(c, wholeHat("take", "quiet")))
	f := b.fitted(c.ID)
	assert.Equal(t, map[string]float64{"wish.presence": 1}, f.Working.Figures, "the proposal as it is, without the figures typed")
	assert.Less(t, f.Settled.Result.Brim.Width, bold)
	shows(t, page, "taken by you")
	shows(t, page, `name="wish.presence" value="quiet"`)
	assert.Equal(t, f.Proposals[0].Solution.Result.Brim.Width, f.Settled.Result.Brim.Width, "what was compared is what is taken")
	page = b.accepted(room(c)+"/settle", b.versioned(c, url.Values{"take": {""}, "wish.presence": {"quiet"}}))
	assert.Empty(t, b.fitted(c.ID).Working.Figures, "and goes by the wish again")
	shows(t, page, "as the client wishes")
}
