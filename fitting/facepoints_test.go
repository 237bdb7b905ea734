package fitting

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A faceSeen is a face before a camera, in mm: x to the right of the picture, y down,
// z towards the camera from the cheekbones.
type faceSeen struct{ hairline, chin, left, right, forehead, jaw Vec }

// likeFace is a face of these proportions, forehead and jaw marked on its left.
func likeFace(height, forehead, jaw float64) faceSeen {
	return faceSeen{
		hairline: Vec{0, -usualHalf * height, before.Height}, chin: Vec{0, usualHalf * height, before.Height},
		left: Vec{-usualHalf, 0, 0}, right: Vec{usualHalf, 0, 0},
		forehead: Vec{-usualHalf * forehead, -60, before.Forehead}, jaw: Vec{-usualHalf * jaw, 60, before.Jaw},
	}
}

// points projects the six marks from a camera and measures in the picture, across the
// line from hairline to chin: what the page of the photograph does.
func (f faceSeen) points(camera float64) FacePoints {
	flat := func(p Vec) Vec { return Vec{p.X, p.Y, 0}.Times(1 / (camera - p.Z)) }
	hairline, chin := flat(f.hairline), flat(f.chin)
	down := chin.Minus(hairline)
	long := down.Norm()
	across := func(p Vec) float64 {
		q := flat(p).Minus(hairline)
		return (q.X*down.Y - q.Y*down.X) / long
	}
	left, right := -across(f.left), across(f.right)
	return FacePoints{long / (left + right), -across(f.forehead) / left, -across(f.jaw) / left}
}

func (f FacePoints) each() [3]float64 { return [3]float64{f.Height, f.Forehead, f.Jaw} }

// What the camera does at the distance asked for is taken off again.
func TestPointsAreFreedOfPerspective(t *testing.T) {
	want := FacePoints{1.42, 0.78, 0.84}
	got := likeFace(want.Height, want.Forehead, want.Jaw).points(cameraDistance)
	assert.Greater(t, got.Height, want.Height+0.03, "a camera makes a face longer")
	for i, x := range got.corrected().each() {
		assert.InDelta(t, want.each()[i], x, 1e-12, "proportion %d", i)
	}
	near := likeFace(want.Height, want.Forehead, want.Jaw).points(400).corrected()
	assert.Greater(t, near.Height, want.Height*1.08, "from an arm's length a face is a tenth too long, which no one can know from the picture")
}

// The plus and minus is what marks, sides and cameras make of one and the same face.
func TestPlusMinusOfPointsIsWhatMarksMake(t *testing.T) {
	r := newRand(t)
	var seen [3]sample
	for range 20000 {
		f := likeFace(usualLong, usualBrow, usualJaw)
		nudge := func(p *Vec, by float64) {
			*p = p.Plus(Vec{r.NormFloat64() * by, r.NormFloat64() * by, 0})
		}
		f.hairline.Y += r.NormFloat64() * hairlineDoubt
		f.chin.Y += r.NormFloat64() * markDoubt
		for _, p := range []*Vec{&f.left, &f.right, &f.forehead, &f.jaw} {
			nudge(p, markDoubt)
		}
		bent := r.NormFloat64() * unevenDoubt // the cheekbones lie to one side of the middle
		f.left.X += bent
		f.right.X += bent
		f.forehead.X += r.NormFloat64() * unevenDoubt
		f.jaw.X += r.NormFloat64() * unevenDoubt
		for i, x := range f.points(someCamera(r)).corrected().each() {
			seen[i].add(x)
		}
	}
	doubt := FacePoints{usualLong, usualBrow, usualJaw}.doubt().each()
	for i, s := range seen {
		t.Logf("proportion %d: s.d. %.4f, said to be %.4f", i, s.sd(), doubt[i])
		assert.InEpsilon(t, s.sd(), doubt[i], 0.08, "proportion %d", i)
	}
}

// someCamera stands as far off as cameraSpread says, about where it was asked to.
func someCamera(r *rand.Rand) float64 {
	return 1 / max(1e-4, 1/cameraDistance+r.NormFloat64()*cameraSpread)
}

// Points at the place of a drawn face are mostly that face, less surely than tapes, and
// the height is drawn in towards the usual.
func TestPointsOfADrawnFace(t *testing.T) {
	for i, s := range faceShapes {
		long, brow, jaw := usualLong+s.long*longDeviation, usualBrow+s.brow*browDeviation, usualJaw+s.jaw*jawDeviation
		at := likeFace(long, brow, jaw).points(cameraDistance)
		seen, err := readFace(Face{Points: &at}, 560, Female)
		require.NoError(t, err)
		cheekbone := usualCheekbone(560, Female)
		taped, err := readFace(Face{HairlineToChin: new(Length(long) * cheekbone), Cheekbone: &cheekbone, Forehead: new(Length(brow) * cheekbone), Jaw: new(Length(jaw) * cheekbone)}, 560, Female)
		require.NoError(t, err)
		sum := 0.0
		for j, share := range seen.shares {
			sum += share
			if j != i {
				assert.Less(t, share, seen.shares[i], "%s is taken for %s", s.shape, faceShapes[j].shape)
			}
		}
		assert.InDelta(t, 1, sum, 1e-12)
		assert.Less(t, seen.shares[i], taped.shares[i], "%s: points are as sure as tapes", s.shape)
		assert.Less(t, math.Abs(seen.height/seen.width-usualLong), math.Abs(taped.height/taped.width-usualLong), "%s: the height is believed as tapes are", s.shape)
		read := seen.read()
		assert.InDelta(t, long, read.Points.Height, 1e-12)
		assert.Greater(t, read.PointsPlusMinus.Forehead, 0.05)
	}
}

func TestPointsThatCannotBe(t *testing.T) {
	for field, points := range map[string]FacePoints{
		"face.points.height":   {math.NaN(), 0.76, 0.82},
		"face.points.forehead": {1.35, math.Inf(1), 0.82},
		"face.points.jaw":      {1.35, 0.76, -0.82},
	} {
		in := wearers()["nothing said"]
		in.Face = Face{Points: &points}
		_, err := Advise(in)
		requireRefused(t, err, field)
	}
}

// A tape counts before the point of the same measure.
func TestATapeCountsBeforeAPoint(t *testing.T) {
	cheekbone, height := Length(134), Length(200)
	p, err := readFace(Face{Cheekbone: &cheekbone, HairlineToChin: &height, Points: &FacePoints{1.2, 0.76, 0.82}}, 560, Female)
	require.NoError(t, err)
	assert.InDelta(t, 200, p.height, 1e-9)
}
