package fitting

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// anyHead draws the semi-axes of heads from the smallest to the largest, and of
// shapes at both ends of what is let pass.
func anyHead(t *rapid.T) Head {
	a := rapid.Float64Range(75, 125).Draw(t, "a")
	b := a * rapid.Float64Range(0.65, 0.95).Draw(t, "b over a")
	c := a * rapid.Float64Range(leastHeight, mostHeight).Draw(t, "c over a")
	return Head{Length(a), Length(b), Length(c)}
}

// anyPersonsHead keeps to the breadths that the surveys met (1st to 99th
// percentile: 0.70 to 0.89 of the length) and to heights that tapes give.
func anyPersonsHead(t *rapid.T) Head {
	a := rapid.Float64Range(75, 125).Draw(t, "a")
	b := a * rapid.Float64Range(0.69, 0.89).Draw(t, "b over a")
	c := a * rapid.Float64Range(0.70, 1.15).Draw(t, "c over a")
	return Head{Length(a), Length(b), Length(c)}
}

func anyPlace(t *rapid.T, h Head, name string) Vec {
	z := rapid.Float64Range(-1, 1).Draw(t, name+" height")
	sin, cos := math.Sincos(rapid.Float64Range(-math.Pi, math.Pi).Draw(t, name+" azimuth"))
	r := math.Sqrt(1 - z*z)
	return Vec{r * cos * h.A.Millimetres(), r * sin * h.B.Millimetres(), z * h.C.Millimetres()}
}

// anyPair draws two places less than about 110 degrees apart, where one shortest
// path joins them.
func anyPair(t *rapid.T) (h Head, p, q Vec) {
	h = anyHead(t)
	p, q = anyPlace(t, h, "p"), anyPlace(t, h, "q")
	if angle := newSurface(h).newPlaneArc(p, q).angle; angle > 1.9 || angle < 1e-3 {
		t.Skip("too far apart or too close")
	}
	return h, p, q
}

// On a sphere the way is the angle times the radius.
func TestGeodesicOnSphereIsItsGreatCircle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rapid.Float64Range(50, 130).Draw(t, "r")
		h := Head{Length(r), Length(r), Length(r)}
		p, q := anyPlace(t, h, "p"), anyPlace(t, h, "q")
		angle := math.Atan2(p.Cross(q).Norm(), p.Dot(q))
		if angle > 2.8 || angle < 1e-6 {
			t.Skip("opposite or the same")
		}
		way, ok := newSurface(h).connect(p, q)
		require.True(t, ok, "no way found")
		require.InDelta(t, angle*r, way.length, 1e-7)
	})
}

// pair is one row of GeographicLib's answers.
type pair struct {
	flattening, lat1, lon1, lat2, lon2, length float64
}

// place is the point of a spheroid at a geographic latitude and longitude, its
// axis of symmetry along z.
func (p pair) place(lat, lon float64) Vec {
	polar := (1 - p.flattening) * (1 - p.flattening)
	sin, cos := math.Sincos(lat * math.Pi / 180)
	n := 100 / math.Sqrt(1-(1-polar)*sin*sin)
	sinL, cosL := math.Sincos(lon * math.Pi / 180)
	return Vec{n * cos * cosL, n * cos * sinL, n * polar * sin}
}

// agrees compares our way with GeographicLib's with the axis of symmetry upward,
// forward and sideways.
func (p pair) agrees(t *testing.T) {
	t.Helper()
	polar := Length(100 * (1 - p.flattening))
	for axis, h := range map[string]Head{"z": {100, 100, polar}, "x": {polar, 100, 100}, "y": {100, polar, 100}} {
		turn := func(v Vec) Vec {
			switch axis {
			case "x":
				return Vec{v.Z, v.X, v.Y}
			case "y":
				return Vec{v.Y, v.Z, v.X}
			}
			return v
		}
		way, ok := newSurface(h).connect(turn(p.place(p.lat1, p.lon1)), turn(p.place(p.lat2, p.lon2)))
		if assert.True(t, ok, "no way found about %s: %+v", axis, p) {
			assert.InDelta(t, p.length, way.length, 1e-7, "about %s: %+v", axis, p)
		}
	}
}

func TestGeodesicsAgreeWithGeographicLib(t *testing.T) {
	pairs := readPairs(t, "../testdata/fitting/geodesics.csv")
	require.GreaterOrEqual(t, len(pairs), 200)
	for _, p := range pairs {
		p.agrees(t)
	}
}

func readPairs(t *testing.T, file string) []pair {
	t.Helper()
	var pairs []pair
	for _, row := range readTable(t, file) {
		var n [6]float64
		for i := range n {
			n[i] = number(t, row[i])
		}
		pairs = append(pairs, pair{n[0], n[1], n[2], n[3], n[4], n[5]})
	}
	return pairs
}

