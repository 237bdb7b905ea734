package fitting

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// tilted is a worked case, which only the hold is looked at of.
func tilted(t *testing.T) Input { return readCase(t, "right-tilt-steep-brim") }

func fitted(t *testing.T, in Input) Result {
	t.Helper()
	r, err := Fit(in)
	require.NoError(t, err)
	return r
}

func TestHoldStandsInTheResult(t *testing.T) {
	in := tilted(t)
	in.Occasion.Outdoors, in.Hair.Grip, in.Cloth.Density = true, FineHair, new(140.0)
	in.Hat.Trim, in.Hat.Layers = new(Mass(35)), ThreeTurned
	s, err := Solve(in)
	require.NoError(t, err)
	want, err := HoldOf(s.Head, s.Seat, s.Brim, s.Elastic, HoldSettings{
		Outdoors: true, Friction: new(0.3), Density: new(140.0), Trim: new(Mass(35)), Layers: new(3), Folds: in.Hat.Folds,
	})
	require.NoError(t, err)
	assert.Equal(t, want, s.Result.Hold, "a setting does not come through")
	assert.Contains(t, s.Result.Cautions, want.Why, "it needs more than the elastic: %s", want.Fastening)
}

func TestHoldHasTheContractsNames(t *testing.T) {
	body, err := json.Marshal(fitted(t, tilted(t)))
	require.NoError(t, err)
	var out struct{ Hold map[string]any }
	require.NoError(t, json.Unmarshal(body, &out))
	for _, name := range []string{"mass_g", "t_min_n", "t_max_n", "tension_n", "slips_at_mps", "beaufort", "fastening", "pressure_kpa", "why"} {
		assert.Contains(t, out.Hold, name)
	}
	in := tilted(t)
	require.NoError(t, json.Unmarshal([]byte(`{"hair": {"grip": "textured"}, "elastic": {"rest_mm": 200, "loaded_mm": 250, "load_n": 0.98},
		"hat": {"anchor": "ears"}, "hold": {"friction": 0.45, "drag": 1.2}}`), &in))
	r := fitted(t, in)
	assert.NotEqual(t, r.Elastic.LeftAnchor, r.Elastic.RightAnchor, "the ears are not opposite each other under a tilted base")
}

// With a reel the elastic is cut to have the tension that the hat needs.
func TestCutFollowsFromTheReel(t *testing.T) {
	in := tilted(t)
	in.Elastic.Rest, in.Elastic.Loaded, in.Elastic.Load = new(Length(200)), new(Length(250)), new(0.98) // EA 3.92 N
	r := fitted(t, in)
	stretch := r.Hold.Tension / 3.92
	assert.InDelta(t, stretch, r.Elastic.Stretch, 1e-12)
	assert.InDelta(t, float64(r.Elastic.Worn)/(1+stretch)+30, float64(r.Elastic.Cut), 1e-9)

	in.Hat.Trim = new(Mass(40))
	heavier := fitted(t, in)
	assert.Greater(t, heavier.Hold.Tension, r.Hold.Tension, "a heavier trimming needs more tension")
	assert.Less(t, heavier.Elastic.Cut, r.Elastic.Cut, "and so a shorter elastic")

	in.Elastic.WorkingStretch = new(0.12)
	given := fitted(t, in)
	assert.Equal(t, 0.12, given.Elastic.Stretch, "what is given stands")
	assert.InDelta(t, 0.12*3.92, given.Hold.Tension, 1e-12, "and the tension follows from it")

	in.Elastic.WorkingStretch, in.Elastic.Load = nil, new(0.2)
	in.Elastic.Loaded = new(Length(230))
	weak := cautionsAbout(t, in)
	assert.Contains(t, weak, "elastic.load_n", "the reel was tried with less")
	assert.Contains(t, weak, "elastic.working_stretch", "and is stretched firmly")
}

func TestReelIsRefused(t *testing.T) {
	in := tilted(t)
	in.Elastic.Rest, in.Elastic.Load = new(Length(200)), new(0.98)
	_, err := Fit(in)
	requireRefused(t, err, "elastic.loaded_mm")
	in.Elastic.Loaded = new(Length(190))
	_, err = Fit(in)
	requireRefused(t, err, "elastic.loaded_mm")
	in.Elastic.Loaded, in.Elastic.Load = new(Length(600)), new(0.1)
	_, err = Fit(in)
	requireRefused(t, err, "elastic.load_n")
	in = tilted(t)
	in.Hold.Friction = new(0.0)
	_, err = Fit(in)
	requireRefused(t, err, "hold.friction")
	in = tilted(t)
	in.Hat.Anchor = "brow"
	_, err = Fit(in)
	requireRefused(t, err, "hat.anchor")
}

func TestAnchorsAsChosen(t *testing.T) {
	in := tilted(t)
	plain := fitted(t, in)
	assert.Equal(t, 1.0/3, plain.Elastic.LeftAnchor)
	in.Hat.Anchor = AtFraction
	assert.Equal(t, plain, fitted(t, in))
	for _, c := range []Anchoring{AtEars, Steadiest} {
		in.Hat.Anchor = c
		s, err := Solve(in)
		require.NoError(t, err)
		at := Anchors{s.Result.Elastic.LeftAnchor, s.Result.Elastic.RightAnchor}
		want, err := NewElasticAt(s.Head, s.Seat, in.Hair.Thickness, at)
		require.NoError(t, err)
		assert.Equal(t, want, s.Elastic, "%s", c)
		assert.NotEqual(t, plain.Elastic.Worn, s.Result.Elastic.Worn, "%s", c)
	}
}
