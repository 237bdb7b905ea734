package fitting

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// 200 mm that 100 g (0.98 N) draw out to 250 mm: a quarter for 0.98 N.
func TestReel(t *testing.T) {
	r, err := NewReel(200, 250, 0.98)
	require.NoError(t, err)
	assert.InDelta(t, 3.92, r.Stiffness(), 1e-12)
	assert.InDelta(t, 0.1, r.Stretch(0.392), 1e-12)
	assert.InDelta(t, 0.25, r.Stretch(0.98), 1e-12)
	assert.Empty(t, r.cautions(0.5))
	require.Len(t, r.cautions(1.2), 1)
	assert.Equal(t, "elastic.load_n", r.cautions(1.2)[0].Field)
}

func TestReelOfNoElastic(t *testing.T) {
	for _, c := range []struct {
		field        string
		rest, loaded Length
		load         float64
	}{
		{"elastic.rest_mm", 5, 6, 1}, {"elastic.rest_mm", Length(math.NaN()), 6, 1},
		{"elastic.loaded_mm", 100, 100, 1}, {"elastic.loaded_mm", 100, 90, 1}, {"elastic.loaded_mm", 100, 900, 1}, {"elastic.loaded_mm", 100, Length(math.NaN()), 1},
		{"elastic.load_n", 100, 150, 0}, {"elastic.load_n", 100, 150, 100}, {"elastic.load_n", 100, 150, math.NaN()},
	} {
		_, err := NewReel(c.rest, c.loaded, c.load)
		requireRefused(t, err, c.field)
	}
}

// A longer piece of the same reel says the same, and tension and stretch go there
// and back.
func TestReelHasNoLengthOfItsOwn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rest := Length(rapid.Float64Range(50, 200).Draw(t, "rest"))
		drawn := Length(rapid.Float64Range(1.02, 3).Draw(t, "drawn"))
		load, times := rapid.Float64Range(0.1, 5).Draw(t, "load"), Length(rapid.Float64Range(1, 5).Draw(t, "times"))
		short, err := NewReel(rest, rest*drawn, load)
		require.NoError(t, err)
		long, err := NewReel(times*rest, times*rest*drawn, load)
		require.NoError(t, err)
		require.InEpsilon(t, short.Stiffness(), long.Stiffness(), 1e-9)
		tension := rapid.Float64Range(0.01, 2).Draw(t, "tension")
		require.InEpsilon(t, tension, short.Tension(short.Stretch(tension)), 1e-12)
	})
}