// GeodSolve comes with Debian's geographiclib-tools.
func TestGeodesicsAgreeWithGeodSolveLive(t *testing.T) {
	if _, err := exec.LookPath("GeodSolve"); err != nil {
		if os.Getenv("PERCHBOOK_NEED_ALL") == "1" {
			t.Fatal("GeodSolve is not installed (Debian: geographiclib-tools), and PERCHBOOK_NEED_ALL asks for it")
		}
		t.Skip("GeodSolve is not installed (Debian: geographiclib-tools)")
	}
	r := newRand(t)
	for range 10 {
		f := draw(r, -0.3, 0.3)
		pairs, lines := make([]pair, 20), strings.Builder{}
		for i := range pairs {
			pairs[i] = anyRow(r, f)
			p := pairs[i]
			fmt.Fprintf(&lines, "%.12f %.12f %.12f %.12f\n", p.lat1, p.lon1, p.lat2, p.lon2)
		}
		solve := exec.Command("GeodSolve", "-E", "-i", "-p", "9", "-e", "100", fmt.Sprintf("%.12f", f))
		solve.Stdin = strings.NewReader(lines.String())
		out, err := solve.Output()
		require.NoError(t, err)
		answers := strings.Split(strings.TrimSpace(string(out)), "\n")
		require.Len(t, answers, len(pairs), "GeodSolve answered something else: %s", out)
		for i, p := range pairs {
			p.length, err = strconv.ParseFloat(strings.Fields(answers[i])[2], 64)
			require.NoError(t, err)
			p.agrees(t)
		}
	}
}

// anyRow draws two places less than 150 degrees apart.
func anyRow(r *rand.Rand, flattening float64) pair {
	for {
		p := pair{flattening, draw(r, -89, 89), draw(r, -180, 180), draw(r, -89, 89), draw(r, -180, 180), 0}
		sphere := pair{}
		v, w := sphere.place(p.lat1, p.lon1), sphere.place(p.lat2, p.lon2)
		if angle := math.Atan2(v.Cross(w).Norm(), v.Dot(w)); angle < 150*math.Pi/180 && angle > 0.01 {
			return p
		}
	}
}

// Joachimsthal: |A r|² (t·A t) with A = diag(1/a², 1/b², 1/c²) is constant along
// a geodesic of an ellipsoid, and along no other curve through these points.
func TestGeodesicKeepsJoachimsthalsInvariant(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h, p, q := anyPair(t)
		way, ok := newSurface(h).connect(p, q)
		require.True(t, ok, "no way found")
		joachimsthal := func(s state) float64 {
			g := h.gradient(s.at)
			return g.Dot(g) * s.along.Dot(h.gradient(s.along))
		}
		first := joachimsthal(way.nodes[0])
		for i, s := range way.nodes {
			require.InEpsilon(t, first, joachimsthal(s), 1e-8, "at node %d of %d", i, len(way.nodes))
			require.InDelta(t, 1, s.along.Norm(), 1e-9, "the tangent is not a unit")
			require.InDelta(t, 1, h.gradient(s.at).Dot(s.at), 1e-9, "the path has left the surface")
		}
	})
}

func TestGeodesicIsTheSameFromEitherEnd(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h, p, q := anyPair(t)
		there, ok := newSurface(h).connect(p, q)
		require.True(t, ok, "no way found")
		back, ok := newSurface(h).connect(q, p)
		require.True(t, ok, "no way back found")
		require.InDelta(t, there.length, back.length, 2e-7) // each way is good to 1e-7
	})
}

func TestGeodesicIsNoLongerThanAWayThroughAThirdPlace(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h, p, q := anyPair(t)
		e := newSurface(h)
		way, ok := e.connect(p, q)
		require.True(t, ok, "no way found")
		require.GreaterOrEqual(t, way.length+1e-9, q.Minus(p).Norm(), "shorter than the straight line")
		arc := e.newPlaneArc(p, q)
		require.LessOrEqual(t, way.length, arc.aim().length*(1+1e-3), "longer than the plane's arc")
		via := e.OnSurface(arc.at(0.5).Plus(Vec{5, 3, -4}))
		one, ok1 := e.connect(p, via)
		two, ok2 := e.connect(via, q)
		require.True(t, ok1 && ok2, "no way by the third place found")
		require.LessOrEqual(t, way.length, one.length+two.length+1e-7)
	})
}

// The Jacobi field is the difference of two geodesics that leave together.
func TestJacobiFieldIsTheDistanceToANeighbour(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h, p, q := anyPair(t)
		e := newSurface(h)
		way, ok := e.connect(p, q)
		require.True(t, ok, "no way found")
		const turn = 1e-4
		along := way.nodes[0].along
		left := h.Normal(p).Cross(along)
		ends := [2]Vec{}
		for i, angle := range []float64{turn, -turn} {
			sin, cos := math.Sincos(angle)
			ends[i] = e.trace(p, aim{along.Times(cos).Plus(left.Times(sin)), way.length}, fine()).end().at
		}
		end := way.end()
		aside := ends[0].Minus(ends[1]).Dot(h.Normal(end.at).Cross(end.along)) / (2 * turn)
		require.InDelta(t, aside, end.aside, 1e-3*(1+math.Abs(aside)))
	})
}

// fine() must be right to 1e-7 mm on every head, against steps six times shorter.
func TestFineGradeIsFineEnough(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h, p, q := anyPair(t)
		e := newSurface(h)
		a, ok := e.approach(p, q, e.newPlaneArc(p, q).aim())
		if !ok {
			t.Skip("the shortest path bends aside")
		}
		got := e.trace(p, a, fine()).end()
		want := e.trace(p, a, grade{mostColumns, fine().step / 6}).end()
		require.InDelta(t, 0, got.at.Minus(want.at).Norm(), 1e-7)
	})
}

func TestGeodesicToWhereItStartsHasNoLength(t *testing.T) {
	h := Head{101, 79, 89}
	way, ok := newSurface(h).connect(h.Crown(), h.Crown())
	require.True(t, ok)
	require.Zero(t, way.length)
}
