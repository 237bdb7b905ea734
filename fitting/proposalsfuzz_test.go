package fitting

import (
	"math"
	"reflect"
	"testing"

	"github.com/stretchr/testify/require"
)

// Whatever stands in the input, the proposals are whole hats of numbers, or a
// refusal with its field.
func FuzzProposals(f *testing.F) {
	f.Add(570., 230., 120., 25., -35., 90., 60., 1./3, 0., 101.6, 180., 134., 1680., 0., uint32(0))
	f.Add(450., 150., 250., 75., 75., 400., -80., 0., 30., 250., 120., 95., 1000., 50., uint32(31))
	f.Add(700., 350., 30., -75., -75., 0., 0., 1., 0., 0., 270., 200., 2300., 0., uint32(0x5a5a5a))
	f.Add(560., 224., 0., 0., 0., 0., 0., 0.5, 3., 100., 181., 134., 1600., 0., uint32(0xffffffff))
	f.Add(math.NaN(), math.Inf(1), math.NaN(), math.NaN(), math.Inf(-1), -1., 1e300, math.NaN(), math.NaN(), math.NaN(), math.NaN(), -0., math.Inf(1), math.NaN(), uint32(7))
	f.Fuzz(func(t *testing.T, girth, nape, base, forward, sideways, brim, slope, anchor, hair, rule, tall, wide, height, lip float64, said uint32) {
		in := Input{Measures: Measures{Girth: new(Length(girth)), NapeToCrown: new(Length(nape))}}
		bit := func(i int) bool { return said>>i&1 == 1 }
		set(bit(0), &in.Hat.Base, Length(base))
		set(bit(1), &in.Hat.Forward, Angle(forward))
		set(bit(2), &in.Hat.Sideways, Angle(sideways))
		set(bit(3), &in.Hat.BrimWidth, Length(brim))
		set(bit(4), &in.Hat.BrimSlope, Angle(slope))
		set(bit(5), &in.Hat.AnchorFromFront, anchor)
		set(bit(6), &in.Hat.LipWidth, Length(lip))
		set(bit(7), &in.Occasion.LeastBase, Length(rule))
		set(bit(8), &in.Face.HairlineToChin, Length(tall))
		set(bit(9), &in.Face.Cheekbone, Length(wide))
		set(bit(10), &in.Wearer.Height, Length(height))
		in.Hair.Thickness = Length(hair)
		in.Wearer.Glasses, in.Occasion.Outdoors = bit(11), bit(12)
		in.Wish.Presence = [...]Presence{"", Quiet, Balanced, Bold}[said>>13&3]
		in.Wish.Side = [...]Side{"", Left, Right, Middle}[said>>15&3]
		in.Wish.Brim = [...]Direction{"", Up, Down, ""}[said>>17&3]
		in.Occasion.Kind = [...]string{"", "evening", "wedding", "x"}[said>>19&3]
		in.Hair.Knot = [...]Knot{"", KnotAtNape, KnotAtBack, KnotOnTop}[said>>21&3]
		in.Hair.Grip = [...]Grip{"", FineHair, TexturedHair, ""}[said>>23&3]
		in.Hat.Anchor = [...]Anchoring{"", AtEars, "", ""}[said>>25&3]
		if bit(27) {
			in.Workroom.Blocks = []Length{Length(base), Length(rule), 100, 120}
		}
		all, err := Proposals(in)
		if err != nil {
			var refused Refusal
			require.ErrorAs(t, err, &refused)
			require.NotEmpty(t, refused.Field)
			return
		}
		for _, p := range all {
			requireNumbers(t, reflect.ValueOf(p.Solution.Result), "result")
			requireNumbers(t, reflect.ValueOf(p.Summary()), "summary")
			require.Greater(t, p.Solution.Result.Elastic.Worn, Length(0))
		}
		requireNumbers(t, reflect.ValueOf(FitOf(all)), "result")
	})
}

func set[T any](holds bool, p **T, value T) {
	if holds {
		*p = &value
	}
}
