package draw_test

import (
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
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

// outline is one path of a page as another program reads it out of the PDF: millimetres of the
// piece's joined paper, y down.
type outline struct {
	stroke float64 // its line's width
	white  bool    // filled with white
	curved bool
	points []xy // corners, and places along its curves
}

// tiled are the pages of one piece, by row and column.
type tiled map[[2]int][]outline

var (
	pathTag = regexp.MustCompile(`<path style="([^"]*)" d="([^"]*)" transform="matrix\(([^)]*)\)"/>`)
	strokes = regexp.MustCompile(`stroke-width:([0-9.]+)`)
)

const pointMM = 25.4 / 72

// vectors reads the pages of every piece with pdftocairo, which knows nothing of ours, and moves each
// to where it is pasted.
func vectors(t testing.TB, pdf []byte, paper draw.Paper) map[string]tiled {
	read, words := outside(t, "pdftocairo"), outside(t, "pdftotext")
	file := filepath.Join(t.TempDir(), "patterns.pdf")
	require.NoError(t, os.WriteFile(file, pdf, 0o600))
	text, err := exec.Command(words, "-raw", file, "-").Output()
	require.NoError(t, err)
	place := regexp.MustCompile(`(?m)^\s*(` + strings.Join(pieceNames, "|") + `), 26-014 / 2(?:, row (\d+) of \d+, column (\d+) of \d+)?\s`)
	all := map[string]tiled{}
	for i, said := range strings.Split(string(text), "\f") {
		m := place.FindStringSubmatch(said)
		if m == nil {
			continue
		}
		row, _ := strconv.Atoi(m[2])
		column, _ := strconv.Atoi(m[3])
		row, column = max(row, 1)-1, max(column, 1)-1
		n := strconv.Itoa(i + 1)
		svg, err := exec.Command(read, "-svg", "-noshrink", "-f", n, "-l", n, file, "-").Output()
		require.NoError(t, err)
		size := papers[paper]
		right, down := float64(size[0])/10-2*freeMargin-shared, float64(size[1])/10-freeMargin-freeFoot-shared
		if all[m[1]] == nil {
			all[m[1]] = tiled{}
		}
		all[m[1]][[2]int{row, column}] = outlines(t, string(svg), xy{float64(column)*right - freeMargin, float64(row)*down - freeMargin})
	}
	return all
}

func outlines(t testing.TB, svg string, moved xy) []outline {
	var all []outline
	for _, m := range pathTag.FindAllStringSubmatch(svg, -1) {
		var a, b, c, d, e, f float64
		_, err := fmt.Sscanf(m[3], "%g,%g,%g,%g,%g,%g", &a, &b, &c, &d, &e, &f)
		require.NoError(t, err)
		o := outline{white: strings.Contains(m[1], "fill:rgb(100%")}
		if w := strokes.FindStringSubmatch(m[1]); w != nil {
			o.stroke, _ = strconv.ParseFloat(w[1], 64)
			o.stroke *= pointMM
		}
		var at [][2]float64
		for _, p := range traced(m[2]) {
			at = append(at, [2]float64{(a*p.x+c*p.y+e)*pointMM + moved.x, (b*p.x+d*p.y+f)*pointMM + moved.y})
		}
		for _, p := range at {
			o.points = append(o.points, xy{p[0], p[1]})
		}
		o.curved = strings.Contains(m[2], "C")
		all = append(all, o)
	}
	return all
}

// traced are the corners of a path, and four places along each of its cubics.
func traced(d string) []xy {
	f := strings.Fields(d)
	var all []xy
	take := func(i int) xy {
		x, _ := strconv.ParseFloat(f[i], 64)
		y, _ := strconv.ParseFloat(f[i+1], 64)
		return xy{x, y}
	}
	for i := 0; i < len(f); {
		switch f[i] {
		case "M", "L":
			all = append(all, take(i+1))
			i += 3
		case "C":
			a, p, q, b := all[len(all)-1], take(i+1), take(i+3), take(i+5)
			for k := 1; k <= 4; k++ {
				u := float64(k) / 4
				v := 1 - u
				on := func(a, p, q, b float64) float64 { return v*v*v*a + 3*v*v*u*p + 3*v*u*u*q + u*u*u*b }
				all = append(all, xy{on(a.x, p.x, q.x, b.x), on(a.y, p.y, q.y, b.y)})
			}
			i += 7
		default:
			i++
		}
	}
	return all
}

// cut are the lines to cut along or to shape to.
func (o outline) cut() bool { return !o.white && math.Abs(o.stroke-0.5) < 0.02 }

// arcs are the curved cutting lines of all pages, each with those of the radius that it is nearest to.
// A page that does not show a line need not have it.
func (p tiled) arcs(radii ...float64) [][]xy {
	all := make([][]xy, len(radii))
	for _, page := range p {
		for _, o := range page {
			if !o.cut() || !o.curved {
				continue
			}
			_, is := leastSquaresCircle(o.points)
			nearest := 0
			for i, r := range radii {
				if math.Abs(r-is) < math.Abs(radii[nearest]-is) {
					nearest = i
				}
			}
			all[nearest] = append(all[nearest], o.points...)
		}
	}
	return all
}

// straights are the straight cutting lines of all pages; one that several pages show comes as often.
func (p tiled) straights() []outline {
	var all []outline
	for _, page := range p {
		for _, o := range page {
			if o.cut() && len(o.points) == 2 {
				all = append(all, o)
			}
		}
	}
	return all
}

// isCircle holds every place along a line, on whichever page, to one circle within 0.1 mm.
func isCircle(t testing.TB, what string, points []xy, radius float64) xy {
	require.NotEmpty(t, points, what)
	centre, r := leastSquaresCircle(points)
	assert.InDelta(t, radius, r, 0.1, "%s: radius, mm", what)
	for _, p := range points {
		if away := math.Hypot(p.x-centre.x, p.y-centre.y); !(math.Abs(away-radius) <= 0.1) {
			assert.InDelta(t, radius, away, 0.1, "%s: a place lies off the circle, mm", what)
			break
		}
	}
	return centre
}

// meet wants two register marks or more of every two neighbours to close within 0.1 mm.
func meet(t testing.TB, what string, p tiled) {
	for at, page := range p {
		for _, to := range [2][2]int{{at[0] + 1, at[1]}, {at[0], at[1] + 1}} {
			next, printed := p[to]
			if !printed {
				continue
			}
			closed := 0
			for _, m := range lozenges(page) {
				for _, n := range lozenges(next) {
					if math.Hypot(m.x-n.x, m.y-n.y) <= 0.1 {
						closed++
					}
				}
			}
			assert.GreaterOrEqual(t, closed, 2, "%s: pages %v and %v cannot be laid together", what, at, to)
		}
	}
}

func lozenges(page []outline) []xy {
	var all []xy
	for _, o := range page {
		if o.white && len(o.points) >= 4 {
			all = append(all, xy{(o.points[0].x + o.points[2].x) / 2, (o.points[0].y + o.points[2].y) / 2})
		}
	}
	return all
}

// measured holds every pattern of a hat to its figures, to 0.1 mm, from the lines themselves.
func measured(t testing.TB, r fitting.Result, paper draw.Paper) {
	all := vectors(t, patterns(t, r, options(paper)), paper)
	for name, pages := range all {
		meet(t, name, pages)
	}
	for _, name := range []string{"Base circle", "Lining circle"} {
		radius := r.Base.CutDiameter.Millimetres() / 2
		isCircle(t, name, all[name].arcs(radius)[0], radius)
	}
	isTemplate(t, all["Brim shaping template"], r.Brim)
	for name, long := range map[string]fitting.Length{"Bias strip gauge": r.Strip.FromFold, "Elastic ruler": r.Elastic.Cut} {
		least, most := math.Inf(1), math.Inf(-1)
		for _, o := range all[name].straights() {
			least, most = min(least, o.points[0].y), max(most, o.points[0].y)
		}
		assert.InDelta(t, long.Millimetres(), most-least, 0.1, "%s, from end to end", name)
	}
}

func isTemplate(t testing.TB, pages tiled, b fitting.BrimPattern) {
	inside, outside := b.FlatInnerRadius.Millimetres(), b.FlatOuterRadius.Millimetres()
	arcs := pages.arcs(inside, outside)
	inner, outer := isCircle(t, "inner edge", arcs[0], inside), isCircle(t, "outer edge", arcs[1], outside)
	assert.LessOrEqual(t, math.Hypot(inner.x-outer.x, inner.y-outer.y), 0.1, "the edges have one middle")
	sides := map[bool]bool{}
	for _, o := range pages.straights() {
		a, b2 := o.points[0], o.points[1]
		assert.InDelta(t, b.Width.Millimetres(), math.Hypot(b2.x-a.x, b2.y-a.y), 0.1, "the width at the template's end")
		left := a.x+b2.x < inner.x+outer.x
		sides[left] = true
		turn := math.Atan2(math.Abs(b2.x-outer.x), outer.y-b2.y) // from straight up
		assert.InDelta(t, 0, (turn-b.Sector.Radians()/2)*outside, 0.1, "the end lies along its ray, mm at the outer edge")
	}
	assert.Len(t, sides, 2, "an end on either side")
}

// The largest brim takes many pages; others are drawn at random.
func TestPatternsMeasureTrueAcrossTheJoins(t *testing.T) {
	hats := map[string]fitting.Solution{
		"the largest brim": hat(t, 0.4, fitting.Hat{}, 130, 20, -10, 400, 40),
		"a drooping one":   hat(t, 0.42, fitting.Hat{}, 130, 0, 0, 50, -30),
		"nearly flat":      hat(t, 0.4, fitting.Hat{}, 100, 15, 15, 80, 5),
	}
	for i := range 3 {
		s := rapid.Custom(func(r *rapid.T) fitting.Solution {
			between := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(r, name) }
			return hat(t, 0.4, fitting.Hat{}, between("base", 60, 130), 15, -15, between("brim", 20, 250), between("slope", 10, 75))
		}).Example(i)
		hats[fmt.Sprintf("base %.1f, brim %.1f at %.1f", s.Result.Base.Diameter, s.Result.Brim.Width, s.Result.Brim.Slope)] = s
	}
	for name, s := range hats {
		for paper := range papers {
			t.Run(name+" on "+string(paper), func(t *testing.T) { measured(t, s.Result, paper) })
		}
	}
}
