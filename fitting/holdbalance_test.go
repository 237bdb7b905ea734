package fitting

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// The hand-computed cases are the statics of Coulomb's friction as in any
// textbook of mechanics, on a block of 2 N with four feet.
const blockWeight = 2.0

// block stands on a slope that rises towards x, its centre at a height over the
// feet, which are at a distance from its middle forward, back, left and right.
func block(slope, height, reach float64) *bearing {
	sin, cos := math.Sincos(slope)
	up, uphill := Vec{-sin, 0, cos}, Vec{cos, 0, sin}
	b := &bearing{size: reach, weight: blockWeight, press: usualPress}
	for _, way := range []Vec{uphill, uphill.Times(-1), {0, 1, 0}, {0, -1, 0}} {
		b.contacts = append(b.contacts, contact{way.Times(reach), up, uphill})
	}
	b.weights = []pull{{Vec{0, 0, -blockWeight}, up.Times(height)}}
	return b
}

func TestBlockOnASlope(t *testing.T) {
	for _, c := range []struct{ slope, friction, lift float64 }{
		{30, 0.3, 0}, {30, 0.3, 20}, {45, 0.5, 0}, {45, 0.5, 35}, {60, 0.1, 10}, {20, 0, 0},
	} {
		slope, lift := Angle(c.slope).Radians(), Angle(c.lift).Radians()
		b := block(slope, 5, 60)
		sin, cos := math.Sincos(slope + lift)
		b.strands = []pull{{Vec{cos, 0, sin}, Vec{}}}
		least, most, ok := b.tensions(c.friction)
		require.True(t, ok, "%+v", c)
		pulls := math.Sin(slope) - c.friction*math.Cos(slope)
		assert.InDelta(t, blockWeight*pulls/(math.Cos(lift)-c.friction*math.Sin(lift)), least, 1e-9, "%+v slides down", c)
		pulls = math.Sin(slope) + c.friction*math.Cos(slope)
		assert.InDelta(t, blockWeight*pulls/(math.Cos(lift)+c.friction*math.Sin(lift)), most, 1e-9, "%+v is dragged up", c)
	}
}

// Below the angle of friction it stays by itself.
func TestBlockStaysUpToTheAngleOfFriction(t *testing.T) {
	for _, friction := range []float64{0.1, 0.4, 0.8} {
		for _, part := range []float64{0.999, 1.001} {
			b := block(part*math.Atan(friction), 1, 60)
			_, ok := newTableau(b.cones(friction), b.still(), 4*frictionWays+1)
			assert.Equal(t, part < 1, ok, "friction %g, at %g of its angle", friction, part)
		}
	}
}

// Pushed level at a height, a block slides at friction times its weight or tips
// at weight times half its breadth over the height. Friction from eight directions
// is least half way between two.
func TestBlockSlidesOrTips(t *testing.T) {
	b := block(0, 10, 50)
	push := func(degrees Angle, height float64) []pull {
		sin, cos := math.Sincos(degrees.Radians())
		return []pull{{Vec{cos, sin, 0}, Vec{0, 0, height}}}
	}
	assert.InDelta(t, 0.4*blockWeight, b.withstands(0.4, 0, push(0, 1)), 1e-9, "slides ahead")
	assert.InDelta(t, 0.4*blockWeight, b.withstands(0.4, 0, push(45, 1)), 1e-9, "slides askew")
	assert.InDelta(t, 0.4*blockWeight*math.Cos(math.Pi/8), b.withstands(0.4, 0, push(22.5, 1)), 1e-9, "slides between two directions")
	assert.InDelta(t, blockWeight*50/200, b.withstands(0.4, 0, push(0, 200)), 1e-9, "tips")
	assert.InDelta(t, blockWeight*50/200, b.withstands(0.4, 0, append(push(0, 1), push(0, 200)...)), 1e-9, "the least of several")
	assert.Zero(t, block(0.5, 10, 50).withstands(0.4, 0, push(0, 1)), "slides before it is pushed")
}

// Between two walls friction needs W/(2 mu) from each, and the head may be pressed
// no harder than twice weight and tension.
func TestBodyBetweenWallsNeedsToBePressed(t *testing.T) {
	wall := func(y float64) contact { return contact{Vec{0, y, 0}, Vec{0, -y / 40, 0}, Vec{1, 0, 0}} }
	b := &bearing{contacts: []contact{wall(40), wall(-40)}, size: 40, weight: 1, press: 2, weights: []pull{{Vec{0, 0, -1}, Vec{}}},
		strands: []pull{{Vec{0, 0, 1}, Vec{}}}}
	for _, c := range []struct{ friction, least float64 }{{0.6, 0}, {0.4, 0.2 / 1.8}, {0.25, 0.5 / 1.5}, {0, 1}} {
		least, _, ok := b.tensions(c.friction)
		require.True(t, ok, "friction %g", c.friction)
		assert.InDelta(t, c.least, least, 1e-9, "friction %g", c.friction)
	}
}

