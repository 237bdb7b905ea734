package fitting

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// anyPieces draws strips, rings and circles of all sizes.
func anyPieces(t *rapid.T) []Piece {
	one := rapid.Custom(func(t *rapid.T) Piece {
		p := Piece{
			Kind:  BindingPiece,
			Width: Length(rapid.Float64Range(5, 300).Draw(t, "width")),
			Room:  Length(rapid.Float64Range(0, 8).Draw(t, "room")),
		}
		if rapid.Bool().Draw(t, "circle") {
			p.Kind, p.Turn = BasePiece, rapid.SampledFrom([]Angle{0, 45}).Draw(t, "turn")
			return p
		}
		p.Length = Length(rapid.Float64Range(5, 1500).Draw(t, "length"))
		p.Seam = Length(rapid.Float64Range(0, 10).Draw(t, "seam"))
		p.Ring = rapid.Bool().Draw(t, "ring")
		return p
	})
	return rapid.SliceOfN(one, 1, 8).Draw(t, "pieces")
}

func anyCloth(t *rapid.T) ClothSize {
	side := rapid.Float64Range(float64(leastCloth), 2500)
	return ClothSize{Length(side.Draw(t, "cloth's width")), Length(side.Draw(t, "cloth's length"))}
}

func mustLay(t require.TestingT, pieces []Piece, on ClothSize) Lay {
	lay, err := LayOf(pieces, clothOf(on.Width, on.Length))
	require.NoError(t, err)
	return lay
}

// onCloth is the cloth on which the lay's parts lie.
func (l Lay) onCloth(given ClothSize) ClothSize {
	if l.Fits {
		return given
	}
	return l.Takes
}

func TestNothingOverlapsAndAllIsOnTheBias(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pieces, cloth := anyPieces(t), anyCloth(t)
		lay := mustLay(t, pieces, cloth)
		on := lay.onCloth(cloth)
		requireLay(t, pieces, lay, on)

		used := 0.0
		for _, p := range lay.Pieces {
			used += p.area()
		}
		require.InEpsilon(t, used, lay.UsedFraction*float64(on.Width*on.Length), 1e-9, "the used fraction is the parts' area")
		require.InEpsilon(t, used, float64(lay.AreaLength*cloth.Width), 1e-9, "the least length by area")
		require.LessOrEqual(t, lay.UsedFraction, 1.0, "no more than the cloth is used")
		if lay.Fits {
			require.LessOrEqual(t, lay.Takes.Length, cloth.Length+1e-5, "a lay that fits takes no more than there is")
			require.Equal(t, cloth.Width, lay.Takes.Width)
		}
	})
}

func TestWhatTheLayTakesDoes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pieces, cloth := anyPieces(t), anyCloth(t)
		lay := mustLay(t, pieces, cloth)
		takes := ClothSize{lay.Takes.Width, max(lay.Takes.Length, leastCloth)}
		require.True(t, mustLay(t, pieces, takes).Fits, "the cloth that is said to do does not do: %+v", lay.Takes)
		if lay.Fits {
			return
		}
		if lay.Takes.Width == cloth.Width {
			require.Greater(t, lay.Takes.Length, cloth.Length)
			shorter := ClothSize{cloth.Width, lay.Takes.Length - 0.01}
			require.False(t, mustLay(t, pieces, shorter).Fits, "a shorter piece does too")
		} else {
			require.False(t, mustLay(t, pieces, ClothSize{cloth.Width, mostCloth}).Fits, "a length is enough and is not told")
		}
	})
}

func TestMoreClothNeverFitsLess(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pieces, cloth := anyPieces(t), anyCloth(t)
		more := rapid.Float64Range(0, 400)
		larger := ClothSize{cloth.Width + Length(more.Draw(t, "wider")), cloth.Length + Length(more.Draw(t, "longer"))}
		small, large := mustLay(t, pieces, cloth), mustLay(t, pieces, larger)
		if small.Fits {
			require.True(t, large.Fits, "fits on %v and not on %v", cloth, larger)
			require.LessOrEqual(t, large.Parts, small.Parts, "more cloth takes more joins")
		}
		few, err := YieldOf(pieces, clothOf(cloth.Width, cloth.Length))
		require.NoError(t, err)
		many, err := YieldOf(pieces, clothOf(larger.Width, larger.Length))
		require.NoError(t, err)
		require.GreaterOrEqual(t, many.Hats, few.Hats, "%v gives more than %v", cloth, larger)
		require.Equal(t, small.Fits, few.Hats > 0, "the lay and the yield disagree whether one fits")
		require.LessOrEqual(t, few.Hats, few.AreaHats, "more hats than cloth")
		require.LessOrEqual(t, few.Unjoined, few.Hats)
		require.LessOrEqual(t, few.UsedFraction, 1.0)
	})
}

