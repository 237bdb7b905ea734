package fitting

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// saidIn is all that the steps say, and all that they caution.
func saidIn(steps []Step) (does, care string) {
	for _, s := range steps {
		does += strings.Join(s.Does, "\n") + "\n"
		care += strings.Join(s.Care, "\n") + "\n"
	}
	return does, care
}

func named(t require.TestingT, steps []Step, name string) Step {
	i := slices.IndexFunc(steps, func(s Step) bool { return s.Name == name })
	require.GreaterOrEqual(t, i, 0, "no step %q", name)
	return steps[i]
}

// The steps and their cautions are common practice; the figures are the contract's,
// worked out by an independent program for this case.
func TestMakeUpHasTheHatsOwnFigures(t *testing.T) {
	r, err := Fit(readCase(t, "right-tilt-steep-brim"))
	require.NoError(t, err)
	steps := r.MakeUp()
	var order []string
	for _, s := range steps {
		order = append(order, s.Name)
	}
	assert.Equal(t, []string{"Match the swatch", "Cut on the true bias", "Fold", "Set with a dry iron", "Steam to curve", "Trim and join",
		"Layer the base", "Dome", "Bind", "Line", "Try on the elastic", "Stitch", "Check the finish"}, order)
	does, care := saidIn(steps)
	for _, words := range []string{
		"mark 24 cm (9 1/2 in) from the fold", "opens to 48 cm (19 in), and never to less than 36.5 cm", // 240 mm; 48 cm is 18.9 in, the next eighth 19
		"at least 5 mm", "at least 2 mm", "baking paper", "stretch the outer edge and ease the inner one", fmt.Sprintf("%.2f to 1", r.Brim.EdgeRatio),
		"Lap the ends by 3.0 cm", "4 circles one way", "1 to 1", inCentimetres(r.Elastic.Cut), inCentimetres(r.Base.Sag) + " (", "label at the centre back",
	} {
		assert.Contains(t, does, words)
	}
	for _, words := range []string{"Steam burns", "An iron burns", "needles and pins", "Stiffener gives off fumes", "Adhesive gives off fumes",
		"Never over-tight", "never drive or cycle in a hat that hides the road", "Local rules, and the instructions of your tools and materials, come before"} {
		assert.Contains(t, care, words)
	}
}

// Whatever the engine warns of stands beside one step, once.
func TestEveryCautionStandsBesideOneStep(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := anyInput(t)
		in.Hat.Folds = new(rapid.SampledFrom([]int{1, 2, 4}).Draw(t, "folds"))
		in.Hat.Layers = rapid.SampledFrom([]LayerRule{FourOneWay, ThreeTurned, TwoTurned, TwoStiffened}).Draw(t, "layers")
		s, err := Solve(in)
		if err != nil {
			t.Skip("refused")
		}
		steps := s.Result.MakeUp()
		does, care := saidIn(steps)
		for _, n := range s.Result.Cautions {
			require.Equal(t, 1, strings.Count(care, n.Says+"\n"), "%s: %s", n.Field, n.Says)
		}
		require.NotContains(t, does, "NaN")
		layer := strings.Join(named(t, steps, "Layer the base").Does, " ")
		turned := in.Hat.Layers == ThreeTurned || in.Hat.Layers == TwoTurned
		require.Equal(t, turned, strings.Contains(layer, "turn number 2 by 45 degrees"), "%s: %s", in.Hat.Layers, layer)
		require.Equal(t, in.Hat.Layers == TwoStiffened, strings.Contains(layer, "Brush with stiffener"), "%s: %s", in.Hat.Layers, layer)
	})
}

func TestHatWithoutBrimIsMadeUpWithoutOne(t *testing.T) {
	in := readCase(t, "right-tilt-steep-brim")
	in.Hat.BrimWidth = new(Length(0))
	s, err := Solve(in)
	require.NoError(t, err)
	does, _ := saidIn(s.Result.MakeUp())
	assert.NotContains(t, strings.ToLower(does), "brim")
	assert.Contains(t, does, "at least 2 mm", "the bindings are still folded")
}

// Every part that lies on the cloth is ticked off once, with the size that it was asked in.
func TestCutsAreAllThatLies(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pieces, on := anyPieces(t), anyCloth(t)
		lay := mustLay(t, pieces, on)
		numbers := map[int]bool{}
		order := lay.InOrder()
		for _, c := range lay.Cuts() {
			for _, n := range c.Numbers {
				require.False(t, numbers[n], "number %d twice", n)
				numbers[n] = true
				asked := pieces[order[n-1].Piece]
				if asked.Length == 0 {
					require.InDelta(t, float64(asked.Width), float64(c.Diameter), 1e-6, "a circle's size")
					continue
				}
				require.InDelta(t, float64(asked.Width), float64(c.Width), 0.06, "a strip's width")
				if c.Parts == 1 && !asked.Ring {
					require.InDelta(t, float64(asked.Length), float64(c.Length), 0.06, "a square strip's length")
				}
				if c.Parts == 1 && asked.Ring {
					require.GreaterOrEqual(t, float64(c.Length), float64(asked.Length), "a ring reaches beyond its edge, from point to point")
				}
			}
		}
		require.Len(t, numbers, len(lay.Pieces), "something is not on the list")
	})
}

func TestLengthsForTheBench(t *testing.T) {
	for l, want := range map[Length]string{
		240:         "24 cm (9 1/2 in)",
		240.1:       "24.5 cm (9 1/2 in)",
		1.5 * Inch:  "4 cm (1 1/2 in)",
		3:           "0.5 cm (1/8 in)",
		16.0001 * 5: "8.5 cm (3 1/4 in)",
	} {
		assert.Equal(t, want, ToMark(l), "%v mm to cut", float64(l))
	}
	assert.Equal(t, "30.5 cm (12 in)", toTape(12*Inch+0.2))
	assert.Equal(t, "−1/4 in", Eighths(-2))
}

func TestOnlyWhatIsAlikeIsTickedOffTogether(t *testing.T) {
	lay := mustLay(t, []Piece{bare(50, 300), bare(50, 300), bare(50, 310), bare(55, 310), {Kind: BasePiece, Width: 120}, {Kind: BasePiece, Width: 120}}, ClothSize{900, 1000})
	var numbers [][]int
	for _, c := range lay.Cuts() {
		numbers = append(numbers, c.Numbers)
	}
	assert.Equal(t, [][]int{{1, 2}, {3}, {4}, {5, 6}}, numbers)
}