// anyWornHat draws a hat on a head, its elastic on its own sides. Tilts are whole
// tenths of a degree: a millionth of one, where rapid likes to go, cannot be told
// from rounding, and forces then close to 1e-7 N only.
func anyWornHat(t *rapid.T) (Head, Seat, Brim, Elastic) {
	h := anyHead(t)
	tenths := func(least, most int, label string) Angle {
		return Angle(rapid.IntRange(10*least, 10*most).Draw(t, label)) / 10
	}
	s, err := NewSeat(h, Length(rapid.Float64Range(70, 150).Draw(t, "base")), tenths(-20, 45, "forward"), tenths(-40, 40, "sideways"))
	if err != nil {
		t.Skip("the base is refused")
	}
	b, err := NewBrim(s, Length(rapid.IntRange(0, 120).Draw(t, "brim")), tenths(-75, 75, "slope"), 0, 0)
	require.NoError(t, err)
	e, err := NewElastic(h, s, Length(rapid.Float64Range(0, 10).Draw(t, "hair")), rapid.Float64Range(0.15, 0.5).Draw(t, "anchor"))
	if err != nil {
		t.Skip("the elastic is refused")
	}
	return h, s, b, e
}

func anyBearing(t *rapid.T) *bearing {
	h, s, b, e := anyWornHat(t)
	f, err := HoldSettings{Trim: new(Mass(rapid.Float64Range(0, 60).Draw(t, "trimming")))}.read()
	require.NoError(t, err)
	strip, err := b.Pattern().Strip(usualFolds)
	require.NoError(t, err)
	return newBearing(h, s, e, burdens(s, b, strip, f), f.press)
}

// anyFriction draws one that the settings let through, or none.
func anyFriction(t *rapid.T) float64 {
	if rapid.IntRange(0, 9).Draw(t, "no friction") == 0 {
		return 0
	}
	return rapid.Float64Range(leastFriction, 0.6).Draw(t, "friction")
}

// The forces of the answer are added up again, from the contacts themselves: force
// and moment close to 1e-9 N and 1e-9 N for each radius of the base.
func TestBalanceCloses(t *testing.T) {
	held := 0
	rapid.Check(t, func(t *rapid.T) {
		b := anyBearing(t)
		friction := anyFriction(t)
		columns := append(b.cones(friction), b.tension())
		k := len(columns) - 1
		s, ok := newTableau(columns, b.still(), len(columns))
		if !ok {
			return
		}
		held++
		b.requireBalanced(t, s, friction, s.least(k))
		if most := s.most(k); !math.IsInf(most, 1) {
			b.requireBalanced(t, s, friction, most)
		}
	})
	require.Positive(t, held, "no hat held")
}

// A hat a ten millionth of a degree off the middle, which pivots alone balanced to
// 1e-8 N only.
func TestBalanceClosesNextToTheMiddle(t *testing.T) {
	h := Head{112.5, 84.375, 112.5}
	s, err := NewSeat(h, 128, -0.5, -1.1920928955078125e-07)
	require.NoError(t, err)
	e, err := NewElastic(h, s, 1, 0.5)
	require.NoError(t, err)
	brim, err := NewBrim(s, 1, 1, 0, 0)
	require.NoError(t, err)
	f, err := HoldSettings{Trim: new(Mass(1))}.read()
	require.NoError(t, err)
	strip, err := brim.Pattern().Strip(usualFolds)
	require.NoError(t, err)
	b := newBearing(h, s, e, burdens(s, brim, strip, f), f.press)
	columns := append(b.cones(0.0625), b.tension())
	balance, ok := newTableau(columns, b.still(), len(columns))
	require.True(t, ok)
	b.requireBalanced(t, balance, 0.0625, balance.least(len(columns)-1))
	b.requireBalanced(t, balance, 0.0625, balance.most(len(columns)-1))
}

func (b *bearing) requireBalanced(t require.TestingT, s *tableau, friction, tension float64) {
	tension *= b.weight
	pulls := slices.Clone(b.weights)
	for _, p := range b.strands {
		pulls = append(pulls, pull{p.force.Times(tension), p.at})
	}
	pressed := 0.0
	for j, c := range b.contacts {
		var force Vec
		for k := range frictionWays {
			x := s.value(j*frictionWays+k) * b.weight
			require.GreaterOrEqual(t, x, -1e-9, "contact %d pulls", j)
			angle := float64(k) * math.Pi / 4
			force = force.Plus(c.normal.Times(x)).Plus(c.first.Times(x * friction * math.Cos(angle))).Plus(c.normal.Cross(c.first).Times(x * friction * math.Sin(angle)))
		}
		normal := force.Dot(c.normal)
		require.LessOrEqual(t, force.Minus(c.normal.Times(normal)).Norm(), friction*normal+1e-9, "contact %d slips", j)
		pressed += normal
		pulls = append(pulls, pull{force, c.at})
	}
	var force, moment Vec
	for _, p := range pulls {
		force = force.Plus(p.force)
		moment = moment.Plus(p.at.Minus(b.middle).Cross(p.force))
	}
	require.InDelta(t, 0, force.Norm(), 1e-9, "the forces do not add up to nothing")
	require.InDelta(t, 0, moment.Norm()/b.size, 1e-9, "the moments do not add up to nothing")
	require.LessOrEqual(t, pressed, b.press*(b.weight+2*tension)+1e-9, "the head is pressed too hard")
}