// Cloth has no up and down here: with its sides exchanged, or seen from its other
// face, it gives the same lay exchanged or mirrored.
func TestTransposedAndMirroredClothGivesTheSame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pieces, cloth := anyPieces(t), anyCloth(t)
		lay := mustLay(t, pieces, cloth)
		other := mustLay(t, pieces, ClothSize{cloth.Length, cloth.Width})
		require.Equal(t, lay.Fits, other.Fits, "with its sides exchanged")
		if lay.Fits && cloth.Width != cloth.Length {
			require.InEpsilon(t, lay.UsedFraction, other.UsedFraction, 1e-12)
			for i, p := range lay.Pieces {
				require.Equal(t, p, other.Pieces[i].swapped(), "part %d", i)
			}
		}
		on := lay.onCloth(cloth)
		mirrored := lay
		mirrored.Pieces = nil
		for _, p := range lay.Pieces {
			mirrored.Pieces = append(mirrored.Pieces, mirror(p, on.Width))
		}
		requireLay(t, mirroredGrain(pieces), mirrored, on)
	})
}

func mirror(p Placed, width Length) Placed {
	p.X, p.Turn = width-p.X, Angle(math.Mod(180-p.Turn.Degrees(), 180))
	outline := make([][2]Length, len(p.Outline))
	for i, c := range p.Outline {
		outline[len(outline)-1-i] = [2]Length{width - c[0], c[1]}
	}
	p.Outline = outline
	return p
}

func mirroredGrain(pieces []Piece) []Piece {
	out := append([]Piece(nil), pieces...)
	for i := range out {
		out[i].Turn = Angle(math.Mod(180-out[i].Turn.Degrees(), 180))
	}
	return out
}

// A second look at the overlaps: points strewn over the cloth lie in one part at
// most, and in all parts together as often as their area says.
func TestStrewnPointsLieInOnePart(t *testing.T) {
	s, err := Solve(readCase(t, "right-tilt-steep-brim"))
	require.NoError(t, err)
	lay := mustLay(t, s.Pieces(FourOneWay, usualTrim), ClothSize{900, 1000})
	require.True(t, lay.Fits)
	r, hits := newRand(t), 0
	const strewn = 100_000
	for range strewn {
		q, in := flatPoint{draw(r, 0, 900), draw(r, 0, 1000)}, 0
		for _, p := range lay.Pieces {
			if p.Diameter > 0 && q.minus(middle(p)).norm() < float64(p.Diameter)/2 || p.Diameter == 0 && toPolygon(q, p) == 0 {
				in++
			}
		}
		require.LessOrEqual(t, in, 1, "%v lies in %d parts", q, in)
		hits += in
	}
	assert.InDelta(t, lay.UsedFraction, float64(hits)/strewn, 0.008, "five standard deviations of the share of points")
}

func TestLayerRules(t *testing.T) {
	s, err := Solve(readCase(t, "right-tilt-steep-brim"))
	require.NoError(t, err)
	for rule, turns := range map[LayerRule][]Angle{
		"": {45, 45, 45, 45}, FourOneWay: {45, 45, 45, 45}, ThreeTurned: {45, 0, 45}, TwoTurned: {45, 0}, TwoStiffened: {45, 45},
	} {
		var got []Angle
		for _, p := range mustLay(t, s.Pieces(rule, 0), ClothSize{900, 1000}).Pieces {
			if p.Kind == BasePiece {
				require.InDelta(t, float64(s.Result.Base.CutDiameter), float64(p.Diameter), 1e-12)
				got = append(got, p.Turn)
			}
		}
		assert.Equal(t, turns, got, "the layers of %q", rule)
	}
}

