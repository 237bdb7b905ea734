package draw

import (
	"bytes"
	"encoding/xml"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/fitting"
)

func measuringDrawing(t *testing.T, name string) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, Measuring(&b, name, MeasuringWords{"crown", "nape", "ruler", "A4"}))
	return b.String()
}

func TestDrawingsOfMeasuringAreWholeAndLean(t *testing.T) {
	var heads bytes.Buffer
	require.NoError(t, MeasuringHeads(&heads))
	assert.Less(t, heads.Len(), 8000, "the heads, once a page")
	for name := range measuring {
		svg := measuringDrawing(t, name)
		assert.Less(t, len(svg), 4000, name)
		d := xml.NewDecoder(strings.NewReader(svg))
		for {
			_, err := d.Token()
			if err == io.EOF {
				break
			}
			require.NoError(t, err, name)
		}
		for _, used := range regexp.MustCompile(`href="#([^"]+)"`).FindAllStringSubmatch(svg, -1) {
			assert.Contains(t, heads.String(), `id="`+used[1]+`"`, "%s is drawn on a head that is there", name)
		}
		assert.NotContains(t, svg, "NaN", name)
		isWrong := strings.HasSuffix(name, "-not")
		assert.Equal(t, isWrong, strings.Contains(svg, `<g stroke-width="4"><path d="M`), "%s: the wrong way, and it alone, is crossed out", name)
		assert.False(t, isWrong && strings.Contains(svg, `class="lay"`), "%s: a wrong tape is not laid on", name)
	}
	assert.ErrorIs(t, Measuring(io.Discard, "no such", MeasuringWords{}), ErrNoMeasuring)
}

// laidLength is how long the tape of a drawing is on the paper, in mm.
func laidLength(t *testing.T, svg string) float64 {
	t.Helper()
	m := regexp.MustCompile(`class="lay"[^>]* d="([^"]+)"`).FindStringSubmatch(svg)
	require.NotNil(t, m, svg)
	figures := regexp.MustCompile(`-?[\d.]+`).FindAllString(m[1], -1)
	long, last := 0.0, point{math.NaN(), 0}
	for i := 0; i+1 < len(figures); i += 2 {
		x, _ := strconv.ParseFloat(figures[i], 64)
		y, _ := strconv.ParseFloat(figures[i+1], 64)
		if d := last.distance(point{x, y}); !math.IsNaN(d) {
			long += d
		}
		last = point{x, y}
	}
	return long
}

// A tape that lies in the paper's plane is as long in the drawing as the engine's head makes it.
func TestDrawnTapesAreAsLongAsTheEnginesHead(t *testing.T) {
	for name, want := range map[string]fitting.Length{
		"round-snug": measured.Girth(), "nape-to-crown": measured.NapeToCrown(),
		"brow-to-nape": measured.BrowToNape(), "ears-over": measured.EarToEar(fitting.SexUnknown),
	} {
		assert.InDelta(t, want.Millimetres(), laidLength(t, measuringDrawing(t, name)), 1.5, name)
	}
	assert.InDelta(t, 567.7, measured.Girth().Millimetres(), 0.1, "the surveys' usual head")
}

func TestTheRulerTouchesTheCrown(t *testing.T) {
	place := regexp.MustCompile(`translate\((-?[\d.]+) (-?[\d.]+)\) rotate\((-?[\d.]+)\)`)
	for name, tipped := range map[string]float64{"crown": 0, "crown-not": 18} {
		m := place.FindStringSubmatch(measuringDrawing(t, name))
		require.NotNil(t, m)
		x, _ := strconv.ParseFloat(m[1], 64)
		y, _ := strconv.ParseFloat(m[2], 64)
		turned, _ := strconv.ParseFloat(m[3], 64)
		assert.Equal(t, tipped, turned)
		a, c := measured.A.Millimetres(), measured.C.Millimetres()
		assert.InDelta(t, 1, x*x/(a*a)+y*y/(c*c), 0.002, "%s: it touches the head", name)
		slope := math.Atan(-x/(a*a)*(c*c)/y) * 180 / math.Pi // of the ellipse there, on the paper
		assert.InDelta(t, tipped, slope, 0.2, "%s: and lies along it", name)
	}
}
