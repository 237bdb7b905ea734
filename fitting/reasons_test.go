package fitting

import (
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// What a reason says the figure would be otherwise is what the advice really is
// for someone of whom that does not hold.
func TestReasonsSayWhatWouldBeOtherwise(t *testing.T) {
	base := wearers()["nothing said"]
	base.Face.Shape = Square
	for name, c := range map[string]struct {
		who  string
		with func(*Input)
	}{
		"wind":    {"The wind outdoors", func(in *Input) { in.Occasion.Outdoors = true }},
		"evening": {"The late hour, which asks for a smaller hat,", func(in *Input) { in.Occasion.Kind = "evening" }},
		"stature": {"Her height", func(in *Input) { in.Wearer.Height = new(Length(1200)) }},
		"rule":    {"The event's rule, a base of 14.0 cm (5 1/2 in) or more,", func(in *Input) { in.Occasion.LeastBase = new(Length(140)) }},
	} {
		t.Run(name, func(t *testing.T) {
			in := base
			c.with(&in)
			k, err := newTask(in)
			require.NoError(t, err)
			chosen, _ := k.choose()
			without, err := newTask(base)
			require.NoError(t, err)
			plain, _ := without.choose()
			said := false
			for _, m := range k.movers(chosen) {
				if m.who == c.who {
					said = true
					x, y := m.without.figures.scaled(), plain.trial.figures.scaled()
					require.False(t, farther(x, y, 5e-3), "%v, but really %v", x, y)
				}
			}
			require.True(t, said, "it is not named")
		})
	}
}

// Every sentence of a reason is whole, and the figure it begins with is the one
// that is advised.
func TestReasonsReadAsSentences(t *testing.T) {
	sentence := regexp.MustCompile(`^[A-Z][^%\n]*\.$`)
	rapid.Check(t, func(t *rapid.T) {
		in := anyWearer(t)
		a, err := Advise(in)
		if err != nil {
			t.Skip("refused")
		}
		require.GreaterOrEqual(t, len(a.Reasons), unknowns)
		for i, field := range []string{"hat.base_mm", "hat.forward_deg", "hat.sideways_deg", "hat.brim_width_mm", "hat.brim_slope_deg"} {
			require.Equal(t, field, a.Reasons[i].Field)
		}
		for _, n := range a.Reasons {
			require.Regexp(t, sentence, n.Says)
			require.NotContains(t, n.Says, "  ")
			require.NotContains(t, n.Says, "-0")
			require.NotEmpty(t, n.Source)
		}
		require.Equal(t, float64(*a.Hat.Sideways), a.Reasons[2].Value)
		require.Contains(t, a.Reasons[0].Says, inCentimetres(*a.Hat.Base))
		require.Contains(t, a.Reasons[4].Says, fmt.Sprintf("%.0f degrees", math.Abs(float64(*a.Hat.BrimSlope))))
	})
}

func TestReasonsNameWhatSheSaid(t *testing.T) {
	in := wearers()["nothing said"]
	in.Hair.Parting = PartedLeft
	in.Wearer.Glasses = true
	says := reasonsOf(t, in)
	assert.Contains(t, says["hat.sideways_deg"], "to her own left, where her hair is parted")
	assert.Contains(t, says["hat.brim_slope_deg"], "Wearing glasses speaks for lifting.")
	in.Wish = Wish{Right, Bold, Down}
	says = reasonsOf(t, in)
	assert.Contains(t, says["hat.sideways_deg"], "to her own right, as wished")
	assert.Contains(t, says["hat.brim_slope_deg"], "droops")
	assert.Contains(t, says["hat.brim_slope_deg"], "as wished. Wearing glasses would rather have it lift.")
	lifting := in
	lifting.Wish.Brim = Up
	assert.Contains(t, reasonsOf(t, lifting)["hat.brim_width_mm"], "The wish for a bold brim (8.2 cm wide)")
	in.Hat.Sideways, in.Hat.BrimSlope = new(Angle(20)), new(Angle(40))
	says = reasonsOf(t, in)
	assert.NotContains(t, says, "hat.sideways_deg", "what was given needs no reason")
	assert.Contains(t, says["wish.side"], "the tilt given is to the wearer's own left")
	assert.Contains(t, says["wish.brim"], "the slope given goes up")
}

// A limit that holds the hat back is named with the figure that it holds.
func TestReasonNamesTheLimitThatHolds(t *testing.T) {
	in := wearers()["nothing said"]
	in.Face.Shape = Round // a start tilt of 30 degrees, which would come too near the brow
	r, err := Fit(in)
	require.NoError(t, err)
	require.InDelta(t, float64(clearBrow), float64(r.Placement.TapeLineToRim), 1e-3)
	require.Contains(t, r.Reasons[2].Says, "The least room above the tape line")
	require.Contains(t, r.Reasons[2].Says, "keeps it less tilted")
}

func reasonsOf(t *testing.T, in Input) map[string]string {
	t.Helper()
	a, err := Advise(in)
	require.NoError(t, err)
	says := map[string]string{}
	for _, n := range a.Reasons {
		says[n.Field] = strings.TrimSpace(says[n.Field] + " " + n.Says)
	}
	return says
}

func TestInches(t *testing.T) {
	for l, says := range map[Length]string{115: "4 1/2 in", 25.4: "1 in", 101.6: "4 in", 19: "3/4 in", 1: "0 in", 50.7: "2 in"} {
		assert.Equal(t, says, inEighths(l), "%v mm", l)
	}
}
