package fitting

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// unsteady are wearers for whom the best hat by all other limits is one that the
// elastic alone does not hold.
func unsteady(t *testing.T) map[string]Input {
	all := map[string]Input{}
	for name, in := range wearers() {
		for _, p := range presences {
			in.Hair.Grip, in.Wish.Presence = FineHair, p
			k, err := newTask(in)
			require.NoError(t, err)
			if free, _ := k.choose(); !free.person.steadiness(&free.trial).holds {
				all[name+", "+string(p)] = in
			}
		}
	}
	require.GreaterOrEqual(t, len(all), 4, "these wearers test nothing")
	return all
}

func TestAdviceIsHeldByItsElastic(t *testing.T) {
	for name, in := range unsteady(t) {
		r, err := Fit(in)
		require.NoError(t, err)
		require.NotNil(t, r.Hold.TMin, name)
		require.LessOrEqual(t, *r.Hold.TMin, usualMost, name)
	}
}

// No hat near the advice is better and held as well.
func TestSteadyHatIsTheBestThatIsHeld(t *testing.T) {
	r := newRand(t)
	better := 0
	for name, in := range unsteady(t) {
		k, err := newTask(in)
		require.NoError(t, err)
		chosen, _ := k.settle()
		require.True(t, chosen.holds, name)
		free, _ := k.choose()
		require.Greater(t, chosen.score, free.score, "%s: it costs something to be held", name)
		s := k.going(directionOf(chosen.trial.slope))
		for range 20000 {
			hat := k.search.person.try(s.random(r, chosen.trial.figures, true))
			if k.search.person.exceeded(&hat) > 0 || k.search.person.score(&hat) > chosen.score-3e-3 {
				continue
			}
			better++
			require.False(t, k.search.person.steadiness(&hat).holds, "%s: %v is held and better than %v", name, hat.figures, chosen.trial.figures)
		}
	}
	require.Greater(t, better, 200, "too few hats were better but for the hold to say anything")
}

// The hand's help is none just where some comfortable tension holds.
func TestPressedAgreesWithTheTensions(t *testing.T) {
	held, not := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		in := anyInput(t)
		s, err := Solve(in)
		if err != nil {
			t.Skip("refused")
		}
		f := HoldSettings{Trim: new(Mass(rapid.Float64Range(0, 200).Draw(t, "trim"))), Friction: new(rapid.Float64Range(0.2, 0.8).Draw(t, "friction"))}.filled()
		strip, err := s.Brim.Pattern().Strip(4)
		require.NoError(t, err)
		b := newBearing(s.Head, s.Seat, s.Elastic, burdens(s.Seat, s.Brim, strip, f), f.press)
		least, _, ok := b.tensions(f.friction)
		need := b.pressed(f.friction, f.most, pull{s.Seat.Normal.Times(-1), s.Seat.Centre})
		switch ok = ok && least <= f.most; {
		case math.Abs(need) < 1e-6:
			t.Skip("on the edge")
		case ok:
			held++
			require.Less(t, need, 0.0, "held from %v N on", least)
		default:
			not++
			require.Greater(t, need, 0.0, "no comfortable tension holds")
		}
	})
	require.Positive(t, held, "nothing was held")
	require.Positive(t, not, "everything was held")
}

// Where nothing helps the hat keeps its comb, and a reason says what is in the way.
func TestUnheldHatKeepsItsComb(t *testing.T) {
	in := wearers()["nothing said"]
	in.Hat = Hat{Base: new(Length(90)), Forward: new(Angle(20)), Sideways: new(Angle(-34))}
	r, err := Fit(in)
	require.NoError(t, err)
	require.NotEqual(t, ByElastic, r.Hold.Fastening)
	said := false
	for _, n := range r.Reasons {
		if n.Field == "hold.tension_n" {
			said = true
			require.Contains(t, n.Says, "does not hold this hat, nor one near it")
		}
	}
	require.True(t, said, "no reason: %v", r.Reasons)
}
