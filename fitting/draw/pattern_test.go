package draw_test

import (
	"bytes"
	"compress/zlib"
	"io"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"perchbook/fitting"
	"perchbook/fitting/draw"
)

var papers = map[draw.Paper][2]int{draw.A4: {2100, 2970}, draw.Letter: {2159, 2794}} // pixels

func options(paper draw.Paper) draw.PatternOptions {
	return draw.PatternOptions{Paper: paper, Number: "26-014 / 2", Made: time.Date(2026, 3, 4, 5, 6, 7, 0, time.UTC)}
}

var pieceNames = []string{"Base circle", "Lining circle", "Bias strip gauge", "Brim shaping template", "Elastic ruler"}

func TestPatternsKeepToThePaper(t *testing.T) {
	for paper, size := range papers {
		for _, name := range []string{"right-tilt-steep-brim", "crown-set-flat-brim", "forehead-set"} {
			for i, l := range leaves(t, patterns(t, solved(t)[name].Result, options(paper)), paper) {
				require.InDelta(t, size[0], l.width, 1, "%s is that wide", paper)
				require.InDelta(t, size[1], l.height, 1, "%s is that high", paper)
				const margin = freeMargin*pixelsPerMM - 2
				for y := range l.height {
					for x := range l.width {
						if x < margin || y < margin || x >= l.width-margin || y >= l.height-margin {
							require.Zero(t, l.dark(x, y), "%s on %s, page %d: ink at (%d, %d), where printers do not reach", name, paper, i+1, x, y)
						}
					}
				}
			}
		}
	}
}

func TestEveryPieceBeginsWithItsSquares(t *testing.T) {
	for paper := range papers {
		all := leaves(t, patterns(t, solved(t)["right-tilt-steep-brim"].Result, options(paper)), paper)
		firsts := []leaf{all[0]}
		for _, name := range pieceNames {
			firsts = append(firsts, on(t, all, name)[[2]int{0, 0}])
		}
		for _, l := range firsts {
			assert.Contains(t, l.text, "5 cm")
			assert.Contains(t, l.text, "2 in")
			upright := l.turned().acrossLines(150, 200) // pixels down the page: 15 to 20 mm, in both squares
			level := l.acrossLines(l.width-800, l.width-700)
			level = append(level, l.acrossLines(200, 300)...)
			for what, side := range map[string]float64{"5 cm": 500, "2 in": 508} {
				assert.True(t, someGap(upright, side), "%s on %s: no square %s wide among %v", strings.Fields(l.text)[:3], paper, what, upright)
			}
			assert.True(t, someGap(level, 500) || someGap(level, 508), "%s: no square as high", paper)
		}
	}
}

// someGap says whether two of the lines are so many pixels apart, to 0.1 mm.
func someGap(lines []float64, want float64) bool {
	return slices.ContainsFunc(lines, func(a float64) bool {
		return slices.ContainsFunc(lines, func(b float64) bool { return math.Abs(b-a-want) <= 1 })
	})
}

func TestPatternsAreTrue(t *testing.T) {
	for name, s := range solved(t) {
		for paper := range papers {
			t.Run(name+" on "+string(paper), func(t *testing.T) {
				all := leaves(t, patterns(t, s.Result, options(paper)), paper)
				circlesAreTrue(t, all, s.Result)
				elasticIsTrue(t, joined(on(t, all, "Elastic ruler")), s.Result.Elastic)
				if s.Result.Brim.Width > 0 {
					gaugeIsTrue(t, joined(on(t, all, "Bias strip gauge")), s.Result.Strip)
					templateIsTrue(t, joined(on(t, all, "Brim shaping template")), s.Result.Brim)
				}
			})
		}
	}
}

func circlesAreTrue(t *testing.T, all []leaf, r fitting.Result) {
	for _, piece := range []string{"Base circle", "Lining circle"} {
		whole := joined(on(t, all, piece))
		want := r.Base.CutDiameter.Millimetres() / 2
		left, right, top := whole.extent()
		fitsCircle(t, piece, whole, (left+right)/2, top+want*pixelsPerMM, want, -math.Pi, math.Pi)
	}
}

