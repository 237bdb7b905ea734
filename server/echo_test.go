package server

import (
	"net/http"
	"net/url"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"perchbook/orders"
	"perchbook/templates"
)

// Every length that the milliner types is said back in both units, kept or not.
func TestTheWorkroomSaysLengthsBack(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	base := "/workroom/commissions/" + c.ID
	for _, typed := range []struct {
		path, key, text string
		form            url.Values
		echo            string
	}{
		{base + "/measure", "girth", "22 1/2 in", url.Values{"girth": {"22 1/2 in", "a plate"}}, "57.2 cm (22 1/2 in)"},
		{base + "/measure", "head_length", "19,3", url.Values{"head_length": {"19,3"}, "girth": {"a plate"}}, "19.3 cm (7 5/8 in)"},
		{base + "/settle", "hat.base_mm", "4 3/4 in", url.Values{"hat.base_mm": {"4 3/4 in"}, "hat.brim_width_mm": {"a plate"}}, "12.1 cm (4 3/4 in)"},
		{base + "/fitting", "elastic.cut_mm", "trente-huit cm", url.Values{"elastic.cut_mm": {"trente-huit cm"}, "hat.base_mm": {"a plate"}}, "38.0 cm (15 in)"},
		{"/workroom/studio", "reel-1-rest", "8 in", studioAsTyped(b, "reel-1-rest", "8 in"), "20.3 cm (8 in)"},
		{"/workroom/studio", "reel-1-width", "1/8 in", studioAsTyped(b, "reel-1-width", "1/8 in"), "3.2 mm (1/8 in)"},
		{"/workroom/studio", "blocks", "12", studioAsTyped(b, "blocks", "12\n4 3/4 in", "name", ""), "12.0 cm (4 3/4 in); 12.1 cm (4 3/4 in)"},
		{"/workroom/studio", "cloth_width", "36 in", studioAsTyped(b, "cloth_width", "36 in", "name", ""), "91.4 cm (3 ft 0 in)"},
	} {
		page := b.refused(http.StatusUnprocessableEntity, typed.path, typed.form)
		assert.Contains(t, page, typed.echo, "%s %s: %q is said back", typed.path, typed.key, typed.text)
		assert.Contains(t, page, typed.text, "%s %s: what was typed survives", typed.path, typed.key)
	}
}

// However the workroom writes a length, it can be typed again and means the same to its last figure.
func TestLengthsAsTheWorkroomWritesThemCanBeTyped(t *testing.T) {
	any := orders.Question{Key: "any", Short: "Any", Kind: orders.Length, Min: 10, Max: 3000}
	asTyped := figure{Least: any.Min, Most: any.Max}
	rapid.Check(t, func(t *rapid.T) {
		mm := rapid.Float64Range(30, 2000).Draw(t, "mm")
		for way, written := range map[string]struct {
			text   string
			within float64
		}{
			"tape": {tape(mm).String(), 0.5001}, "cloth": {cloth(mm).String(), 5.001}, "studio": {inCentimetres(mm), 0.05001}, "settle": {asTyped.written(mm), 0.05001},
			"inches": {tape(mm).Inches, 1.6376}, "reel": {with(" mm")(mm), 0.0551},
		} {
			f, again := readLength(any, written.text, time.Time{})
			require.Empty(t, f.Problem, "%s: %q", way, written.text)
			assert.InDelta(t, mm, again, written.within, "%s: %q", way, written.text)
		}
	})
}

// What a client reads in her language she can type in it.
func TestEchoesAreUnderstoodInEveryLanguage(t *testing.T) {
	for _, key := range []string{"girth", "height"} {
		q, _ := orders.Questions.Find(key)
		rapid.Check(t, func(t *rapid.T) {
			echo := orders.BothUnits(rapid.Float64Range(q.Min, q.Max).Draw(t, "mm"))
			for _, l := range templates.Languages {
				assert.Equal(t, echo, q.Echo(l.Put(echo)), "%s: %q", l, l.Put(echo))
			}
		})
	}
}
