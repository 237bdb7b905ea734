package fitting

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A base of 120 on a ball of radius 100 is a cap 20 deep, and a brim of 90 at 60
// degrees a half ring of radii 120 and 210.
func TestPartsOfAHat(t *testing.T) {
	s, err := NewSeat(Head{100, 100, 100}, 120, 0, 0)
	require.NoError(t, err)
	b, err := NewBrim(s, 90, 60, 0, 0)
	require.NoError(t, err)
	strip, err := b.Pattern().Strip(4)
	require.NoError(t, err)
	f, err := HoldSettings{Density: new(120.0)}.read()
	require.NoError(t, err)
	hat := burdens(s, b, strip, f)
	require.Len(t, hat, 4)
	cap := 2 * math.Pi * 100 * 20
	assert.InDelta(t, 4*cap*120*1.15/1e6, hat[0].mass.Grams(), 1e-9, "base")
	cloth := 4 * 90 * 4 / 3.0 * (math.Pi*math.Sqrt((120*120+210*210)/2.0) + 30)
	assert.InDelta(t, cloth*120*1.15/1e6, hat[1].mass.Grams(), 1e-9, "strip")
	assert.Equal(t, Mass(8), hat[2].mass)
	assert.Equal(t, Mass(20), hat[3].mass)
	for i, height := range []float64{90, 80 + 45*math.Sin(math.Pi/3), 90, 120} {
		assert.InDelta(t, height, hat[i].centre.Z, 1e-9, "height of part %d", i)
		assert.InDelta(t, 0, math.Hypot(hat[i].centre.X, hat[i].centre.Y), 1e-9)
	}
}