func templateIsTrue(t *testing.T, whole leaf, b fitting.BrimPattern) {
	left, right, top := whole.extent()
	outer, half := b.FlatOuterRadius.Millimetres(), b.Sector.Radians()/2
	x, y := (left+right)/2, top+outer*pixelsPerMM
	for _, other := range []float64{float64(whole.width) / 2, float64(whole.width) - outer*pixelsPerMM} { // an edge may lie on a seam
		if len(whole.around(other, y, outer, -half, half)) > len(whole.around(x, y, outer, -half, half)) {
			x = other
		}
	}
	fitsCircle(t, "inner edge", whole, x, y, b.FlatInnerRadius.Millimetres(), -half, half)
	fitsCircle(t, "outer edge", whole, x, y, outer, -half, half)
	if half < math.Pi/2 {
		assert.InDelta(t, 2*outer*math.Sin(half), (right-left)/pixelsPerMM, 0.2, "from end to end along the outer edge")
	}
}

func gaugeIsTrue(t *testing.T, whole leaf, s fitting.Strip) {
	hasLines(t, "gauge", whole.acrossLines(200, 246), 25, s.FromFold.Millimetres(), s.LeastFlatWidth.Millimetres()/2)
}

func elasticIsTrue(t *testing.T, whole leaf, e fitting.ElasticCut) {
	knot := (e.Cut - e.Relaxed) / 2
	hasLines(t, "elastic", whole.acrossLines(90, 145), knot.Millimetres(), (e.Cut - knot).Millimetres(), e.Cut.Millimetres(),
		(e.Cut - e.PlusMinus).Millimetres(), (e.Cut + e.PlusMinus).Millimetres())
}

// extent is how far the ink of a piece reaches, in pixels to the middle of its
// line, without the title block and what lies near the seams.
func (l leaf) extent() (left, right, top float64) {
	const block, line = 1860, 2.5
	seam := func(at, size, pitch int) bool { // 5 mm into each next page
		return at > pitch-20 && at < size-200 && (at+20)%pitch < 140
	}
	left, right, top = math.Inf(1), 0, math.Inf(1)
	for y := range l.height {
		for x := range l.width {
			if l.dark(x, y) > 0.5 && !(x < block && y < 550) && !seam(x, l.width, l.across) && !seam(y, l.height, l.down) {
				left, right, top = min(left, float64(x)), max(right, float64(x+1)), min(top, float64(y))
			}
		}
	}
	return left + line, right - line, top + line
}

// fitsCircle walks out from about the middle and fits a circle to the lines that
// it meets near the radius: both must agree within 0.1 mm.
func fitsCircle(t *testing.T, name string, l leaf, x, y, radius, from, to float64) {
	t.Helper()
	at := l.around(x, y, radius, from, to)
	require.Greater(t, len(at), rays*9/10, "%s is not drawn", name)
	centre, r := circleThrough(at)
	var away []float64
	for _, p := range at {
		away = append(away, math.Abs(math.Hypot(p.x-centre.x, p.y-centre.y)-r))
	}
	slices.Sort(away)
	assert.InDelta(t, radius, r/pixelsPerMM, 0.1, "%s: its radius, mm", name)
	assert.Less(t, away[len(away)*9/10]/pixelsPerMM, 0.1, "%s is not round", name)
}

const rays = 720

// around are the points of the lines near so many millimetres from (x, y).
func (l leaf) around(x, y, radius, from, to float64) []xy {
	var at []xy
	for i := range rays {
		angle := from + (to-from)*(float64(i)+0.5)/rays
		if d, ok := l.nearestLine(x, y, angle, radius*pixelsPerMM); ok {
			at = append(at, xy{x + d*math.Sin(angle), y - d*math.Cos(angle)})
		}
	}
	return at
}

// circleThrough is the least-squares circle, without the tenth of the points that
// lie farthest from it: notches and words.
func circleThrough(points []xy) (xy, float64) {
	var c xy
	var r float64
	for range 3 {
		c, r = leastSquaresCircle(points)
		slices.SortFunc(points, func(a, b xy) int {
			d := math.Abs(math.Hypot(a.x-c.x, a.y-c.y)-r) - math.Abs(math.Hypot(b.x-c.x, b.y-c.y)-r)
			return int(math.Copysign(1, d))
		})
		points = points[:len(points)*97/100]
	}
	return c, r
}

