package fitting

import (
	"cmp"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// upright is a brim between two level circles, the lower one about the origin.
func upright(inner, outer, high float64) Brim {
	level := func(radius, z float64) Circle { return Circle{Vec{0, 0, z}, Vec{1, 0, 0}, Vec{0, 1, 0}, radius} }
	return Brim{Inner: level(inner, 0), Outer: level(outer, high), Normal: Vec{0, 0, 1}}
}

func TestSilhouettesOfPlainShapes(t *testing.T) {
	ahead := Vec{1, 0, 0}
	// from the side a drum is a rectangle and a cone's frustum a trapezium
	drum := newSilhouette(upright(125, 125, 100), Vec{0, 0, 50}, ahead)
	assert.InDelta(t, 250*100, drum.area, 1e-9)
	assert.InDelta(t, 50, drum.centre.Z, 1e-9)
	cone := newSilhouette(upright(50, 110, 90), Vec{0, 0, 20}, ahead)
	assert.InDelta(t, (100+220)*90/2, cone.area, 1e-9)
	assert.InDelta(t, 90.0/3*(100+2*220)/(100+220), cone.centre.Z, 1e-9)
	// with a top above the edge, a triangle on the rectangle
	house := newSilhouette(upright(100, 100, 60), Vec{0, 0, 90}, ahead)
	assert.InDelta(t, 200*60+200*30/2, house.area, 1e-9)
	assert.InDelta(t, (12000*30+3000*70)/15000.0, house.centre.Z, 1e-9)

	// leaning towards the wind by 30 degrees a disc is an ellipse, and a drum two of them with what is between
	sin, cos := math.Sincos(math.Pi / 6)
	lean := func(along float64) Circle {
		return Circle{Vec{along * sin, 5, along * cos}, Vec{cos, 0, -sin}, Vec{0, 1, 0}, 80}
	}
	disc := newSilhouette(Brim{Inner: lean(0), Outer: lean(0)}, lean(0).Centre, ahead)
	assert.InEpsilon(t, math.Pi*80*80*sin, disc.area, 1e-12)
	assert.InDelta(t, 5, disc.centre.Y, 1e-9)
	assert.InDelta(t, 0, disc.centre.Z, 1e-9)
	leaning := newSilhouette(Brim{Inner: lean(0), Outer: lean(70)}, lean(30).Centre, ahead)
	assert.InEpsilon(t, math.Pi*80*80*sin+160*70*cos, leaning.area, 1e-12)
	assert.InDelta(t, 35*cos, leaning.centre.Z, 1e-9)
}

// hullOf is the convex hull of places, gone round to the left: Andrew's monotone
// chain, 1979.
func hullOf(places []sight) []sight {
	slices.SortFunc(places, func(p, q sight) int { return cmp.Or(cmp.Compare(p.x, q.x), cmp.Compare(p.y, q.y)) })
	var h []sight
	add := func(p sight, from int) {
		for len(h) > from && h[len(h)-1].minus(h[len(h)-2]).cross(p.minus(h[len(h)-2])) <= 0 {
			h = h[:len(h)-1]
		}
		h = append(h, p)
	}
	for _, p := range places {
		add(p, 1)
	}
	upper := len(h)
	for _, p := range slices.Backward(places[:len(places)-1]) {
		add(p, upper)
	}
	return h[:len(h)-1]
}

// The slow twin takes both circles as a great many points. It is never quite edge-on to a circle:
// the points would lie in a line but for rounding, and a hull of points is no twin there.
func TestSilhouetteAgreesWithManyPoints(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		_, s, b, _ := anyWornHat(t)
		way := heading(Angle(rapid.Float64Range(0.7, 359).Draw(t, "way")))
		got := newSilhouette(b, s.Centre, way)
		const many = 4000
		across := Vec{-way.Y, way.X, 0}
		places := []sight{{s.Centre.Dot(across), s.Centre.Z}}
		for _, c := range []Circle{b.Inner, b.Outer} {
			for k := range many {
				p := c.Point(2 * math.Pi * float64(k) / many)
				places = append(places, sight{p.Dot(across), p.Z})
			}
		}
		var sum moments
		h := hullOf(places)
		for i, p := range h {
			sum.triangle(p, h[(i+1)%len(h)])
		}
		require.InDelta(t, sum.area, got.area, 0.1)
		require.InDelta(t, sum.first.x/sum.area, got.centre.Dot(across), 0.01)
		require.InDelta(t, sum.first.y/sum.area, got.centre.Z, 0.01)
		back := newSilhouette(b, s.Centre, way.Times(-1))
		require.InEpsilon(t, got.area, back.area, 1e-9, "from behind it is as large")
	})
}

// The facts' figures: 250 x 100 mm at the top of forces 3 to 6.
func TestForceOfTheWind(t *testing.T) {
	drum := upright(125, 125, 100)
	for _, gust := range gusts(Seat{Centre: Vec{0, 0, 50}}, drum, 1) {
		for wind, force := range map[float64]float64{5.4: 0.45, 7.9: 0.96, 10.7: 1.75, 13.8: 2.9} {
			assert.InEpsilon(t, force, gust.force.Norm()*wind*wind, 0.01)
		}
	}
}

// WMO's formula for the scale, v = 0.836 B^1.5 m/s, lies within each force's bounds.
func TestBeaufort(t *testing.T) {
	for force := range 13 {
		assert.Equal(t, force, Beaufort(0.836*math.Pow(float64(force), 1.5)), "force %d", force)
	}
	for wind, force := range map[float64]int{0.29: 0, 0.3: 1, 3.3: 2, 3.4: 3, 5.49: 3, 5.5: 4, 7.9: 4, 10.8: 6, 32.6: 11, 32.7: 12, 100: 12} {
		assert.Equal(t, force, Beaufort(wind), "%g m/s", wind)
	}
}
