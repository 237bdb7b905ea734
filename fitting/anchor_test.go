package fitting

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// On a ball every rim point is as far out, and the nearest to an ear is the one in
// the plane through ear, rim centre and the ball's middle.
func TestEarAnchorsOnABall(t *testing.T) {
	ball := Head{95, 95, 95}
	for _, c := range []struct{ forward, sideways Angle }{{0, 0}, {25, -35}, {40, 10}, {-20, 20}} {
		s, err := NewSeat(ball, 110, c.forward, c.sideways)
		require.NoError(t, err)
		at := EarAnchors(ball, s, 0)
		for side, got := range map[Side]float64{Left: at.Left, Right: at.Right} {
			ear := ball.BehindEar(side)
			ahead, aside := ear.Dot(s.Forward), ear.Dot(s.Left)
			assert.InDelta(t, (1-ahead/math.Hypot(ahead, aside))/2, got, 1e-3, "%s, %+v", side, c)
		}
	}
}

// The slow twin follows the surface to every hundredth of the base.
func TestEarAnchorsAreNearest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h, s, _, _ := anyWornHat(t)
		hair := Length(rapid.IntRange(0, 10).Draw(t, "hair under the elastic"))
		at := EarAnchors(h, s, hair)
		under := newSurface(h.Under(hair))
		way := func(q float64, side Side) float64 {
			p, ok := under.connect(under.BehindEar(side), under.OnSurface(s.Anchor(q, side)))
			require.True(t, ok)
			return p.length
		}
		for side, q := range map[Side]float64{Left: at.Left, Right: at.Right} {
			shortest := way(q, side)
			for k := range 21 {
				require.LessOrEqual(t, shortest, way(float64(k)/20, side)+1e-3, "%s: %g back is nearer than %g", side, float64(k)/20, q)
			}
		}
	})
}

func TestElasticAtTwoPlaces(t *testing.T) {
	w := races(t)
	e, err := NewElasticAt(w.head, w.seat, 0, Anchors{0.3, 0.6})
	require.NoError(t, err)
	left, err := NewElastic(w.head, w.seat, 0, 0.3)
	require.NoError(t, err)
	right, err := NewElastic(w.head, w.seat, 0, 0.6)
	require.NoError(t, err)
	assert.Equal(t, left.Left, e.Left)
	assert.Equal(t, right.Right, e.Right)
	_, err = NewElasticAt(w.head, w.seat, 0, Anchors{0.3, math.NaN()})
	requireRefused(t, err, "hat.anchor_from_front")
}

// No other of many fractions leaves the tension more room, and for the tilted hats
// of the trial it is near the trade's third.
func TestSteadiestAnchors(t *testing.T) {
	for name, w := range map[string]wornHat{"races": races(t), "medium": medium(t)} {
		at, ok, err := SteadiestAnchors(w.head, w.seat, w.brim, 0, HoldSettings{})
		require.NoError(t, err)
		require.True(t, ok, name)
		require.Equal(t, at.Left, at.Right)
		assert.InDelta(t, 0.31, at.Left, 0.06, "%s: near a third", name)
		best := w.room(t, at.Left)
		for q := foremost; q <= hindmost; q += 0.01 {
			assert.LessOrEqual(t, w.room(t, q), best+2e-3, "%s: %g back leaves more room than %g", name, q, at.Left)
		}
	}
	w := forehead(t)
	at, ok, err := SteadiestAnchors(w.head, w.seat, w.brim, 0, HoldSettings{})
	require.NoError(t, err)
	assert.True(t, ok)
	assert.Equal(t, Anchors{usualAnchor, usualAnchor}, at, "a third where there is no upper end")
	w = small(t)
	_, ok, err = SteadiestAnchors(w.head, w.seat, w.brim, 0, HoldSettings{})
	require.NoError(t, err)
	assert.False(t, ok, "the small hat holds with no anchor")
}

func (w wornHat) room(t *testing.T, q float64) float64 {
	e, err := NewElastic(w.head, w.seat, 0, q)
	if err != nil {
		return math.Inf(-1)
	}
	w.elastic = e
	h := w.hold(t, HoldSettings{})
	return mostOf(h) - leastOf(h)
}
