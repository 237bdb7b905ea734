package fitting

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// polygonArc is the slow twin of ellipseArc: the ellipse as chords, from one
// parameter to another.
func polygonArc(p, q, from, to float64) float64 {
	const n = 20_000
	sum := 0.0
	for i := range n {
		t := from + (to-from)*(float64(i)+0.5)/n
		sum += math.Hypot(p*math.Sin(t), q*math.Cos(t)) * (to - from) / n
	}
	return sum
}

func TestEllipseArcAgreesWithManyChords(t *testing.T) {
	for _, c := range []struct{ p, q, t float64 }{
		{1, 1, 1}, {100, 78, math.Pi / 2}, {78, 100, math.Pi / 2}, {100, 125, 0.87}, {100, 55, 0.87}, {100, 88, -0.4}, {90, 80, 0},
	} {
		assert.InDelta(t, polygonArc(c.p, c.q, 0, c.t), ellipseArc(c.p, c.q, c.t), 1e-7, "%+v", c)
	}
}

// The cap makers' ellipse of the handbook: axes 8 1/2 and 6 1/2 in, 23.67 in
// round (Martin, Make Your Own Hats, 1921, with Ramanujan's formula).
func TestGirthOfTheHandbooksOval(t *testing.T) {
	assert.InDelta(t, 23.67, Head{8.5 / 2 * Inch, 6.5 / 2 * Inch, Inch}.Girth().Inches(), 0.005)
}

// anyMeasures draws a girth and a nape-to-crown tape that pass, and sometimes
// calipers.
func anyMeasures(t *rapid.T) Measures {
	girth := Length(rapid.Float64Range(450, 700).Draw(t, "girth"))
	nape := girth * Length(rapid.Float64Range(0.345, 0.49).Draw(t, "nape over girth"))
	m := Measures{Girth: &girth, NapeToCrown: &nape}
	if rapid.Bool().Draw(t, "calipers") {
		index := Length(rapid.Float64Range(0.74, 0.82).Draw(t, "index"))
		length := girth / (Head{1, index, 1}.Girth() / 2) / Length(rapid.Float64Range(1.0, 1.1).Draw(t, "k"))
		breadth := index * length
		m.HeadLength, m.HeadBreadth = &length, &breadth
	}
	return m
}

func TestHeadMeetsItsTapes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := anyMeasures(t)
		h, err := NewHead(m)
		require.NoError(t, err)
		a, b, c := h.A.Millimetres(), h.B.Millimetres(), h.C.Millimetres()
		require.InDelta(t, m.Girth.Millimetres(), polygonArc(a, b, 0, 2*math.Pi), 1e-6, "the girth is not met")
		require.InDelta(t, m.NapeToCrown.Millimetres(), polygonArc(a, c, -50*math.Pi/180, math.Pi/2), 1e-6, "the nape tape is not met")
		index := 0.78
		if m.HeadLength != nil {
			index = float64(*m.HeadBreadth / *m.HeadLength)
		}
		require.InDelta(t, index, b/a, 1e-12)
	})
}

func TestHeadGrowsWithItsTapes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := anyMeasures(t)
		k := Length(rapid.Float64Range(float64(450 / *m.Girth), float64(700 / *m.Girth)).Draw(t, "scale"))
		small, err := NewHead(m)
		require.NoError(t, err)
		for _, tape := range []*Length{m.Girth, m.NapeToCrown, m.HeadLength, m.HeadBreadth} {
			if tape != nil {
				*tape *= k
			}
		}
		large, err := NewHead(m)
		if err != nil {
			t.Skip("the scaled calipers are out of bounds")
		}
		for i, pair := range [][2]Length{{small.A, large.A}, {small.B, large.B}, {small.C, large.C}} {
			require.InDelta(t, float64(pair[0]*k), float64(pair[1]), 1e-9, "axis %d does not scale", i)
		}
	})
}

func TestPointsOfTheHeadLieOnIt(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := anyHead(t)
		for name, p := range map[string]Vec{"crown": h.Crown(), "nape": h.Nape(), "left ear": h.BehindEar(Left), "right ear": h.BehindEar(Right),
			"radial": h.OnSurface(Vec{3, -2, 1})} {
			require.InDelta(t, 1, h.gradient(p).Dot(p), 1e-12, "%s", name)
		}
		require.Positive(t, h.BehindEar(Left).Y, "left is +y")
		require.Negative(t, h.BehindEar(Right).Y)
	})
}