// leastSquaresCircle solves x² + y² = 2 ax + 2 by + k for a, b and k.
func leastSquaresCircle(points []xy) (xy, float64) {
	var mean xy
	for _, p := range points {
		mean.x, mean.y = mean.x+p.x/float64(len(points)), mean.y+p.y/float64(len(points))
	}
	var uu, uv, vv, uz, vz, z float64
	for _, p := range points {
		u, v := p.x-mean.x, p.y-mean.y
		w := u*u + v*v
		uu, uv, vv, uz, vz, z = uu+u*u, uv+u*v, vv+v*v, uz+u*w/2, vz+v*w/2, z+w
	}
	det := uu*vv - uv*uv
	a, b := (uz*vv-vz*uv)/det, (vz*uu-uz*uv)/det
	return xy{mean.x + a, mean.y + b}, math.Sqrt(a*a + b*b + z/float64(len(points)))
}

// hasLines wants lines so many millimetres below the first, to 0.1; a hundredth
// more, because the reader moves thin level lines to whole pixels.
func hasLines(t *testing.T, name string, lines []float64, want ...float64) {
	t.Helper()
	require.NotEmpty(t, lines, name)
	for _, mm := range want {
		near := math.Inf(1)
		for _, y := range lines {
			near = min(near, math.Abs((y-lines[0])/pixelsPerMM-mm))
		}
		assert.LessOrEqual(t, near, 0.11, "%s: nothing is marked at %.2f mm", name, mm)
	}
}

// Two pages show the same where they overlap.
func TestPagesCanBeJoined(t *testing.T) {
	compared := 0
	for paper := range papers {
		in := input(0.4, fitting.Hat{}, 130, 20, 0, 150, 20)
		large, err := fitting.Solve(in)
		require.NoError(t, err)
		all := leaves(t, patterns(t, large.Result, options(paper)), paper)
		for _, name := range pieceNames {
			pages := on(t, all, name)
			for at, l := range pages {
				right, down := l.across, l.down
				if next, ok := pages[[2]int{at[0], at[1] + 1}]; ok {
					sameInk(t, name, l, next, right, 0)
					compared++
				}
				if next, ok := pages[[2]int{at[0] + 1, at[1]}]; ok {
					sameInk(t, name, l, next, 0, down)
					compared++
				}
			}
		}
	}
	assert.Greater(t, compared, 8, "hardly any pages overlap")
}

func sameInk(t *testing.T, name string, l, next leaf, right, down int) {
	t.Helper()
	wrong, ink := 0, 0
	bottom := l.height - freeFoot*pixelsPerMM
	for y := freeMargin*pixelsPerMM + down + 2; y < bottom-2; y++ {
		for x := freeMargin*pixelsPerMM + right + 2; x < l.width-freeMargin*pixelsPerMM-2; x++ {
			a, b := l.dark(x, y), next.dark(x-right, y-down)
			if a > 0.5 {
				ink++
			}
			if math.Abs(a-b) > 0.35 { // less is how a line falls between pixels
				wrong++
			}
		}
	}
	assert.Positive(t, ink, "%s: nothing to lay the pages together by", name)
	assert.LessOrEqual(t, wrong, ink/30, "%s: two pages differ where they overlap", name)
}

func TestPatternsSayWhatTheyAre(t *testing.T) {
	r := solved(t)["right-tilt-steep-brim"].Result
	for paper := range papers {
		all := leaves(t, patterns(t, r, options(paper)), paper)
		whole := ""
		for i, l := range all {
			whole += l.text
			assert.Contains(t, l.text, "26-014 / 2", "a page without its number")
			assert.Regexp(t, regexp.MustCompile(string(paper)+` at 100 %, page `+strconv.Itoa(i+1)+` of `+strconv.Itoa(len(all))), l.text)
		}
		whole = strings.Join(strings.Fields(whole), " ")
		for _, words := range append(pieceNames, "Do not cut cloth from this", "Cut 4 in sinamay", "threads one way", "adhesive let down with as much water",
			"12.00 cm", "24.00 cm (9.45 in) from the fold", "Steam and irons burn", "Count pins and needles", "Stiffener and adhesive", "try it on the wearer",
			"comes off to drive", "Local rules", "at least 5 mm free", "lay this line on the bias fold", "never nearer than 18.2 cm", "front", "back", "her own left") {
			assert.Contains(t, whole, words)
		}
	}
}

