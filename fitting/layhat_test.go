package fitting

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestClothOfAnyHat(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := anyInput(t)
		in.Hat.Folds = new(rapid.SampledFrom([]int{1, 2, 4}).Draw(t, "folds"))
		in.Hat.Layers = rapid.SampledFrom([]LayerRule{FourOneWay, ThreeTurned, TwoTurned, TwoStiffened}).Draw(t, "layers")
		in.Hat.LipWidth = new(Length(rapid.SampledFrom([]float64{0, 10}).Draw(t, "lip")))
		on := anyCloth(t)
		in.Cloth = clothOf(on.Width, on.Length)
		s, err := Solve(in)
		if err != nil {
			t.Skip("refused")
		}
		lay := s.Result.Cloth
		requireLay(t, s.Pieces(in.Hat.Layers, usualTrim), lay, lay.onCloth(on))
		bases := 0
		for _, p := range lay.Pieces {
			if p.Kind == BasePiece {
				bases++
			}
		}
		require.Equal(t, s.Result.Base.Layers, bases, "as many circles as layers")
	})
}

// The worked hats, on the metre of 90 cm that is usual.
func TestWorkedHatsAreCutFromAMetre(t *testing.T) {
	for _, name := range []string{"right-tilt-steep-brim", "left-tilt-anchor-across", "forehead-set"} {
		r, err := Fit(readCase(t, name))
		require.NoError(t, err)
		assert.True(t, r.Cloth.Fits, "%s does not fit on 90 cm by a metre", name)
		assert.Equal(t, 1, r.Cloth.Parts, "%s: the strip is cut in one", name)
		// No lay of a strip in one takes less than its slanting square, with 5 mm at each edge.
		assert.InDelta(t, float64(r.Strip.Length+r.Strip.FlatWidth)/math.Sqrt2+10, float64(r.Cloth.Takes.Length), 1e-6, "%s takes no more length than its strip", name)
	}
}

func TestShortClothSaysWhatWouldDo(t *testing.T) {
	in := readCase(t, "right-tilt-steep-brim")
	r, err := Fit(in)
	require.NoError(t, err)
	assert.NotContains(t, fieldsOf(r.Cautions), "cloth.length_mm", "a metre does")

	in.Cloth = clothOf(900, 500)
	short, err := Fit(in)
	require.NoError(t, err)
	require.False(t, short.Cloth.Fits)
	require.Contains(t, fieldsOf(short.Cautions), "cloth.length_mm")
	said := short.Cautions[len(short.Cautions)-1]
	assert.Contains(t, said.Says, "A piece 90.0 cm wide and "+toCut(Length(said.Value))+" long would do")

	in.Cloth = clothOf(900, Length(math.Ceil(said.Value/5)*5))
	enough, err := Fit(in)
	require.NoError(t, err)
	assert.True(t, enough.Cloth.Fits, "what would do does")

	in.Cloth = clothOf(90, 100)
	_, err = Fit(in)
	var refusal Refusal
	require.ErrorAs(t, err, &refusal)
	assert.Equal(t, "cloth.width_mm", refusal.Field)
	assert.Contains(t, refusal.Why, "centimetres", "the slip is recognised")

	in.Hat.Layers = "five"
	_, err = Fit(in)
	require.ErrorAs(t, err, &refusal)
	assert.Equal(t, "hat.layers", refusal.Field)
}

func fieldsOf(notes []Note) (fields []string) {
	for _, n := range notes {
		fields = append(fields, n.Field)
	}
	return fields
}

func TestClothInTheContract(t *testing.T) {
	r, err := Fit(readCase(t, "right-tilt-steep-brim"))
	require.NoError(t, err)
	body, err := json.Marshal(r.Cloth)
	require.NoError(t, err)
	var got map[string]any
	require.NoError(t, json.Unmarshal(body, &got))
	assert.Subset(t, keys(got), []string{"fits", "used_fraction", "pieces"}, "the contract's keys")
	for _, p := range got["pieces"].([]any) {
		piece := p.(map[string]any)
		assert.Subset(t, keys(piece), []string{"kind", "turn_deg", "x_mm", "y_mm"})
		_, circle := piece["diameter_mm"]
		_, outline := piece["outline_mm"]
		assert.NotEqual(t, circle, outline, "a circle or an outline: %v", piece)
	}
	notions := map[NotionKind]Notion{}
	for _, n := range r.Cloth.Notions {
		notions[n.Kind] = n
	}
	assert.Equal(t, r.Elastic.Cut, notions[ElasticCord].Length)
	assert.Equal(t, r.Base.CutDiameter, notions[Lining].Diameter)
	assert.InDelta(t, math.Pi*120+25.4, float64(notions[Ribbon].Length), 1e-9, "round the rim of 120, and an inch")
	assert.NotContains(t, notions, Comb, "the elastic holds it alone")
}

func keys(m map[string]any) (names []string) {
	for k := range m {
		names = append(names, k)
	}
	return names
}

func TestNotionsFollowTheFastening(t *testing.T) {
	for held, want := range map[Fastening]map[NotionKind]int{
		ByElastic: {}, ByComb: {Comb: 1}, ByCombAndPins: {Comb: 1, Pins: holdingPins}, ByBand: {Band: 1},
	} {
		var s Solution
		s.Result.Hold.Fastening = held
		got := map[NotionKind]int{}
		for _, n := range s.Notions() {
			if n.Kind == Comb || n.Kind == Pins || n.Kind == Band {
				got[n.Kind] = n.Count
			}
		}
		assert.Equal(t, want, got, "held by %s", held)
	}
}