// Half the divergence of the unit normal, by differences, is the mean curvature.
func TestMeanCurvatureIsTheNormalsDivergence(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := anyHead(t)
		p := anyPlace(t, h, "p")
		const d = 1e-4
		step := func(dir Vec) float64 {
			return h.Normal(p.Plus(dir.Times(d))).Minus(h.Normal(p.Minus(dir.Times(d)))).Dot(dir) / (2 * d)
		}
		div := step(Vec{1, 0, 0}) + step(Vec{0, 1, 0}) + step(Vec{0, 0, 1})
		require.InEpsilon(t, div/2, h.meanCurvature(p), 1e-6)
	})
}

// The ear-to-ear arc of the NIOSH 2003 heads, as worked out from girth and
// calipers: bias and root mean square of model less tape, in mm. The best
// regression on the girth has 14.0 and 12.2.
var earToEar = map[string]struct{ bias, rms float64 }{"F": {0, 13.6}, "M": {-0.6, 11.5}}

// modelledEarToEar is the arc of the head with these calipers and girth, its
// nape tape guessed.
func modelledEarToEar(sex string, girth, length, breadth float64) float64 {
	t := tapes{girth: Length(girth), nape: usualNapeToCrown.of(Length(girth)), index: breadth / length}
	return t.exact().EarToEar(sexes[sex]).Millimetres()
}

func TestEarToEarAgreesWithNIOSH(t *testing.T) {
	type sums struct{ n, bias, square float64 }
	got := map[string]sums{}
	for _, row := range readTable(t, "../testdata/fitting/ear-to-ear.csv") {
		n, girth, length, breadth, arc, sd := number(t, row[3]), number(t, row[4]), number(t, row[5]), number(t, row[6]), number(t, row[7]), number(t, row[8])
		miss := modelledEarToEar(row[0], girth, length, breadth) - arc
		s := got[row[0]]
		got[row[0]] = sums{s.n + n, s.bias + n*miss, s.square + n*(miss*miss+sd*sd)}
	}
	for sex, want := range earToEar {
		s := got[sex]
		require.Greater(t, s.n, 1000.0, "%s: heads are missing from the table", sex)
		assert.InDelta(t, want.bias, s.bias/s.n, 0.3, "%s: bias", sex)
		// within a class the tape's own spread stands for the misses, which are a little smaller
		assert.InDelta(t, want.rms, math.Sqrt(s.square/s.n), 1, "%s: root mean square", sex)
	}
}

func TestEarToEarAgreesWithTheRecords(t *testing.T) {
	folder := os.Getenv("PERCHBOOK_SURVEYS")
	if folder == "" {
		t.Skip("PERCHBOOK_SURVEYS does not name a folder with the surveys' records, which are not part of the project")
	}
	rows := readTable(t, filepath.Join(folder, "niosh2003", "niosh2003-head.csv"))
	type sums struct{ n, bias, square float64 }
	got := map[string]sums{}
	for _, row := range rows {
		if row[3] == "" || row[4] == "" || row[5] == "" || row[6] == "" {
			continue
		}
		miss := modelledEarToEar(row[1], number(t, row[3]), number(t, row[4]), number(t, row[5])) - number(t, row[6])
		s := got[row[1]]
		got[row[1]] = sums{s.n + 1, s.bias + miss, s.square + miss*miss}
	}
	for sex, want := range earToEar {
		s := got[sex]
		assert.InDelta(t, want.bias, s.bias/s.n, 0.2, "%s: bias", sex)
		assert.InDelta(t, want.rms, math.Sqrt(s.square/s.n), 0.06, "%s: root mean square", sex)
	}
}

// readTable reads a comma separated file without its comments and its header.
func readTable(t *testing.T, file string) [][]string {
	t.Helper()
	f, err := os.Open(file)
	require.NoError(t, err)
	defer f.Close()
	read := csv.NewReader(f)
	read.Comment = '#'
	rows, err := read.ReadAll()
	require.NoError(t, err)
	return rows[1:]
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(s, 64)
	require.NoError(t, err)
	return x
}
