package fitting

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// slowView is the twin of NewView: the whole slanting surface as points.
func slowView(h Head, b Brim, azimuth float64) float64 {
	const round, across = 3600, 40
	lowest := 90.0
	for _, eye := range h.Eyes() {
		for i := range round {
			t := 2 * math.Pi * float64(i) / round
			inner, outer := b.Inner.Point(t), b.Outer.Point(t)
			for j := range across + 1 {
				p := inner.Plus(outer.Minus(inner).Times(float64(j) / across)).Minus(eye)
				if off := math.Remainder(math.Atan2(p.Y, p.X)*180/math.Pi-azimuth, 360); math.Abs(off) <= 1 {
					lowest = min(lowest, math.Atan2(p.Z, math.Hypot(p.X, p.Y))*180/math.Pi)
				}
			}
		}
	}
	return lowest
}

// views are the five figures with their azimuths.
func (v View) views() map[float64]Angle {
	return map[float64]Angle{0: v.Ahead, 30: v.Left30, -30: v.Right30, 60: v.Left60, -60: v.Right60}
}

func TestViewAgreesWithManyPoints(t *testing.T) {
	r := newRand(t)
	met := 0
	for range 15 {
		h := Head{100, Length(draw(r, 72, 85)), Length(draw(r, 75, 100))}
		s := seatAt(h, Length(draw(r, 80, 140)), Angle(draw(r, -10, 45)), Angle(draw(r, -45, 45)))
		b, err := NewBrim(s, Length(draw(r, 10, 120)), Angle(draw(r, -75, 75)), Length(draw(r, 0, 10)), 90)
		require.NoError(t, err)
		for azimuth, got := range NewView(h, b).views() {
			want := slowView(h, b, azimuth)
			if want < 90 {
				met++
			}
			// the points leave gaps, so the lowest of them lies a little too high
			require.InDelta(t, want, got.Degrees(), 0.3, "azimuth %v of %+v on %+v", azimuth, b, h)
			require.LessOrEqual(t, got.Degrees(), want+1e-9)
		}
	}
	require.Greater(t, met, 20, "hardly any azimuth met the brim: nothing was compared")
}

// A level disc of radius 200 above the crown, seen from eyes at a known place:
// its edge is met where the line of sight leaves the disc.
func TestViewUnderALevelDisc(t *testing.T) {
	h := Head{100, 78, 86}
	b := Brim{
		Inner:  Circle{Vec{0, 0, 86}, Vec{1, 0, 0}, Vec{0, 1, 0}, 60},
		Outer:  Circle{Vec{0, 0, 86}, Vec{1, 0, 0}, Vec{0, 1, 0}, 200},
		Normal: Vec{0, 0, 1}, Width: 140,
	}
	up := 86 + 0.29*86
	// Ahead: from the eye at (84, ±31) towards azimuth 1° outward the edge is nearest
	// at the inner, from there towards the other edge of the window farthest
	farthest := 0.0
	for _, y := range []float64{31, -31} {
		for a := -1.0; a <= 1; a += 0.001 {
			sin, cos := math.Sincos(a * math.Pi / 180)
			m := 84*cos + y*sin
			farthest = max(farthest, -m+math.Sqrt(m*m+200*200-84*84-31*31))
		}
	}
	assert.InDelta(t, math.Atan2(up, farthest)*180/math.Pi, NewView(h, b).Ahead.Degrees(), 1e-3)
}

func TestViewMeetsNothingWithoutABrimAhead(t *testing.T) {
	h := Head{100, 78, 86}
	s := seatAt(h, 60, -40, 0) // far back
	b, err := NewBrim(s, 0, 0, 0, 0)
	require.NoError(t, err)
	assert.Equal(t, View{90, 90, 90, 90, 90}, NewView(h, b))
}

// A wider brim at the same slope hides at least as much.
func TestWiderBrimNeverOpensTheView(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h, s := anySeat(t)
		slope := Angle(rapid.Float64Range(-75, 75).Draw(t, "slope"))
		width := Length(rapid.Float64Range(0, 120).Draw(t, "width"))
		narrow, err := NewBrim(s, width, slope, 0, 0)
		require.NoError(t, err)
		wide, err := NewBrim(s, width+10, slope, 0, 0)
		require.NoError(t, err)
		was := NewView(h, narrow).views()
		for azimuth, now := range NewView(h, wide).views() {
			require.LessOrEqual(t, now.Degrees(), was[azimuth].Degrees()+1e-9, "azimuth %v", azimuth)
		}
	})
}
