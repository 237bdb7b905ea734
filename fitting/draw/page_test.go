package draw_test

import (
	"bytes"
	"errors"
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"perchbook/fitting"
	"perchbook/fitting/draw"
)

const (
	phone = 340.0 // pixels that a phone of 390 has for a drawing
	wide  = 0.62  // of the letters' size: a letter of a wide system font, on average
)

// rectangle is what words take of the paper.
type rectangle struct{ left, top, right, bottom float64 }

func (w word) rectangle() rectangle {
	half := wide * w.size * float64(utf8.RuneCountInString(w.text)) / 2
	return rectangle{w.at.x - half, w.at.y - 0.75*w.size, w.at.x + half, w.at.y + 0.22*w.size}
}

// readable is what every drawing owes its reader.
func readable(t require.TestingT, name string, p picture) {
	require.Equal(t, "img", p.role, "%s is not announced as a picture", name)
	require.NotEmpty(t, p.title, "%s has no title", name)
	require.Greater(t, len(p.desc), 80, "%s is not described", name)
	paper := rectangle{p.left, p.top, p.left + p.width, p.top + p.height}
	inside := func(what string, l, top, r, b float64) {
		require.True(t, l >= paper.left && top >= paper.top && r <= paper.right && b <= paper.bottom, "%s: %s lies off the paper", name, what)
	}
	for part, runs := range p.runs {
		for _, run := range runs {
			for _, q := range run {
				inside(part, q.x, q.y, q.x, q.y)
			}
		}
	}
	for i, w := range p.words {
		require.GreaterOrEqual(t, w.size*phone/p.width, 12.0, "%s: words are too small on a phone", name)
		a := w.rectangle()
		inside(w.text, a.left, a.top, a.right, a.bottom)
		for _, other := range p.words[:i] {
			b := other.rectangle()
			require.False(t, a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom,
				"%s: %q lies on %q", name, w.text, other.text)
		}
		for part, runs := range p.runs {
			for _, run := range runs {
				for _, q := range run {
					require.False(t, q.x > a.left && q.x < a.right && q.y > a.top && q.y < a.bottom, "%s: %q lies on %s", name, w.text, part)
				}
			}
		}
	}
}

func TestEveryDrawingIsReadable(t *testing.T) {
	for name, s := range solved(t) {
		for view := range views {
			for _, o := range []draw.Options{{Sizes: true}, {Yours: true}, {Sizes: true, Sheet: true}} {
				readable(t, name+", "+view, read(t, s, view, o))
			}
		}
	}
}

func TestSidesAreNeverInDoubt(t *testing.T) {
	for name, s := range solved(t) {
		places := map[string]float64{}
		for _, w := range read(t, s, "front", draw.Options{Yours: true}).words {
			places[w.text] = w.at.x
		}
		require.Contains(t, places, "your own right", "%s: the sides are not named", name)
		assert.Less(t, places["your own right"], places["your own left"]-80, "%s: her own right is not on the left of the paper", name)
		for _, view := range []string{"back", "above"} {
			for _, w := range read(t, s, view, draw.Options{Yours: true}).words {
				places[w.text] = w.at.x
			}
			assert.Greater(t, places["your own right"], places["your own left"]+40, "%s, %s: her own right is not on the right of the paper", name, view)
		}
		for _, side := range []string{"left", "right"} {
			assert.Contains(t, read(t, s, "askew "+side, draw.Options{Yours: true}).title, "your own "+side, "%s: the side is not named", name)
		}
		for _, view := range []string{"left", "right"} {
			assert.Contains(t, read(t, s, view, draw.Options{Yours: true}).title, "your own "+view, "%s: the side is not named", name)
		}
	}
}

func TestSizesAreTheResultsOrLeftOut(t *testing.T) {
	said := func(s fitting.Solution, view string, o draw.Options) string {
		var words []string
		for _, w := range read(t, s, view, o).words {
			words = append(words, w.text)
		}
		return strings.Join(words, "\n")
	}
	s := solved(t)["right-tilt-steep-brim"]
	front, right := said(s, "front", draw.Options{Sizes: true}), said(s, "right", draw.Options{Sizes: true})
	for _, want := range []string{"12.0 cm", "9.0 cm", "35°", "to own right"} {
		assert.Contains(t, front, want, "a size is missing from the front")
	}
	for _, want := range []string{"9.0 cm", "25°", "forward", "to 71°", "17.7 cm"} {
		assert.Contains(t, right, want, "a size is missing from the side")
	}
	for name, s := range solved(t) {
		for view := range views {
			p := read(t, s, view, draw.Options{})
			assert.False(t, strings.ContainsAny(said(s, view, draw.Options{})+p.desc, "0123456789"), "%s, %s: a client is shown sizes", name, view)
		}
	}
}

