package orders

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"perchbook/fitting"
)

func someMaterials() Materials {
	return Materials{
		Reels: []Reel{
			{Number: 2, Name: "Fine, black", Width: 2, Rest: 200, Loaded: 240, Weight: 100},
			{Number: 1, Name: "Stout, brown", Rest: 200, Loaded: 230, Weight: 200},
		},
		ClothWidth: 910, ClothLength: 1500, Density: 120, BiasStretch: 0.2, Layers: fitting.TwoTurned, Stiffener: 1.3, Extras: 10, Firmest: 0.8,
	}
}

func TestMaterialsReachTheEngine(t *testing.T) {
	s, _ := newStore(t)
	st := firstStudio()
	st.Materials = someMaterials()
	st, err := s.SaveStudio(ctx, st)
	require.NoError(t, err)
	require.Equal(t, someMaterials(), st.Materials)
	kept, err := s.Studio(ctx)
	require.NoError(t, err)
	require.Equal(t, st, kept)

	c := sent(t, s, nil)
	f, err := s.Fitted(ctx, c.ID)
	require.NoError(t, err)
	in := f.Input
	assert.Equal(t, []float64{910, 1500, 120, 0.2}, []float64{float64(*in.Cloth.Width), float64(*in.Cloth.Length), *in.Cloth.Density, *in.Cloth.Bias})
	assert.Equal(t, []float64{200, 240, 0.980665}, []float64{float64(*in.Elastic.Rest), float64(*in.Elastic.Loaded), *in.Elastic.Load}, "the first reel, 100 g in newtons")
	assert.Equal(t, "Fine, black", in.Learned.Reel)
	assert.Equal(t, []float64{2, 1.3, 10, 0.8}, []float64{float64(*in.Hold.CordWidth), *in.Hold.Stiffener, float64(*in.Hold.Extras), *in.Hold.Most})
	assert.Equal(t, fitting.TwoTurned, in.Hat.Layers)
}

func TestAHatIsWorkedOnTheReelChosen(t *testing.T) {
	s, _ := newStore(t)
	st := firstStudio()
	st.Materials = someMaterials()
	st, err := s.SaveStudio(ctx, st)
	require.NoError(t, err)
	c := sent(t, s, nil)
	before, err := s.Fitted(ctx, c.ID)
	require.NoError(t, err)
	chosen := map[string]float64{ReelFigure: 1, "hat.layers": 1, "hat.anchor": 2}
	w, err := s.SaveWorking(ctx, Working{CommissionID: c.ID, Version: before.Working.Version, Figures: chosen})
	require.NoError(t, err)
	after, err := s.Fitted(ctx, c.ID)
	require.NoError(t, err)
	require.Nil(t, after.Broken)
	assert.Equal(t, "Stout, brown", after.settled.Learned.Reel)
	assert.Nil(t, after.settled.Hold.CordWidth, "its width was not said")
	assert.Equal(t, fitting.AtEars, after.settled.Hat.Anchor)
	assert.Equal(t, 4, after.Settled.Result.Base.Layers)
	assert.Equal(t, 2, after.Proposal.Result.Base.Layers, "as usual here")
	assert.InDelta(t, after.Settled.Result.Hold.Tension/(0.2*gravity/0.15), after.Settled.Result.Elastic.Stretch, 1e-9, "200 g stretch it by 15 %")

	st.Materials.Reels = st.Materials.Reels[:1]
	_, err = s.SaveStudio(ctx, st)
	require.NoError(t, err)
	gone, err := s.Fitted(ctx, c.ID)
	require.NoError(t, err)
	assert.Equal(t, "Fine, black", gone.settled.Learned.Reel, "a reel that is used up gives way to the first")
	for key, x := range map[string]float64{ReelFigure: 9, "hat.layers": 1.5, "hat.anchor": math.NaN()} {
		_, err = s.SaveWorking(ctx, Working{CommissionID: c.ID, Version: w.Version, Figures: map[string]float64{key: x}})
		problem(t, err, key)
	}
}

func TestMaterialsThatCannotBe(t *testing.T) {
	s, _ := newStore(t)
	for key, spoil := range map[string]func(*Materials){
		"cloth_width":   func(m *Materials) { m.ClothWidth = 90 }, // cm
		"cloth_length":  func(m *Materials) { m.ClothLength = math.Inf(1) },
		"density":       func(m *Materials) { m.Density = math.NaN() },
		"bias_stretch":  func(m *Materials) { m.BiasStretch = 20 },
		"stiffener":     func(m *Materials) { m.Stiffener = 0.5 },
		"extras":        func(m *Materials) { m.Extras = -1 },
		"firmest":       func(m *Materials) { m.Firmest = 50 },
		"layers":        func(m *Materials) { m.Layers = "seven" },
		"reel-1-name":   func(m *Materials) { m.Reels[1].Name = "fine, BLACK" },
		"reel-2-name":   func(m *Materials) { m.Reels[0].Name = " " },
		"reel-1-width":  func(m *Materials) { m.Reels[1].Width = 50 },
		"reel-1-rest":   func(m *Materials) { m.Reels[1].Rest = math.NaN() },
		"reel-1-loaded": func(m *Materials) { m.Reels[1].Loaded = 200 },
		"reel-2-weight": func(m *Materials) { m.Reels[0].Weight = 0 },
	} {
		st := firstStudio()
		st.Materials = someMaterials()
		spoil(&st.Materials)
		_, err := s.SaveStudio(ctx, st)
		t.Log(problem(t, err, key).Text)
	}
}

// The engine has no narrower bounds than this door, so that no settings lead to a refusal of every hat.
func TestTheEngineTakesWhatTheSettingsTake(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		between := func(name string, least, most float64) float64 {
			return rapid.OneOf(rapid.Just(0.0), rapid.Just(least), rapid.Just(most), rapid.Float64Range(least, most)).Draw(t, name)
		}
		m := Materials{
			ClothWidth: between("width", LeastClothWidth, MostClothWidth), ClothLength: between("length", LeastClothLength, MostClothLength),
			Density: between("density", LeastDensity, MostDensity), BiasStretch: between("bias", LeastBias, MostBias),
			Stiffener: between("stiffener", LeastStiffener, MostStiffener), Extras: between("extras", LeastExtras, MostExtras),
			Firmest: between("firmest", LeastFirmest, MostFirmest), Layers: rapid.SampledFrom(LayerRules).Draw(t, "layers"),
		}
		require.NoError(t, m.check())
		base, forward, sideways, brim, slope := 120.0, 25.0, -35.0, 90.0, 60.0
		in := fitting.Input{
			Measures: fitting.Measures{Girth: millimetres(570), NapeToCrown: millimetres(230)},
			Hat:      fitting.Hat{Base: millimetres(base), Forward: degrees(forward), Sideways: degrees(sideways), BrimWidth: millimetres(brim), BrimSlope: degrees(slope)},
		}
		m.into(&in)
		_, err := fitting.Solve(in)
		require.NoError(t, err)
	})
}
