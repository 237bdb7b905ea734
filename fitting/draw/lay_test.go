package draw_test

import (
	"bytes"
	"encoding/xml"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"perchbook/fitting"
	"perchbook/fitting/draw"
)

// layPicture is what another reader of SVG finds in the drawing of a lay.
type layPicture struct {
	ViewBox string `xml:"viewBox,attr"`
	Role    string `xml:"role,attr"`
	Title   string `xml:"title"`
	Desc    string `xml:"desc"`
	Whole   struct {
		Paths  []layPath `xml:"path"`
		Words  []string  `xml:"text"`
		Pieces []struct {
			Paths   []layPath `xml:"path"`
			Words   []string  `xml:"text"`
			Circles []struct {
				X float64 `xml:"cx,attr"`
				Y float64 `xml:"cy,attr"`
				R float64 `xml:"r,attr"`
			} `xml:"circle"`
		} `xml:"g"`
	} `xml:"g"`
}

type layPath struct {
	Class string `xml:"class,attr"`
	D     string `xml:"d,attr"`
}

var number = regexp.MustCompile(`-?\d+(?:\.\d+)?`)

func (p layPath) points(t require.TestingT) []xy {
	var all []xy
	numbers := number.FindAllString(p.D, -1)
	require.Zero(t, len(numbers)%2, "a path of half points: %s", p.D)
	for i := 0; i < len(numbers); i += 2 {
		x, _ := strconv.ParseFloat(numbers[i], 64)
		y, _ := strconv.ParseFloat(numbers[i+1], 64)
		all = append(all, xy{x, y})
	}
	return all
}

func layDrawn(t require.TestingT, l fitting.Lay, cloth fitting.ClothSize) layPicture {
	var b bytes.Buffer
	require.NoError(t, draw.Lay(&b, l, cloth))
	require.NotRegexp(t, "NaN|Inf", b.String())
	var p layPicture
	require.NoError(t, xml.Unmarshal(b.Bytes(), &p), "not well formed")
	return p
}

// trueLay holds the drawing against the lay: every piece at its place, named, numbered, with an
// arrow along the selvedge that lies within it.
func trueLay(t require.TestingT, l fitting.Lay, cloth fitting.ClothSize) {
	p := layDrawn(t, l, cloth)
	require.Equal(t, "img", p.Role)
	require.Contains(t, p.Title, strconv.Itoa(len(l.Pieces))+" pieces")
	order := l.InOrder()
	require.Len(t, p.Whole.Pieces, len(order), "as many pieces drawn as lie")
	var ground []xy
	for _, path := range p.Whole.Paths {
		if path.Class == "cloth" {
			ground = path.points(t)
		}
	}
	require.Len(t, ground, 4, "no cloth")
	high := ground[2].y
	near := func(want, got xy, what string) {
		require.LessOrEqual(t, math.Hypot(want.x-got.x, want.y-got.y), 0.02, "%s: %v is drawn at %v", what, want, got)
	}
	for i, q := range order {
		g := p.Whole.Pieces[i]
		what := "piece " + strconv.Itoa(i+1)
		require.Contains(t, strings.Join(g.Words, " "), strconv.Itoa(i+1), what)
		inside := func(at xy) bool {
			return math.Hypot(at.x-float64(q.X), at.y-(high-float64(q.Y))) <= float64(q.Diameter)/2
		}
		if q.Diameter > 0 {
			require.Len(t, g.Circles, 1, what)
			near(xy{float64(q.X), high - float64(q.Y)}, xy{g.Circles[0].X, g.Circles[0].Y}, what)
			require.InDelta(t, float64(q.Diameter)/2, g.Circles[0].R, 0.01, what)
		}
		arrows := 0
		for _, path := range g.Paths {
			at := path.points(t)
			switch path.Class {
			case "strip":
				require.Len(t, at, len(q.Outline), what)
				for k, c := range q.Outline {
					near(xy{float64(c[0]), high - float64(c[1])}, at[k], what)
				}
				inside = func(p xy) bool { return within(at, p) }
			case "front":
				tip := xy{(at[0].x + at[2].x) / 2, (at[0].y + at[2].y) / 2}
				turn := math.Atan2(high-float64(q.Y)-tip.y, tip.x-float64(q.X)) * 180 / math.Pi
				require.InDelta(t, float64(q.Turn), turn, 0.5, "%s: the notch at its front", what)
			case "thread":
				if len(at) == 2 {
					arrows++
					require.InDelta(t, at[0].x, at[1].x, 0.011, "%s: the arrow is not along the thread", what)
				}
				for _, end := range at[:2] {
					require.True(t, inside(end), "%s: its arrow leaves it", what)
				}
			}
		}
		require.Equal(t, 2, arrows, "%s: an arrow with two ends", what)
	}
}