// A hat in a mirror is drawn in a mirror.
func TestMirroredHatIsDrawnMirrored(t *testing.T) {
	for _, tilt := range []float64{-28, -5, 0} {
		a, b := hat(t, 0.4, fitting.Hat{}, 110, 20, tilt, 70, 55), hat(t, 0.4, fitting.Hat{}, 110, 20, -tilt, 70, 55)
		for view, other := range map[string]string{"front": "front", "right": "left", "left": "right"} {
			here, there := read(t, a, view, draw.Options{}), read(t, b, other, draw.Options{})
			if tilt == 0 && view != "front" {
				continue // near and far edges fall on one line, and either may count as the one that is seen
			}
			for _, part := range []string{"seen head", "seen rim", "seen brim-outer", "seen brim-side", "seen dome", "hidden rim", "hidden brim-outer", "scheme face", "scheme neck"} {
				mirrored(t, part, here.runs[part], there.runs[part])
			}
			for part, twin := range map[string]string{"left": "right", "right": "left"} {
				mirrored(t, "elastic", here.runs["elastic "+part], there.runs["elastic "+twin])
			}
		}
	}
}

func mirrored(t *testing.T, part string, here, there [][]xy) {
	require.Equal(t, len(here) == 0, len(there) == 0, "%s is drawn on one side only", part)
	total, twin := 0.0, 0.0
	for _, run := range here {
		total += length(run)
		for _, q := range run {
			near := math.Inf(1)
			for _, other := range there {
				near = math.Min(near, off(xy{-q.x, q.y}, other))
			}
			require.Less(t, near, 0.3, "%s at %v has no mirror image", part, q)
		}
	}
	for _, run := range there {
		twin += length(run)
	}
	require.InDelta(t, total, twin, 1.5, "%s is longer on one side", part)
}

func TestSameHatSameBytes(t *testing.T) {
	s := solved(t)["long-narrow-head"]
	for view := range views {
		assert.Equal(t, svg(t, s, view, draw.Options{Sizes: true}), svg(t, s, view, draw.Options{Sizes: true}), "two drawings of one hat differ")
	}
}

func TestColoursHaveFallbacks(t *testing.T) {
	text := string(svg(t, solved(t)["forehead-set"], "right", draw.Options{Sizes: true}))
	assert.Contains(t, text, `<g stroke="#94301f"><g class="elastic" stroke-width="1.3" stroke="var(--thread, #94301f)">`, "the elastic has not its colour everywhere")
	assert.NotContains(t, text, "<style", "the pages forbid style sheets inside")
	assert.NotContains(t, text, "<script", "the pages forbid script")
}

type broken struct{}

func (broken) Write([]byte) (int, error) { return 0, errors.New("no paper") }

func TestFailures(t *testing.T) {
	assert.ErrorIs(t, draw.View(&bytes.Buffer{}, fitting.Solution{}, draw.Front(), draw.Options{}), draw.ErrNotSolved)
	assert.ErrorIs(t, draw.View(&bytes.Buffer{}, solved(t)["forehead-set"], draw.Camera{}, draw.Options{}), draw.ErrNoCamera)
	assert.ErrorContains(t, draw.View(broken{}, solved(t)["forehead-set"], draw.Front(), draw.Options{}), "no paper")
}

// Whatever can be solved can be drawn, and read.
func TestAnyHatCanBeDrawn(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		between := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(r, name) }
		in := input(between("nape", 0.34, 0.48), fitting.Hat{}, between("base", 40, 180), between("forward", -75, 75),
			between("sideways", -75, 75), between("brim", 0, 300), between("slope", -80, 80))
		in.Hair.Thickness = fitting.Length(between("hair", 0, 12))
		s, err := fitting.Solve(in)
		if err != nil {
			return
		}
		view := rapid.SampledFrom([]string{"front", "right", "left"}).Draw(r, "view")
		var b bytes.Buffer
		require.NoError(r, draw.View(&b, s, views[view], draw.Options{Sizes: rapid.Bool().Draw(r, "sizes")}))
		readable(r, view, parse(t, b.Bytes()))
	})
}

func BenchmarkView(b *testing.B) {
	s := solved(b)["right-tilt-steep-brim"]
	var out bytes.Buffer
	for b.Loop() {
		out.Reset()
		if err := draw.View(&out, s, draw.FromRight(), draw.Options{Sizes: true}); err != nil {
			b.Fatal(err)
		}
	}
}
