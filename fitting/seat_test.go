package fitting

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// anySeat draws a head and a base that sits on it.
func anySeat(t *rapid.T) (Head, Seat) {
	h := anyPersonsHead(t)
	s, err := NewSeat(h, Length(rapid.Float64Range(60, 150).Draw(t, "base")),
		Angle(rapid.Float64Range(-20, 45).Draw(t, "forward")), Angle(rapid.Float64Range(-45, 45).Draw(t, "sideways")))
	if err != nil {
		t.Skip("the base is too large there")
	}
	return h, s
}

// On a sphere everything is elementary: the base is a cap of the sphere itself.
func TestSeatOnSphere(t *testing.T) {
	const r = 90.0
	h := Head{r, r, r}
	s, err := NewSeat(h, 120, 25, -35)
	require.NoError(t, err)
	sag := r - math.Sqrt(r*r-60*60)
	assert.InDelta(t, r, s.Rho, 1e-9)
	assert.InDelta(t, sag, s.Sag, 1e-9)
	assert.InDelta(t, 2*r*math.Asin(60/r), s.CutDiameter().Millimetres(), 1e-9)
	assert.InDelta(t, r*r, s.Rim.Dot(s.Rim)+60*60, 1e-6, "the rim lies on the sphere")
	assert.InDelta(t, math.Pow(math.Asin(60/r), 2)/2*180/math.Pi, s.Doming().Degrees(), 1e-9)
	tilt := math.Acos(1 / math.Sqrt(1+math.Pow(math.Tan(25*math.Pi/180), 2)+math.Pow(math.Tan(35*math.Pi/180), 2)))
	lowest := tilt + math.Asin(60/r)
	assert.InDelta(t, r*(math.Pi/2-lowest), h.tapeLineToRim(s).Millimetres(), 1e-9, "from the tape line up a quarter less the lowest rim point's angle")
	way, ok := newSurface(h).connect(h.Crown(), s.Centre)
	require.True(t, ok)
	assert.InDelta(t, r*tilt, way.length, 1e-7, "crown to centre")
}

// A dome of chord 13 and rise 3 has radius 8.5417 and measures 14.77 over the
// top; one of 10 and 2, 7.25 and 11.04 (derived in the trade facts).
func TestDomeOfKnownChordAndRise(t *testing.T) {
	for _, c := range []struct{ chord, rise, radius, over float64 }{{13, 3, 8.5417, 14.77}, {10, 2, 7.25, 11.04}} {
		r := Length(10 * c.radius)
		s, err := NewSeat(Head{r, r, r}, Length(10*c.chord), 0, 0)
		require.NoError(t, err)
		assert.InDelta(t, 10*c.rise, s.Sag, 0.01)
		assert.InDelta(t, 10*c.over, s.CutDiameter().Millimetres(), 0.1)
	}
}

func TestSeatFrameIsRightHandedAndTangent(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h, s := anySeat(t)
		require.InDelta(t, 0, s.Forward.Dot(s.Normal), 1e-12)
		require.InDelta(t, 0, s.Forward.Y*s.Normal.Z-s.Forward.Z*s.Normal.Y, 1e-9+math.Abs(s.Normal.X), "forward is the x-axis laid down")
		require.Positive(t, s.Forward.X)
		require.Positive(t, s.Left.Y, "left is to the wearer's left")
		require.InDelta(t, 0, s.Forward.Cross(s.Left).Minus(s.Normal).Norm(), 1e-12)
		require.InDelta(t, 1, h.gradient(s.Centre).Dot(s.Centre), 1e-12, "the centre is not on the head")
	})
}

func TestLowestRimPointIsTheLowestOfMany(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		_, s := anySeat(t)
		lowest := math.Inf(1)
		for i := range 3600 {
			lowest = min(lowest, s.RimPoint(float64(i)*math.Pi/1800).Z)
		}
		require.InDelta(t, lowest, s.Lowest().Z, 1e-3)
		require.LessOrEqual(t, s.Lowest().Z, lowest+1e-9)
	})
}

func TestAnchorsLieAFractionBackFromTheFront(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		_, s := anySeat(t)
		q := rapid.Float64Range(0.01, 0.99).Draw(t, "q")
		for _, side := range []Side{Left, Right} {
			out := s.Anchor(q, side).Minus(s.Rim)
			require.InDelta(t, s.Radius*(1-2*q), out.Dot(s.Forward), 1e-9)
			require.InDelta(t, s.Radius, out.Norm(), 1e-9)
			require.Equal(t, side == Left, out.Dot(s.Left) >= 0, "on the other side")
		}
	})
}

func TestClock(t *testing.T) {
	h := Head{100, 100, 90} // round from above, so that directions are plain
	for name, c := range map[string]struct {
		forward, sideways Angle
		hour              float64
	}{
		"front": {20, 0, 12}, "wearer's right": {0, -20, 3}, "back": {-20, 0, 6}, "wearer's left": {0, 20, 9}, "front right": {20, -20, 1.5},
	} {
		s, err := NewSeat(h, 100, c.forward, c.sideways)
		require.NoError(t, err)
		require.NotNil(t, s.clock(), name)
		assert.InDelta(t, c.hour, *s.clock(), 1e-9, name)
	}
	s, err := NewSeat(h, 100, 0, 0)
	require.NoError(t, err)
	assert.Nil(t, s.clock(), "the crown has no hour")
}

// R may be 0.85 rho and no more.
func TestBaseIsRefusedJustAboveItsLimit(t *testing.T) {
	h := Head{90, 90, 90}
	_, err := NewSeat(h, 2*0.85*90-0.001, 10, 10)
	require.NoError(t, err)
	_, err = NewSeat(h, 2*0.85*90+0.001, 10, 10)
	requireRefused(t, err, "hat.base_mm")
}

func requireRefused(t require.TestingT, err error, field string) {
	var refused Refusal
	require.ErrorAs(t, err, &refused)
	require.Equal(t, field, refused.Field)
	require.NotEmpty(t, refused.Why)
}
