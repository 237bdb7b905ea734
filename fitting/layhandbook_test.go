package fitting

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// inches lays pieces told in inches on cloth told in inches.
func inches(t require.TestingT, width, length float64, pieces ...Piece) Lay {
	lay, err := LayOf(pieces, clothOf(Length(width)*Inch, Length(length)*Inch))
	require.NoError(t, err)
	return lay
}

func clothOf(width, length Length) Cloth { return Cloth{Width: &width, Length: &length} }

// bare is a strip without seams or room, its ends square.
func bare(width, length Length) Piece { return Piece{Kind: StripPiece, Width: width, Length: length} }

// threaded is the same with both ends on the thread, so that its length is its
// edge's.
func threaded(width, edge Length) Piece {
	return Piece{Kind: StripPiece, Width: width, Length: edge, Ring: true}
}

// Cloth for so much bias strip is its area, however it is joined: common practice,
// on which six handbooks agree. In inches, as printed.
func TestYardageIsArea(t *testing.T) {
	for _, c := range []struct{ long, wide, square float64 }{
		{250, 2, 22.36}, {55, 2.5, 11.73}, {100, 3.5, 18.71},
	} {
		lay := inches(t, c.square, 100, bare(Length(c.wide)*Inch, Length(c.long)*Inch))
		assert.InDelta(t, c.square, lay.AreaLength.Inches(), 0.01, "%g in of strip %g in wide take a square of %g in", c.long, c.wide, c.square)
	}
	for _, c := range []struct{ square, wide, each, long float64 }{
		{20, 2, 10, 200}, {12, 2, 6, 72}, {36, 2, 18, 648},
	} {
		cut := []Piece{bare(Length(c.wide)*Inch, Length(c.each)*Inch)}
		y, err := YieldOf(cut, clothOf(Length(c.square)*Inch, Length(c.square)*Inch))
		require.NoError(t, err)
		assert.Equal(t, c.long, float64(y.AreaHats)*c.each, "inches of strip %g in wide out of %g in square", c.wide, c.square)
		assert.LessOrEqual(t, y.Hats, y.AreaHats, "strips square at their ends cannot use all of it")
	}
	lay := inches(t, 42, 100, bare(1*Inch, 18*18*Inch))
	assert.InDelta(t, 7.71, lay.AreaLength.Inches(), 0.005, "18 in square is 7.71 in of cloth 42 in wide")
}

// A strip of 46 in cut in one takes cloth of 46/1.414 = 32.53 in: a sewing handout
// (common practice).
func TestStripCutInOneTakesItsLengthOverRootTwo(t *testing.T) {
	narrow := threaded(Inch/8, 46*Inch)
	assert.Equal(t, 1, inches(t, 32.53, 36, narrow).Parts, "46 in on cloth of 32.53 in")
	assert.Greater(t, inches(t, 32.52, 36, narrow).Parts, 1, "46 in on cloth of 32.52 in")
}

// A strip from selvedge to selvedge of cloth W wide has an edge of √2·W and eats w·√2
// of the selvedge, so that n take W + n·w·√2: with 90 cm and 8 cm 127.28, 11.31,
// 101.31 and 112.63 cm. Plain geometry.
func TestStripsFromSelvedgeToSelvedge(t *testing.T) {
	whole := threaded(8*Centimetre, 127.2792*Centimetre)
	for n, takes := range map[int]float64{1: 101.31, 2: 112.63, 5: 90 + 5*11.3137} {
		pieces := make([]Piece, n)
		for i := range pieces {
			pieces[i] = whole
		}
		lay, err := LayOf(pieces, clothOf(90*Centimetre, 150*Centimetre))
		require.NoError(t, err)
		assert.True(t, lay.Fits)
		assert.Equal(t, 1, lay.Parts, "each reaches across in one")
		assert.InDelta(t, takes, lay.Takes.Length.Centimetres(), 0.01, "%d strips of 8 cm across 90 cm", n)
	}
}

