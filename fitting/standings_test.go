package fitting

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Where the advice has kept every limit they all stand as met; where a hat is
// given they stand as its cautions say.
func TestStandingsAgreeWithTheAdvice(t *testing.T) {
	r, err := Fit(Input{Measures: Measures{Girth: new(560 * Millimetre), NapeToCrown: new(224 * Millimetre)}})
	require.NoError(t, err)
	for _, s := range Standings(Input{}, r) {
		assert.True(t, s.Met(), "%s is %g, held against %g", s.Field, s.Value, s.Bound)
	}
	in := readCase(t, "right-tilt-steep-brim")
	in.Occasion.LeastBase = new(130 * Millimetre)
	r, err = Fit(in)
	require.NoError(t, err)
	broken := map[string]bool{}
	for _, s := range Standings(in, r) {
		if !s.Met() {
			broken[s.Field] = true
		}
	}
	assert.Equal(t, map[string]bool{"placement.tape_line_to_rim_mm": true, "occasion.least_base_mm": true}, broken)
}

func TestEveryBrokenLimitHasACaution(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := Input{Measures: Measures{Girth: new(Length(rapid.Float64Range(520, 620).Draw(t, "girth")))}, Hat: Hat{
			Base: new(Length(rapid.Float64Range(80, 140).Draw(t, "base"))), Forward: new(Angle(rapid.Float64Range(0, 40).Draw(t, "forward"))),
			Sideways: new(Angle(rapid.Float64Range(-40, 40).Draw(t, "sideways"))), BrimWidth: new(Length(rapid.Float64Range(30, 120).Draw(t, "width"))),
			BrimSlope: new(Angle(rapid.Float64Range(-60, 75).Draw(t, "slope"))),
		}}
		r, err := Fit(in)
		if err != nil {
			t.Skip("refused")
		}
		for _, s := range Standings(in, r) {
			if s.Field == "brim.shear_deg" || s.Field == "view.ahead_deg" || s.Field == "placement.tape_line_to_rim_mm" {
				said := false
				for _, n := range r.Cautions {
					said = said || n.Field == s.Field && n.Limit != nil && *n.Limit == s.Bound
				}
				require.Equal(t, !s.Met(), said, "%s is %g, held against %g", s.Field, s.Value, s.Bound)
			}
		}
	})
}
