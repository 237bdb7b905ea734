package server

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/fitting"
	"perchbook/orders"
)

// withReels gives the workroom two reels and a usual layer rule.
func withReels(b *benchSite) {
	b.t.Helper()
	st, err := b.store.Studio(b.t.Context())
	require.NoError(b.t, err)
	st.Materials = orders.Materials{Layers: fitting.TwoTurned, Reels: []orders.Reel{
		{Number: 1, Name: "Fine, black", Width: 2, Rest: 200, Loaded: 240, Weight: 100},
		{Number: 3, Name: "Stout, brown", Width: 4, Rest: 200, Loaded: 230, Weight: 200},
	}}
	_, err = b.store.SaveStudio(b.t.Context(), st)
	require.NoError(b.t, err)
}

func TestReelLayersAndAnchorsAreChosenForAHat(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	hides(t, b.see(room(c)+"/settle"), "Elastic from the reel") // the workroom has told of none
	withReels(b)
	page := b.see(room(c) + "/settle")
	shows(t, page, "proposed <b>Fine, black</b>")
	shows(t, page, "proposed <b>two layers, one turned by 45°</b>")
	shows(t, page, "two layers, one turned by 45°</span>")
	shows(t, page, "from the reel “Fine, black”")

	page = b.accepted(room(c)+"/settle", b.versioned(c, wholeHat("elastic.reel", "3", "hat.layers", "1", "hat.anchor", "2")))
	f := b.fitted(c.ID)
	assert.Equal(t, []float64{3, 1, 2}, []float64{f.Working.Figures["elastic.reel"], f.Working.Figures["hat.layers"], f.Working.Figures["hat.anchor"]})
	assert.Equal(t, "Stout, brown", f.Settled.Result.Elastic.Reel)
	assert.Equal(t, 4, f.Settled.Result.Base.Layers)
	shows(t, page, `<option value="3" selected>Stout, brown</option>`)
	shows(t, page, "from the reel “Stout, brown”")
	shows(t, page, "four layers, all one way")

	sheet := b.accepted(room(c)+"/settle", b.versioned(c, wholeHat("elastic.reel", "3", "hat.layers", "1", "hat.anchor", "2", "do", "sign")))
	for _, says := range []string{"Elastic from the reel: <b>Stout, brown</b>", "Layers of the base: <b>four layers, all one way</b>", "Place of the elastic: <b>nearest the ears</b>"} {
		shows(t, sheet, says+"</li>")
	}
	st, err := b.store.Studio(t.Context())
	require.NoError(t, err)
	st.Materials.Reels[1].Name = "Stout, the new one"
	_, err = b.store.SaveStudio(t.Context(), st)
	require.NoError(t, err)
	shows(t, b.see(room(c)+"/sheets/1"), "<b>Stout, brown</b>") // as it was called when it was signed

	b.accepted(room(c)+"/settle", b.versioned(c, wholeHat("elastic.reel", "3", "reset", "elastic.reel")))
	assert.NotContains(t, b.fitted(c.ID).Working.Figures, "elastic.reel", "as proposed again")
}

func TestWhatIsNotOnTheListIsRefusedBesideIt(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	withReels(b)
	before := b.fitted(c.ID).Working
	for key, typed := range map[string]string{"elastic.reel": "2", "hat.layers": "5", "hat.anchor": "NaN"} {
		page := b.refused(http.StatusUnprocessableEntity, room(c)+"/settle", b.versioned(c, url.Values{key: {typed}, "hat.base_mm": {"12 cm"}}))
		_, after, found := strings.Cut(page, `id="f-`+key+`-problem"`)
		require.True(t, found, "%s: the problem stands beside it", key)
		assert.Contains(t, after[:200], "choose one of the list")
		shows(t, page, `value="12 cm"`)
	}
	assert.Equal(t, before, b.fitted(c.ID).Working, "none of it was kept")
}

func TestWhatHasNoLengthIsGivenNone(t *testing.T) {
	rows := besides([]fitting.Notion{{Kind: fitting.Comb, Count: 1, Length: 50}, {Kind: fitting.Pins, Count: 2}, {Kind: fitting.Band, Count: 1}}, "")
	assert.Equal(t, []string{"Comb 5.0 cm", "2 × Pin ", "Band "}, []string{
		rows[0].Name + " " + rows[0].Size.Figure, rows[1].Name + " " + rows[1].Size.Figure, rows[2].Name + " " + rows[2].Size.Figure,
	})
}
