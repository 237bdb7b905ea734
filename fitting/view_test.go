package fitting

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// slowView is the twin of NewView: the whole slanting surface as points, sorted
// into the windows that they are seen in, of 1° and a little wider either way. It
// also tells how near the surface comes to an eye.
func slowView(h Head, b Brim) (lowest, wider map[float64]float64, nearest float64) {
	const round, across = 5000, 200
	none := func() map[float64]float64 { return map[float64]float64{0: 90, 30: 90, -30: 90, 60: 90, -60: 90} }
	lowest, wider, nearest = none(), none(), math.Inf(1)
	for _, eye := range h.Eyes() {
		for i := range round {
			t := 2 * math.Pi * float64(i) / round
			inner, outer := b.Inner.Point(t), b.Outer.Point(t)
			for j := range across + 1 {
				p := inner.Plus(outer.Minus(inner).Times(float64(j) / across)).Minus(eye)
				nearest = min(nearest, p.Norm())
				azimuth := math.Atan2(p.Y, p.X) * 180 / math.Pi
				middle := math.Round(azimuth/30) * 30
				off := math.Abs(azimuth - middle)
				if math.Abs(middle) > 60 || off > 1.2 {
					continue
				}
				elevation := math.Atan2(p.Z, math.Hypot(p.X, p.Y)) * 180 / math.Pi
				wider[middle] = min(wider[middle], elevation)
				if off <= 1 {
					lowest[middle] = min(lowest[middle], elevation)
				}
			}
		}
	}
	return lowest, wider, nearest
}

// views are the five figures with their azimuths.
func (v View) views() map[float64]Angle {
	return map[float64]Angle{0: v.Ahead, 30: v.Left30, -30: v.Right30, 60: v.Left60, -60: v.Right60}
}

func TestViewAgreesWithManyPoints(t *testing.T) {
	r := newRand(t)
	met := 0
	for met < 25 {
		h := Head{100, Length(draw(r, 72, 85)), Length(draw(r, 75, 100))}
		s := seatAt(h, Length(draw(r, 80, 140)), Angle(draw(r, -10, 45)), Angle(draw(r, -45, 45)))
		b, err := NewBrim(s, Length(draw(r, 10, 120)), Angle(draw(r, -75, 75)), Length(draw(r, 0, 10)), 90)
		require.NoError(t, err)
		lowest, wider, nearest := slowView(h, b)
		if nearest < 30 {
			continue // a brim in the face: the points lie too far apart as the eye sees them
		}
		for azimuth, got := range NewView(h, b).views() {
			require.LessOrEqual(t, got.Degrees(), lowest[azimuth]+1e-9, "azimuth %v of %+v on %+v", azimuth, b, h)
			if lowest[azimuth] < 85 { // overhead azimuths run together
				met++
				require.GreaterOrEqual(t, got.Degrees(), wider[azimuth]-0.2, "azimuth %v of %+v on %+v", azimuth, b, h)
			}
		}
	}
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

// A circle as an eye sees it is least high where many points say so.
func TestDipsAreTheLowPointsOfACircle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		_, s := anySeat(t)
		c := Circle{s.Rim, s.Forward, s.Left, s.Radius}
		eye := Vec{rapid.Float64Range(60, 100).Draw(t, "x"), rapid.Float64Range(-40, 40).Draw(t, "y"), rapid.Float64Range(-40, 0).Draw(t, "z")}
		const n = 4000
		at := func(i int) float64 { return elevation(c.Point(2 * math.Pi * float64(i) / n).Minus(eye)) }
		// depth of a low point: how far one must climb to leave it
		depth := func(i int) float64 {
			climb := func(step int) float64 {
				k := i
				for at(k+step) > at(k) && k < i+n && k > i-n {
					k += step
				}
				return at(k) - at(i)
			}
			return min(climb(1), climb(-1))
		}
		dips := c.dips(eye)
		for i := range n {
			if at(i) < at(i-1) && at(i) < at(i+1) && depth(i) > 1e-4 {
				nearest := math.Inf(1)
				for _, p := range dips {
					nearest = min(nearest, math.Abs(elevation(p)-at(i)))
				}
				require.Less(t, nearest, 1e-3, "the low point of elevation %v is found", at(i))
			}
		}
		for _, p := range dips {
			i := int(math.Round(n * math.Atan2(p.Plus(eye).Minus(c.Centre).Dot(c.Left), p.Plus(eye).Minus(c.Centre).Dot(c.Forward)) / (2 * math.Pi)))
			require.LessOrEqual(t, elevation(p), min(at(i-5), at(i+5))+1e-9, "what is found is a low point")
		}
	})
}

// An eye in the plane of symmetry: rounding had put a low point between two
// samples and then outside them, and the view was no number.
func TestDipWhereASampleIsAllButLevel(t *testing.T) {
	s := seatAt(Head{75, 71.25, 93.75}, 60, 1, 7.105427357601002e-15)
	for _, y := range []float64{0, 2.842170943040401e-14, -2.842170943040401e-14, 1e-13, -1e-13} {
		for _, p := range (Circle{s.Rim, s.Forward, s.Left, s.Radius}).dips(Vec{60, y, -1}) {
			require.False(t, math.IsNaN(elevation(p)), "y = %v", y)
		}
	}
}

// Where the surface passes straight below an eye there is no lower elevation.
func TestBrimBelowAnEyeIsMetStraightDown(t *testing.T) {
	h := Head{100, 78, 86}
	eye := h.Eyes()[0]
	for name, c := range map[string]struct {
		slope Angle
		under bool
	}{"level": {0, true}, "drooping": {-50, true}, "lifting over it": {50, false}} {
		s := Seat{Rim: Vec{eye.X - 60, eye.Y, eye.Z - 5}, Forward: Vec{1, 0, 0}, Left: Vec{0, 1, 0}, Normal: Vec{0, 0, 1}, Radius: 50}
		b, err := NewBrim(s, 40, c.slope, 0, 0)
		require.NoError(t, err)
		assert.Equal(t, c.under, NewView(h, b).Ahead == -90, name)
	}
	// once met at -86 degrees with a narrow brim and at -50 with a wide one
	s, err := NewSeat(Head{75, 71.25, 41.25}, 60, 1, 1)
	require.NoError(t, err)
	narrow, err := NewBrim(s, 63.75, -51.5, 0, 0)
	require.NoError(t, err)
	wide, err := NewBrim(s, 73.75, -51.5, 0, 0)
	require.NoError(t, err)
	was, now := NewView(Head{75, 71.25, 41.25}, narrow), NewView(Head{75, 71.25, 41.25}, wide)
	assert.LessOrEqual(t, now.Left60, was.Left60)
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
