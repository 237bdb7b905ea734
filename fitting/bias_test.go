package fitting

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The diagonal of a square of unit threads whose angle is closed from 90 degrees by
// gamma is 2 cos((90 - gamma)/2).
func TestLocksIsTheNetsOwnAngle(t *testing.T) {
	for gamma := Angle(1); gamma < 80; gamma++ {
		long := 2 * math.Cos((90-gamma).Radians()/2)
		assert.InDelta(t, float64(gamma), float64(Locks(long/math.Sqrt2-1)), 1e-9)
	}
}

func TestTheRollsOwnBiasTestIsTheLimit(t *testing.T) {
	in := Input{Measures: Measures{Girth: new(570 * Millimetre), NapeToCrown: new(230 * Millimetre)}, Wish: Wish{Presence: Bold}}
	usual, err := Fit(in)
	require.NoError(t, err)
	in.Cloth.Bias = new(0.10)
	stiff, err := Fit(in)
	require.NoError(t, err)
	require.Greater(t, usual.Brim.Shear, Locks(0.10), "else this shows nothing")
	assert.LessOrEqual(t, float64(stiff.Brim.Shear), float64(Locks(0.10))+1e-6, "the advice keeps to what the roll gives")
	for _, s := range Standings(in, stiff) {
		if s.Field == "brim.shear_deg" {
			assert.InDelta(t, float64(Locks(0.10)), s.Bound, 1e-12)
		}
	}

	in.Hat = Hat{Base: new(115 * Millimetre), Forward: new(Angle(18)), Sideways: new(Angle(-22)), BrimWidth: new(80 * Millimetre), BrimSlope: new(Angle(60))}
	given, err := Fit(in)
	require.NoError(t, err)
	require.Less(t, given.Brim.Shear, mostShear)
	said := false
	for _, n := range given.Cautions {
		said = said || n.Field == "brim.shear_deg" && n.Source == "the roll's own bias test"
	}
	assert.True(t, said, "a hat past the roll's limit is warned of, though the usual one is not reached")

	for _, wrong := range []float64{0, 0.01, 0.5, -1, math.NaN(), math.Inf(1)} {
		in.Cloth.Bias = new(wrong)
		_, err := Fit(in)
		var refused Refusal
		require.ErrorAs(t, err, &refused)
		assert.Equal(t, "cloth.bias_stretch", refused.Field)
	}
}