// The base's pattern tells how its layers lie, by the layer rule of the hat.
func TestBasePatternFollowsTheLayerRule(t *testing.T) {
	for rule, want := range map[fitting.LayerRule]string{
		fitting.FourOneWay: "Cut 4 in sinamay", fitting.ThreeTurned: "Cut number 2 with the thread along its own arrow",
		fitting.TwoTurned: "Cut number 2 with the thread along its own arrow", fitting.TwoStiffened: "threads one way",
	} {
		s, err := fitting.Solve(input(0.4, fitting.Hat{Layers: rule}, 110, 20, -20, 60, 30))
		require.NoError(t, err)
		base := on(t, leaves(t, patterns(t, s.Result, options(draw.A4)), draw.A4), "Base circle")[[2]int{0, 0}]
		text := strings.Join(strings.Fields(base.text), " ")
		assert.Contains(t, text, want, "%s", rule)
		turned := rule == fitting.ThreeTurned || rule == fitting.TwoTurned
		assert.Equal(t, turned, strings.Contains(text, "thread, circle 2"), "%s: an arrow for the turned circle", rule)
		assert.Equal(t, turned, !strings.Contains(text, "threads one way"), "%s", rule)
	}
}

func TestNumberMayBeLeftOutAndNothingElseIsPrinted(t *testing.T) {
	o := options(draw.A4)
	o.Number = ""
	for _, l := range leaves(t, patterns(t, solved(t)["forehead-set"].Result, o), draw.A4) {
		assert.NotContains(t, l.text, "26-014")
	}
	for _, number := range []string{"Zoë", "№ 4", "a\nb", strings.Repeat("9", 25)} {
		o.Number = number
		assert.ErrorIs(t, draw.Patterns(&bytes.Buffer{}, solved(t)["forehead-set"].Result, o), draw.ErrNumber, "%q", number)
	}
}

func TestHatWithoutBrimHasNoBrimPatterns(t *testing.T) {
	s, err := fitting.Solve(input(0.4, fitting.Hat{}, 110, 20, -20, 0, 30))
	require.NoError(t, err)
	for _, l := range leaves(t, patterns(t, s.Result, options(draw.A4)), draw.A4) {
		assert.NotContains(t, l.text, "template")
	}
}

func TestSamePatternsSameBytes(t *testing.T) {
	r, o := solved(t)["long-narrow-head"].Result, options(draw.A4)
	first := patterns(t, r, o)
	o.Made = o.Made.In(time.FixedZone("elsewhere", 5*3600))
	assert.Equal(t, first, patterns(t, r, o), "one hat, one moment, two files")
	o.Made = time.Time{}
	undated := patterns(t, r, o)
	assert.Contains(t, string(undated), "D:19700101000000", "no clock is read")
	assert.NotContains(t, string(undated), time.Now().UTC().Format("D:2006"))
}

