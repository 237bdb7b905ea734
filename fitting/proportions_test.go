package fitting

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestFaceOfTheSurvey(t *testing.T) {
	p, err := readFace(Face{}, 561.1, Female)
	require.NoError(t, err)
	assert.InDelta(t, 133.8, p.width, 0.1, "cheekbones of a woman of mean girth; ANSUR II")
	assert.InDelta(t, 181, p.height, 0.5)
	p, err = readFace(Face{}, 574.4, Male)
	require.NoError(t, err)
	assert.InDelta(t, 142.6, p.width, 0.1, "cheekbones of a man of mean girth; ANSUR II")
}

func TestPickedFaceIsWhollyThatShape(t *testing.T) {
	for _, s := range faceShapes {
		p, err := readFace(Face{Shape: s.shape}, 560, SexUnknown)
		require.NoError(t, err)
		assert.Equal(t, s.tilt, p.tilt())
		assert.InDelta(t, usualLong+s.long*longDeviation, p.height/p.width, 1e-12)
	}
}

// Tapes at the place of a drawn face are mostly that face, and shares are shares.
func TestTapedFaceIsSharesOfShapes(t *testing.T) {
	for i, s := range faceShapes {
		cheekbone := Length(134)
		at := func(usual, deviation, off float64) *Length { return new(cheekbone * Length(usual+off*deviation)) }
		p, err := readFace(Face{HairlineToChin: at(usualLong, longDeviation, s.long), Cheekbone: &cheekbone, Forehead: at(usualBrow, browDeviation, s.brow), Jaw: at(usualJaw, jawDeviation, s.jaw)}, 560, Female)
		require.NoError(t, err)
		for j, share := range p.shares {
			if j != i {
				assert.Less(t, share, p.shares[i], "%s is taken for %s", s.shape, faceShapes[j].shape)
			}
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		in := anyWearer(t)
		p, err := readFace(in.Face, *in.Measures.Girth, in.Measures.Sex)
		require.NoError(t, err)
		sum := 0.0
		for _, share := range p.shares {
			require.GreaterOrEqual(t, share, 0.0)
			sum += share
		}
		require.InDelta(t, 1, sum, 1e-12)
		require.True(t, p.tilt() >= 15 && p.tilt() <= 30, "tilt %v", p.tilt())
	})
}

func TestFaceThatCannotBe(t *testing.T) {
	nan := Length(math.NaN())
	for field, f := range map[string]Face{
		"face.hairline_to_chin_mm": {HairlineToChin: new(Length(18))},
		"face.cheekbone_mm":        {Cheekbone: &nan},
		"face.forehead_mm":         {Forehead: new(Length(-1))},
		"face.jaw_mm":              {Jaw: new(Length(1200))},
	} {
		in := wearers()["nothing said"]
		in.Face = f
		_, err := Advise(in)
		requireRefused(t, err, field)
	}
}

// What the shares depend on: the tapes' proportions, not their size.
func TestSharesFollowTheProportions(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cheekbone := rapid.Float64Range(118, 160).Draw(t, "cheekbones")
		long := rapid.Float64Range(1.15, 1.6).Draw(t, "long")
		brow, jaw := rapid.Float64Range(0.66, 0.88).Draw(t, "brow"), rapid.Float64Range(0.68, 0.98).Draw(t, "jaw")
		size := rapid.Float64Range(0.93, 1.05).Draw(t, "size")
		read := func(long, size float64) FaceRead {
			l := func(x float64) *Length { return new(Length(size * x * cheekbone)) }
			p, err := readFace(Face{HairlineToChin: l(long), Cheekbone: l(1), Forehead: l(brow), Jaw: l(jaw)}, 560, Female)
			require.NoError(t, err)
			return p.read()
		}
		one, scaled, longer := read(long, 1), read(long, size), read(long+0.02, 1)
		for shape, share := range one.Shares {
			require.InDelta(t, share, scaled.Shares[shape], 1e-9, "%s depends on the size of the face", shape)
		}
		require.LessOrEqual(t, longer.Shares[Round], one.Shares[Round], "a longer face is more round")
		require.GreaterOrEqual(t, longer.Shares[Long], one.Shares[Long], "a longer face is less long")
	})
}
