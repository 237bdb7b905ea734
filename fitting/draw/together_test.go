package draw_test

import (
	"bytes"
	"maps"
	"math"
	"slices"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/fitting"
	"perchbook/fitting/draw"
)

// poses are all the hats, from everywhere.
func poses(t testing.TB, hats map[string]fitting.Solution) (all []draw.Pose) {
	for _, name := range slices.Sorted(maps.Keys(hats)) {
		for _, view := range slices.Sorted(maps.Keys(views)) {
			all = append(all, draw.Pose{Hat: hats[name], From: views[view]})
		}
	}
	return all
}

var upright = map[draw.Camera]bool{draw.Front(): true, draw.FromRight(): true, draw.FromLeft(): true}

// Drawn together, small hats and large ones stand on the same paper, so that a
// millimetre is as long on each; each is as readable as alone.
func TestTogetherHasOneScale(t *testing.T) {
	all := poses(t, solved(t))
	for _, o := range []draw.Options{{Sizes: true}, {Yours: true}} {
		texts, err := draw.Together(all, o)
		require.NoError(t, err)
		require.Len(t, texts, len(all))
		first, top := parse(t, texts[0]), math.NaN()
		for i, text := range texts {
			p := parse(t, text)
			assert.InDelta(t, first.width, p.width, 0.02, "drawing %d is on paper of another width", i)
			assert.InDelta(t, first.height, p.height, 0.02, "drawing %d is on paper of another height", i)
			if upright[all[i].From] {
				if math.IsNaN(top) {
					top = p.top
				}
				assert.InDelta(t, top, p.top, 0.02, "the head of drawing %d is at another height", i)
			}
			readable(t, "drawn together", p)
		}
	}
}

// What is drawn does not change by the company: only paper and words do.
func TestTogetherDrawsTheSameHat(t *testing.T) {
	s := solved(t)["no brim"]
	texts, err := draw.Together([]draw.Pose{{s, draw.Front()}, {solved(t)["wide and bold"], draw.Front()}}, draw.Options{})
	require.NoError(t, err)
	alone := read(t, s, "front", draw.Options{})
	for _, part := range []string{"seen rim", "seen head", "elastic left", "scheme face"} {
		assert.Equal(t, alone.runs[part], parse(t, texts[0]).runs[part], "%s is drawn otherwise in company", part)
	}
	assert.Greater(t, parse(t, texts[0]).width, alone.width+50, "the small hat keeps its own scale beside a large one")
}

func TestTogetherFailures(t *testing.T) {
	none, err := draw.Together(nil, draw.Options{})
	assert.NoError(t, err)
	assert.Empty(t, none)
	_, err = draw.Together([]draw.Pose{{fitting.Solution{}, draw.Front()}}, draw.Options{})
	assert.ErrorIs(t, err, draw.ErrNotSolved)
}

// A small drawing names the sides, legibly at 170 pixels, and says nothing else.
func TestSmallNamesTheSidesOnly(t *testing.T) {
	for name, s := range solved(t) {
		p := read(t, s, "front", draw.Options{Small: true, Sizes: true})
		require.Len(t, p.words, 2, "%s: other words than the sides' names", name)
		assert.Equal(t, "own right", p.words[0].text, name)
		assert.Equal(t, "own left", p.words[1].text, name)
		assert.GreaterOrEqual(t, p.words[0].size*170/p.width, 11.0, "%s: words are too small", name)
		assert.Less(t, p.words[0].rectangle().right, p.words[1].rectangle().left, "%s: the names run together", name)
		assert.Contains(t, p.desc, "own right", "%s: the sides are not said to those who hear it", name)
		assert.NotContains(t, p.desc, " cm", "%s: sizes are said that are not written", name)
	}
}

// Many may draw at once, and get what one alone gets.
func TestDrawingAtOnce(t *testing.T) {
	all := poses(t, map[string]fitting.Solution{"wide": solved(t)["wide and bold"]})
	want, err := draw.Together(all, draw.Options{Sizes: true})
	require.NoError(t, err)
	var wait sync.WaitGroup
	for range 4 {
		wait.Go(func() {
			got, err := draw.Together(all, draw.Options{Sizes: true})
			assert.NoError(t, err)
			for i := range want {
				assert.True(t, bytes.Equal(want[i], got[i]), "drawing %d differs when others draw", i)
			}
		})
	}
	wait.Wait()
}