// A gathered brim strip of 7 by 51 in from velvet 20 in wide: two crossway pieces
// just do (Anslow, Practical Millinery, 1922, p. 88). A ring of n parts with a seam
// of s is n·√2·(W - 2s) round: 55.15 in with seams of 1/4 in.
func TestTwoCrosswayPiecesJustDo(t *testing.T) {
	ring := func(length float64) Piece {
		return Piece{Kind: StripPiece, Width: 7 * Inch, Length: Length(length) * Inch, Ring: true, Seam: joinSeam}
	}
	lay := inches(t, 20, 60, ring(51))
	require.True(t, lay.Fits)
	assert.Equal(t, 2, lay.Parts, "two pieces do for 51 in")
	assert.Equal(t, 2, inches(t, 20, 60, ring(55.15)).Parts, "two pieces reach 55.15 in")
	assert.Equal(t, 3, inches(t, 20, 60, ring(55.16)).Parts, "and no farther")
	assert.Greater(t, inches(t, 16, 60, ring(51)).Parts, 2, "velvet of 16 in takes a third")
}

// A smooth strip for an edge of 40 in and a brim of 2 1/2 in is 7 in wide, cut in
// one (Martin, Make Your Own Hats, 1921, ch. II): (40 + 7)/√2 = 33.2 in of cloth 36 in wide,
// and not of velvet 20 in wide.
func TestSmoothStripIsCutInOne(t *testing.T) {
	smooth := bare(7*Inch, 40*Inch)
	lay := inches(t, 36, 36, smooth)
	assert.Equal(t, 1, lay.Parts)
	assert.InDelta(t, 47/math.Sqrt2, lay.Takes.Length.Inches(), 1e-9, "it takes a square of (40 + 7)/√2")
	assert.Equal(t, 2, inches(t, 20, 60, smooth).Parts)
}

// A flat brim of 5 in on a head of 16 1/2 takes a square of 15 1/2 in with π as 3
// (Home Millinery, 1920s), in truth 15.25.
func TestSquareForAFlatBrim(t *testing.T) {
	brim := Piece{Kind: BasePiece, Width: Length(16.5/math.Pi+2*5) * Inch}
	assert.InDelta(t, 15.25, inches(t, 40, 40, brim).Takes.Length.Inches(), 0.005)
	assert.True(t, inches(t, 15.5, 15.5, brim).Fits, "in the square as printed")
	assert.False(t, inches(t, 15.2, 15.5, brim).Fits, "in a narrower one")
}

// Cloth for a dome is its tape over the top and the turning under at both sides
// (common practice): a dome of 13 cm, 3 cm high, tapes 14.77 cm, with 2.5 cm turned
// under.
func TestSquareForADome(t *testing.T) {
	dome := Seat{Rho: 85.417, Radius: 65}
	lay, err := LayOf([]Piece{{Kind: BasePiece, Width: dome.CutDiameter(), Room: 25}}, Cloth{})
	require.NoError(t, err)
	assert.InDelta(t, 14.77+2*2.5, lay.Takes.Length.Centimetres(), 0.01)
}

// Edge wire is the edge and an inch more (Martin 1921): a brim of 2 1/2 in on a head
// of 24 in has an edge of 39.71.
func TestEdgeWireLapsByAnInch(t *testing.T) {
	flat := Brim{Inner: Circle{Radius: 24 / (2 * math.Pi) * 25.4}, Width: 2.5 * Inch}
	var s Solution
	s.Result.Brim = flat.Pattern()
	for _, n := range s.Notions() {
		if n.Kind == EdgeWire {
			assert.InDelta(t, 40.71, n.Length.Inches(), 0.005)
			return
		}
	}
	t.Fatal("no edge wire for a brim of 2 1/2 in")
}

// The longest strip of flat width S across a square of side W is √2·W - S at its full
// width.
func TestLongestStripAcrossASquare(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		side := Length(rapid.Float64Range(200, 2000).Draw(t, "side"))
		width := side * Length(rapid.Float64Range(0.01, 0.65).Draw(t, "width"))
		longest := side*math.Sqrt2 - width
		lay, err := LayOf([]Piece{bare(width, longest)}, clothOf(side, side))
		require.NoError(t, err)
		require.True(t, lay.Fits, "the longest strip fits")
		require.Equal(t, 1, lay.Parts, "in one")
		lay, err = LayOf([]Piece{bare(width, longest+0.01)}, clothOf(side, side))
		require.NoError(t, err)
		require.False(t, lay.Fits && lay.Parts == 1, "a hundredth of a millimetre more fits in one")
	})
}