func TestPatternFailures(t *testing.T) {
	r, o := solved(t)["forehead-set"].Result, options(draw.A4)
	assert.ErrorContains(t, draw.Patterns(broken{}, r, o), "no paper")
	assert.ErrorIs(t, draw.Patterns(&bytes.Buffer{}, fitting.Result{}, o), draw.ErrNotSolved)
	o.Paper = "vellum"
	assert.ErrorIs(t, draw.Patterns(&bytes.Buffer{}, r, o), draw.ErrNoPaper)
	for _, q := range []float64{-0.1, 1.1, math.NaN()} {
		o = options(draw.Letter)
		left, right := r, r
		left.Elastic.LeftAnchor, right.Elastic.RightAnchor = q, q
		assert.ErrorIs(t, draw.Patterns(&bytes.Buffer{}, left, o), draw.ErrAnchor, "%v", q)
		assert.ErrorIs(t, draw.Patterns(&bytes.Buffer{}, right, o), draw.ErrAnchor, "%v", q)
	}
	for name, spoil := range map[string]func(*fitting.Result){
		"no cut circle":      func(r *fitting.Result) { r.Base.CutDiameter = fitting.Length(math.NaN()) },
		"an endless brim":    func(r *fitting.Result) { r.Brim.FlatOuterRadius = fitting.Length(math.Inf(1)) },
		"a brim inside out":  func(r *fitting.Result) { r.Brim.FlatInnerRadius = r.Brim.FlatOuterRadius + 1 },
		"more than a circle": func(r *fitting.Result) { r.Brim.Sector = 361 },
		"elastic of nothing": func(r *fitting.Result) { r.Elastic.Relaxed = 0 },
		"no doubt known":     func(r *fitting.Result) { r.Elastic.PlusMinus = fitting.Length(math.NaN()) },
	} {
		bad := r
		spoil(&bad)
		assert.ErrorIs(t, draw.Patterns(&bytes.Buffer{}, bad, options(draw.A4)), draw.ErrNotSolved, name)
	}
}

// Whatever can be worked out can be cut.
func TestAnyHatHasPatterns(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		between := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(r, name) }
		folds := rapid.SampledFrom([]int{1, 2, 4}).Draw(r, "folds")
		in := input(between("nape", 0.34, 0.48), fitting.Hat{Folds: &folds}, between("base", 30, 250), between("forward", -75, 75),
			between("sideways", -75, 75), between("brim", 0, 400), between("slope", -80, 80))
		s, err := fitting.Solve(in)
		if err != nil {
			return
		}
		o := options(rapid.SampledFrom([]draw.Paper{draw.A4, draw.Letter}).Draw(r, "paper"))
		s.Result.Elastic.LeftAnchor, s.Result.Elastic.RightAnchor = between("left anchor", 0, 1), between("right anchor", 0, 1)
		pdf := patterns(r, s.Result, o)
		pages := bytes.Count(pdf, []byte("<</Type /Page\n"))
		require.True(r, pages >= 4 && pages <= 80, "%d pages", pages)
		drawn := unpacked(r, pdf)
		require.Len(r, drawn, pages)
		for _, page := range drawn {
			require.NotRegexp(r, "NaN|Inf", page)
		}
	})
}

// unpacked are the drawing orders of a PDF's pages.
func unpacked(t require.TestingT, pdf []byte) []string {
	var all []string
	for _, part := range bytes.Split(pdf, []byte("\nstream\n"))[1:] {
		z, err := zlib.NewReader(bytes.NewReader(part))
		require.NoError(t, err)
		orders, err := io.ReadAll(z)
		require.NoError(t, err)
		all = append(all, string(orders))
	}
	return all
}

func BenchmarkPatterns(b *testing.B) {
	r := solved(b)["right-tilt-steep-brim"].Result
	var out bytes.Buffer
	for b.Loop() {
		out.Reset()
		if err := draw.Patterns(&out, r, options(draw.A4)); err != nil {
			b.Fatal(err)
		}
	}
}

// Seen from outside with the front up, her own left is on the left of the paper.
func TestElasticIsMarkedOnEitherSideForItself(t *testing.T) {
	r := solved(t)["forehead-set"].Result
	marked := func(left, right float64) leaf {
		r.Elastic.LeftAnchor, r.Elastic.RightAnchor = left, right
		return joined(on(t, leaves(t, patterns(t, r, options(draw.A4)), draw.A4), "Base circle"))
	}
	bare := marked(0, 0)
	added := func(with leaf) (left, right float64) {
		for y := range bare.height {
			for x := range bare.width {
				if d := with.dark(x, y) - bare.dark(x, y); d > 0 && x < bare.width/2 {
					left += d
				} else if d > 0 {
					right += d
				}
			}
		}
		return left, right
	}
	left, right := added(marked(0.3, 0))
	assert.True(t, left > 100 && right == 0, "the left mark alone: %v %v", left, right)
	left, right = added(marked(0, 0.3))
	assert.True(t, right > 100 && left == 0, "the right mark alone: %v %v", left, right)
}
