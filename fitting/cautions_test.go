package fitting

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// cautionsAbout are a hat's cautions by the field that they are about.
func cautionsAbout(t *testing.T, in Input) map[string]Note {
	t.Helper()
	r, err := Fit(in)
	require.NoError(t, err)
	about := map[string]Note{}
	for _, n := range r.Cautions {
		require.NotEmpty(t, n.Says)
		require.NotEmpty(t, n.Source, n.Says)
		about[n.Field] = n
	}
	return about
}

func TestCautionsOfAGivenHat(t *testing.T) {
	// a hat that gives no cause: a drooping, narrow one well up on a common head
	calm := func() Input {
		in := readCase(t, "crown-set-flat-brim")
		*in.Hat.BrimWidth, *in.Hat.BrimSlope = 25, 30
		return in
	}
	about := cautionsAbout(t, calm())
	require.Len(t, about, 2, "the try-on, which is always said, and that a level hat is dragged back: %v", about)
	require.Contains(t, about, "elastic.cut_mm")
	require.Contains(t, about, "hold.t_max_n")
	for name, c := range map[string]struct {
		field  string
		change func(*Input)
		limit  float64
		says   string
	}{
		"a rare girth":         {"measures.girth_mm", func(in *Input) { *in.Measures.Girth, *in.Measures.NapeToCrown = 650, 260 }, 0, "rare"},
		"no nape tape":         {"measures.nape_to_crown_mm", func(in *Input) { in.Measures.NapeToCrown = nil }, 0, "guessed at 22.4 cm"},
		"no nape, other tapes": {"measures.nape_to_crown_mm", func(in *Input) { in.Measures.NapeToCrown, in.Measures.BrowToNape = nil, new(Length(380)) }, 0, "from the other tapes"},
		"ear to ear is off":    {"measures.ear_to_ear_mm", func(in *Input) { in.Measures.EarToEar = new(Length(385)) }, 0, "take this one again"},
		"brow to nape is off":  {"measures.brow_to_nape_mm", func(in *Input) { in.Measures.BrowToNape = new(Length(340)) }, 0, "where the other tapes make it"},
		"a lone caliper":       {"measures.head_length_mm", func(in *Input) { in.Measures.HeadLength = new(Length(172)) }, 0, "calipers was 17.2 cm"},
		"a base under a rule":  {"hat.base_mm", func(in *Input) { *in.Hat.Base, in.Occasion.LeastBase = 99, new(Length(101.6)) }, 101.6, "smaller"},
		"metric rule only":     {"hat.base_mm", func(in *Input) { *in.Hat.Base, in.Occasion.LeastBase = 100, new(Length(101.6)) }, 101.6, "not of 4 in"},
		"metric rule, said so": {"hat.base_mm", func(in *Input) { *in.Hat.Base, in.Occasion.LeastBase = 101, new(Length(100)) }, 101.6, "not of 4 in"},
		"a low rim":            {"placement.tape_line_to_rim_mm", func(in *Input) { *in.Hat.Forward, *in.Hat.Sideways = 25, -35 }, 25, "clears brow"},
		"a wide flat brim":     {"brim.shear_deg", func(in *Input) { *in.Hat.BrimWidth, *in.Hat.BrimSlope = 90, 0 }, 40, "locks"},
		"some work":            {"brim.shear_deg", func(in *Input) { *in.Hat.BrimWidth, *in.Hat.BrimSlope = 40, 0 }, 20, "steam"},
		"a hidden road":        {"view.ahead_deg", func(in *Input) { *in.Hat.Forward, *in.Hat.BrimWidth, *in.Hat.BrimSlope = 20, 60, -50 }, 45, "drive"},
		"firm elastic":         {"elastic.working_stretch", func(in *Input) { in.Elastic.WorkingStretch = new(0.2) }, 0.15, "firm"},
	} {
		t.Run(name, func(t *testing.T) {
			in := calm()
			c.change(&in)
			note, ok := cautionsAbout(t, in)[c.field]
			require.True(t, ok, "no caution about %s", c.field)
			assert.Contains(t, note.Says, c.says)
			if c.limit > 0 {
				require.NotNil(t, note.Limit)
				assert.InDelta(t, c.limit, *note.Limit, 1e-9)
			}
		})
	}
	agreeing := calm()
	agreeing.Measures.EarToEar, agreeing.Measures.BrowToNape, agreeing.Measures.HeadLength = new(Length(345)), new(Length(374)), new(Length(190))
	assert.Len(t, cautionsAbout(t, agreeing), 2, "tapes that agree are not spoken of")
	exact := calm()
	*exact.Hat.Base, exact.Occasion.LeastBase = 101.6, new(Length(101.6))
	assert.NotContains(t, cautionsAbout(t, exact), "hat.base_mm", "10.16 cm meets both figures")
}
