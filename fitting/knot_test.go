package fitting

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// On a ball the distance of a place to the nearest point of a circle is a chord.
func TestAwayFromTheRim(t *testing.T) {
	ball := Head{A: 90, B: 90, C: 90}
	s := seatAt(ball, 90, 0, 0) // its rim is 30 degrees from the top
	for up, want := range map[Angle]float64{
		0: 90, 30: 46.587428, 60: 0, 90: -46.587428, // of 60, 30, 0 and 30 degrees
	} {
		assert.InDelta(t, want, s.away(knot{up: up}.at(ball)), 1e-4, "%v degrees up", up)
	}
}

func TestBaseClearsTheKnot(t *testing.T) {
	in := wearers()["nothing said"]
	bare, err := Fit(in)
	require.NoError(t, err)
	in.Hair.Knot = KnotOnTop
	r, err := Fit(in)
	require.NoError(t, err)
	require.Greater(t, r.Placement.Forward, bare.Placement.Forward+3, "it makes room for the knot")
	require.Contains(t, said(r.Reasons, "hat.forward_deg"), "The knot of hair, which the base has to clear, keeps it farther forward")
	in.Hat = Hat{Base: new(Length(115)), Forward: new(Angle(10)), Sideways: new(Angle(0)), BrimWidth: new(Length(50)), BrimSlope: new(Angle(45))}
	r, err = Fit(in)
	require.NoError(t, err)
	require.Contains(t, said(r.Cautions, "hair.knot"), "lies on a knot of hair on top")
	in.Hair.Knot = KnotAtNape
	r, err = Fit(in)
	require.NoError(t, err)
	require.Empty(t, said(r.Cautions, "hair.knot"))
}

func TestRuleAndKnotTogether(t *testing.T) {
	in := wearers()["nothing said"]
	in.Hair.Knot, in.Occasion.LeastBase = KnotOnTop, new(Length(140))
	_, err := Fit(in)
	requireRefused(t, err, "occasion.least_base_mm")
	var refused Refusal
	require.ErrorAs(t, err, &refused)
	require.Contains(t, refused.Why, "clear of the brow, of her knot of hair and of what she must see")
}

func TestBrimIsNoWiderThanTheShoulders(t *testing.T) {
	in := wearers()["nothing said"]
	in.Wearer.Height = new(Length(1500)) // 38.85 cm across the shoulders
	in.Hat.BrimWidth = new(Length(150))
	in.Wish.Presence = Bold
	s := func() Solution {
		_, s, a := advised(t, in)
		require.Empty(t, a.Cautions)
		return s
	}()
	require.LessOrEqual(t, s.Brim.across(), Length(388.5))
	in.Hat = Hat{Base: new(Length(110)), Forward: new(Angle(10)), Sideways: new(Angle(0)), BrimWidth: new(Length(190)), BrimSlope: new(Angle(30))}
	r, err := Fit(in)
	require.NoError(t, err)
	require.Contains(t, said(r.Cautions, "hat.brim_width_mm"), "wider than her shoulders (about 38.9 cm)")
	in.Wearer.Height = nil
	r, err = Fit(in)
	require.NoError(t, err)
	require.Contains(t, said(r.Cautions, "hat.brim_width_mm"), "wider than her shoulders (about 40.0 cm)")
	in.Hat.BrimWidth = new(Length(150))
	r, err = Fit(in)
	require.NoError(t, err)
	require.Empty(t, said(r.Cautions, "hat.brim_width_mm"))
}
