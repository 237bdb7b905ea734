package server

import (
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/fitting"
	"perchbook/orders"
)

func studioAsTyped(b *benchSite, changed ...string) url.Values {
	b.t.Helper()
	st, err := b.store.Studio(b.t.Context())
	require.NoError(b.t, err)
	v := say("version", strconv.Itoa(st.Version))
	for key, typed := range writtenStudio(st) {
		v.Set(key, typed)
	}
	for name, values := range say(changed...) {
		v[name] = values
	}
	return v
}

func TestTheSettingsAreReadAsTyped(t *testing.T) {
	b := signedInBench(t)
	b.see("/workroom/studio")
	page := b.accepted("/workroom/studio", studioAsTyped(b, "name", "Tern Lane", "zone", "America/Halifax",
		"hours-1", "9–12.30, 13:30 - 17", "hours-2", "closed", "hours-3", "09:00 to 24:00", "hours-4", "", "hours-5", "10h30–12",
		"closed_days", "2026-12-25\r\n24 December 2026\r\n\r\n1 Jan 2027", "blocks", "12 cm\r\n4 3/4 in; 110 mm\r\n12 cm",
		"buffer", "３０", "notice", "48", "minutes-fitting", "50", "side", "left",
		"reel-1-name", "Fine, black", "reel-1-width", "2 mm", "reel-1-rest", "20 cm", "reel-1-loaded", "24,1 cm", "reel-1-weight", "100 g",
		"reel-3-name", "Stout", "reel-3-rest", "10 in", "reel-3-loaded", "30 cm", "reel-3-weight", "1 N",
		"cloth_width", "91 cm", "density", "120 g/m²", "bias_stretch", "18.5 %", "layers", "two turned", "firmest", "0.8"))
	st, err := b.store.Studio(t.Context())
	require.NoError(t, err)
	assert.Equal(t, "America/Halifax", st.Zone)
	assert.Equal(t, []orders.Hours{
		{Day: time.Monday, Opens: 540, Shuts: 750}, {Day: time.Monday, Opens: 810, Shuts: 1020},
		{Day: time.Wednesday, Opens: 540, Shuts: 1440}, {Day: time.Friday, Opens: 630, Shuts: 720},
	}, st.Hours)
	assert.Equal(t, []string{"2026-12-24", "2026-12-25", "2027-01-01"}, st.ClosedDays)
	assert.InDeltaSlice(t, []float64{110, 120, 120.65}, st.Blocks, 0.051)
	assert.Equal(t, []any{30, 48, 50, "left"}, []any{st.BufferMinutes, st.NoticeHours, st.Minutes[orders.Fitting], st.SideByTradition})
	assert.Equal(t, orders.Materials{
		Reels:      []orders.Reel{{Number: 1, Name: "Fine, black", Width: 2, Rest: 200, Loaded: 241, Weight: 100}, {Number: 3, Name: "Stout", Rest: 254, Loaded: 300, Weight: 101.97}},
		ClothWidth: 910, Density: 120, BiasStretch: 0.185, Layers: fitting.TwoTurned, Firmest: 0.8,
	}, st.Materials)
	shows(t, page, "Tern Lane")
	shows(t, page, `value="9:00–12:30, 13:30–17:00"`)
	again := b.accepted("/workroom/studio", studioAsTyped(b)) // what the page shows can be sent as it stands
	shows(t, again, "24 December 2026")
	kept, err := b.store.Studio(t.Context())
	require.NoError(t, err)
	st.Version, kept.Version = 0, 0
	assert.Equal(t, st, kept, "sent back unchanged it is unchanged")
}

func TestWrongSettingsAreSaidBesideTheirFields(t *testing.T) {
	b := signedInBench(t)
	before := studioAsTyped(b)
	for _, wrong := range [][2]string{
		{"name", ""}, {"name", strings.Repeat("x", 201)}, {"zone", ""}, {"zone", "Local"}, {"zone", "Saltmere"}, {"zone", "../../etc/passwd"},
		{"hours-1", "9"}, {"hours-1", "17:00–9:00"}, {"hours-1", "9:00–25:00"}, {"hours-1", "9:75–10:00"}, {"hours-1", "9–12, 11–17"}, {"hours-0", "always"},
		{"closed_days", "Christmas"}, {"closed_days", "2026-02-30"},
		{"buffer", "NaN"}, {"buffer", "-1"}, {"buffer", "241"}, {"buffer", "1e2"}, {"buffer", "7.5"}, {"notice", ""}, {"notice", "a day"},
		{"minutes-fitting", "0"}, {"minutes-fitting", "9999999999"}, {"minutes-collection", "½"},
		{"blocks", "abc"}, {"blocks", "12 cm\nNaN"}, {"blocks", "4 m"}, {"side", "middle"}, {"side", ""},
		{"reel-1-name", strings.Repeat("x", 61)}, {"reel-1-width", "wide"}, {"reel-1-width", "3 cm"}, {"reel-1-width", "2"}, {"reel-1-rest", "1 mm"}, {"reel-1-loaded", "NaN"},
		{"reel-1-weight", "a stone"}, {"reel-1-weight", "1e3"}, {"reel-1-weight", "90 N"}, {"reel-1-weight", "-5"},
		{"cloth_width", "90 m"}, {"density", "Inf"}, {"bias_stretch", "60 %"}, {"stiffener", "0.2"}, {"extras", "heavy"}, {"firmest", "9 N"}, {"layers", "seven"},
	} {
		key, typed := wrong[0], wrong[1]
		page := b.refused(http.StatusUnprocessableEntity, "/workroom/studio", studioAsTyped(b, key, typed))
		assert.Contains(t, page, `id="f-`+key+`-problem"`, "%s %q has its problem beside it", key, typed)
		if key != "side" && key != "layers" {
			assert.Contains(t, page, typed, "%s: what was typed survives", key)
		}
	}
	assert.Equal(t, before, studioAsTyped(b), "nothing was kept")
	page := b.refused(http.StatusUnprocessableEntity, "/workroom/studio", studioAsTyped(b, "name", "", "hours-3", "9", "minutes-fitting", "0"))
	for _, said := range []string{"Give the studio a name", "Wednesday: write opening and closing", "Fitting: write a whole number"} {
		shows(t, page, said) // all at once, each with the name of its field
	}
}

func TestSettingsFromAnOldPageOverwriteNothing(t *testing.T) {
	b := signedInBench(t)
	old := studioAsTyped(b, "name", "Old Name")
	b.accepted("/workroom/studio", studioAsTyped(b, "name", "New Name"))
	page := b.refused(http.StatusConflict, "/workroom/studio", old)
	shows(t, page, `value="Old Name"`)
	st, err := b.store.Studio(t.Context())
	require.NoError(t, err)
	require.Equal(t, "New Name", st.Name)
	shows(t, page, `name="version" value="`+strconv.Itoa(st.Version)+`"`) // sent again, it is meant
}