func TestPiecesOfAHat(t *testing.T) {
	in := readCase(t, "right-tilt-steep-brim")
	s, err := Solve(in)
	require.NoError(t, err)
	count := func(s Solution, trim Mass) map[PieceKind]int {
		n := map[PieceKind]int{}
		for _, p := range s.Pieces(FourOneWay, trim) {
			n[p.Kind]++
		}
		return n
	}
	assert.Equal(t, map[PieceKind]int{StripPiece: 1, BindingPiece: 1, BasePiece: 4, TrimmingPiece: 2}, count(s, 20))
	strip := s.Pieces(FourOneWay, 0)[0]
	assert.Equal(t, s.Result.Strip.FlatWidth, strip.Width)
	assert.Equal(t, s.Result.Strip.Length, strip.Length)

	in.Hat.Folds, in.Hat.LipWidth = new(1), new(Length(8))
	s, err = Solve(in)
	require.NoError(t, err)
	assert.Equal(t, map[PieceKind]int{StripPiece: 1, LipPiece: 1, BindingPiece: 2, BasePiece: 4}, count(s, 0),
		"a single brim has a bound edge, and a lip is cut by itself")
	edge := s.Pieces(FourOneWay, 0)[3]
	assert.InDelta(t, 2*math.Pi*s.Brim.Outer.Radius, float64(edge.Length), 1e-9, "round the brim's outer edge")
	assert.True(t, edge.Ring, "joined to itself on the thread")
	assert.InDelta(t, 8, float64(s.lip()), 1e-9)

	in.Hat.BrimWidth = new(Length(0))
	s, err = Solve(in)
	require.NoError(t, err)
	assert.Zero(t, count(s, 20)[StripPiece], "no brim, no strip")
}

func TestClothIsRefused(t *testing.T) {
	good := []Piece{bare(100, 300)}
	for what, c := range map[string]struct {
		pieces []Piece
		cloth  Cloth
		field  string
	}{
		"no width":         {good, clothOf(0, 900), "cloth.width_mm"},
		"a width of NaN":   {good, clothOf(Length(math.NaN()), 900), "cloth.width_mm"},
		"an endless piece": {good, clothOf(900, Length(math.Inf(1))), "cloth.length_mm"},
		"nothing to cut":   {nil, Cloth{}, "cloth.pieces"},
		"too much to cut":  {make([]Piece, mostPieces+1), Cloth{}, "cloth.pieces"},
		"a strip of NaN":   {[]Piece{bare(Length(math.NaN()), 300)}, Cloth{}, "cloth.pieces"},
		"a length of NaN":  {[]Piece{bare(30, Length(math.NaN()))}, Cloth{}, "cloth.pieces"},
		"a seam of NaN":    {[]Piece{{Width: 30, Length: 100, Seam: Length(math.NaN())}}, Cloth{}, "cloth.pieces"},
		"too much room":    {[]Piece{{Width: 30, Room: 1000}}, Cloth{}, "cloth.pieces"},
	} {
		_, err := LayOf(c.pieces, c.cloth)
		var refusal Refusal
		require.ErrorAs(t, err, &refusal, what)
		assert.Equal(t, c.field, refusal.Field, what)
		_, err = YieldOf(c.pieces, c.cloth)
		require.ErrorAs(t, err, &refusal, what)
	}
}

func FuzzLay(f *testing.F) {
	f.Add(900.0, 1000.0, 480.0, 567.0, 126.0, 6.35, 5.0, false)
	f.Add(508.0, 2000.0, 177.8, 1295.4, 50.0, 6.35, 0.0, true)
	f.Add(math.NaN(), 1.0, -1.0, 0.0, math.Inf(1), 1e300, 5e-324, true)
	f.Fuzz(func(t *testing.T, across, along, width, length, circle, seam, room float64, ring bool) {
		pieces := []Piece{
			{Kind: StripPiece, Width: Length(width), Length: Length(length), Seam: Length(seam), Room: Length(room), Ring: ring},
			{Kind: BasePiece, Width: Length(circle), Room: Length(room), Turn: 45},
			{Kind: BasePiece, Width: Length(circle), Room: Length(room)},
		}
		cloth := clothOf(Length(across), Length(along))
		lay, err := LayOf(pieces, cloth)
		if err != nil {
			var refusal Refusal
			require.ErrorAs(t, err, &refusal, "an error that says nothing")
			return
		}
		requireLay(t, pieces, lay, lay.onCloth(ClothSize{*cloth.Width, *cloth.Length}))
		_, err = YieldOf(pieces, cloth)
		require.NoError(t, err)
	})
}

func BenchmarkLay(b *testing.B) {
	s, err := Solve(readCase(b, "right-tilt-steep-brim"))
	require.NoError(b, err)
	pieces := s.Pieces(FourOneWay, usualTrim)
	for name, cloth := range map[string]Cloth{
		"a metre, fits": clothOf(900, 1000), "too short": clothOf(900, 600), "joined": clothOf(600, 2000), "too narrow": clothOf(200, 2000),
	} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := LayOf(pieces, cloth); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
	b.Run("a roll of 10 m", func(b *testing.B) {
		for b.Loop() {
			if _, err := YieldOf(pieces, clothOf(900, 10_000)); err != nil {
				b.Fatal(err)
			}
		}
	})
}