// within says whether p lies in the convex polygon, whichever way round that goes.
func within(polygon []xy, p xy) bool {
	left, right := 0, 0
	for i, a := range polygon {
		b := polygon[(i+1)%len(polygon)]
		switch cross := (b.x-a.x)*(p.y-a.y) - (b.y-a.y)*(p.x-a.x); {
		case cross > 1:
			left++
		case cross < -1:
			right++
		}
	}
	return left == 0 || right == 0
}

func TestLayIsTrue(t *testing.T) {
	for name, s := range solved(t) {
		t.Run(name, func(t *testing.T) {
			cloth, err := fitting.Cloth{}.Size()
			require.NoError(t, err)
			trueLay(t, s.Result.Cloth, cloth)
		})
	}
}

func TestAnyLayIsTrue(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		between := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(r, name) }
		folds := rapid.SampledFrom([]int{1, 2, 4}).Draw(r, "folds")
		layers := rapid.SampledFrom([]fitting.LayerRule{fitting.FourOneWay, fitting.ThreeTurned, fitting.TwoTurned}).Draw(r, "layers")
		in := input(0.4, fitting.Hat{Folds: &folds, Layers: layers}, between("base", 60, 200), 15, -20, between("brim", 0, 200), between("slope", -60, 75))
		in.Cloth.Width, in.Cloth.Length = new(fitting.Length(between("wide", 300, 1500))), new(fitting.Length(between("long", 200, 20000)))
		s, err := fitting.Solve(in)
		if err != nil {
			return
		}
		cloth, err := in.Cloth.Size()
		require.NoError(r, err)
		trueLay(r, s.Result.Cloth, cloth)
	})
}

func TestLaySaysWhatItTakes(t *testing.T) {
	l := solved(t)["right-tilt-steep-brim"].Result.Cloth
	p := layDrawn(t, l, fitting.ClothSize{Width: 900, Length: 5000})
	words := strings.Join(p.Whole.Words, " ")
	assert.Contains(t, words, "selvedge")
	assert.Contains(t, words, "cut end, 90.0 cm (35 3/8 in) wide")
	assert.Contains(t, words, "the lay takes "+strconv.FormatFloat(math.Ceil(float64(l.Takes.Length-1e-6)/5)/2, 'f', -1, 64)+" cm")
	classes := ""
	for _, path := range p.Whole.Paths {
		classes += path.Class + " "
	}
	assert.Contains(t, classes, "torn", "a roll of five metres is not drawn whole")
	assert.Contains(t, p.Desc, "1: Brim strip.")
}

func TestLayFailures(t *testing.T) {
	l, cloth := solved(t)["forehead-set"].Result.Cloth, fitting.ClothSize{Width: 900, Length: 1000}
	assert.ErrorContains(t, draw.Lay(broken{}, l, cloth), "no paper")
	assert.ErrorIs(t, draw.Lay(&bytes.Buffer{}, fitting.Lay{}, cloth), draw.ErrNotSolved)
	for _, size := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		assert.ErrorIs(t, draw.Lay(&bytes.Buffer{}, l, fitting.ClothSize{Width: fitting.Length(size), Length: 1000}), draw.ErrNotSolved, "%v wide", size)
	}
}
