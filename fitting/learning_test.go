package fitting

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat"
)

// workroomOf simulates fittings: each figure is made otherwise than proposed by the
// bias, in spreads of that figure, and by chance as much as noise.
func workroomOf(r *rand.Rand, n int, bias, noise float64) Learned {
	var l Learned
	l.Reel = "fine"
	for range n {
		made := func(k lesson, proposed float64) float64 { return proposed + k.spread*(bias+noise*r.NormFloat64()) }
		note := FittingNote{Reel: "fine"}
		for i, proposed := range []float64{400, 115, 18, 22, 50} {
			note.Proposed.Set(lessons[i].field, proposed)
			note.Real.Set(lessons[i].field, made(lessons[i], proposed))
		}
		l.Fittings = append(l.Fittings, note)
	}
	return l
}

// A bias as large as the spread of one fitting, among chance half as large.
func TestAKnownBiasIsLearnedToHalfItsSizeWithinEightFittings(t *testing.T) {
	r := newRand(t)
	const runs, bias, noise = 500, 1.5, 0.75
	for i, k := range lessons {
		learned, reached := 0.0, 0
		for range runs {
			all, err := Learn(workroomOf(r, 8, bias, noise))
			require.NoError(t, err)
			part := all[i].Correction / (bias * k.spread)
			learned += part / runs
			if part >= 0.5 {
				reached++
			}
		}
		assert.GreaterOrEqual(t, learned, 0.6, "%s: learned on average", k.field)
		assert.LessOrEqual(t, learned, 1.0, "%s: and no more than there is", k.field)
		assert.GreaterOrEqual(t, reached, runs*9/10, "%s: half of it, in nine workrooms of ten", k.field)
	}
}

func TestPureNoiseIsCorrectedByLessThanAThirdOfIt(t *testing.T) {
	r := newRand(t)
	for _, n := range []int{1, 2, 3, 5, 8, 20} {
		for _, noise := range []float64{0.3, 1, 2} {
			for i, k := range lessons {
				const runs = 1500
				squares := 0.0
				for range runs {
					all, err := Learn(workroomOf(r, n, 0, noise))
					require.NoError(t, err)
					squares += all[i].Correction * all[i].Correction / runs
				}
				assert.Less(t, math.Sqrt(squares), noise*k.spread/3, "%s: %d fittings, noise of %g spreads", k.field, n, noise)
			}
		}
	}
}

func TestTheOrderOfFittingsDoesNotMatter(t *testing.T) {
	l := workroomOf(newRand(t), 9, 1, 1)
	l.Fittings[3].Reel, l.Fittings[5].Reel = "stout", "stout"
	first, err := Learn(l)
	require.NoError(t, err)
	slices.Reverse(l.Fittings)
	second, err := Learn(l)
	require.NoError(t, err)
	for i := range first {
		assert.InDelta(t, first[i].Correction, second[i].Correction, 1e-9)
		assert.InDelta(t, first[i].Deviation, second[i].Deviation, 1e-9)
		assert.Equal(t, first[i].Says, second[i].Says)
	}
}

// The twin solves the normal equations of workroom and reels as one system.
func TestLearningAgreesWithTheWholeSystem(t *testing.T) {
	r := newRand(t)
	for range 50 {
		l := workroomOf(r, 3+r.IntN(12), draw(r, -2, 2), 1)
		reels := []string{"fine", "stout", "flat"}
		for i := range l.Fittings {
			l.Fittings[i].Reel = reels[r.IntN(3)]
		}
		l.Reel = reels[r.IntN(3)]
		all, err := Learn(l)
		require.NoError(t, err)
		mean, deviation := systemOf(l, reels)
		assert.InDelta(t, mean, all[0].Correction, 1e-9)
		assert.InDelta(t, deviation, all[0].Deviation, 1e-9)
	}
}

func systemOf(l Learned, reels []string) (mean, deviation float64) {
	k := lessons[0]
	precision, data := mat.NewSymDense(4, nil), mat.NewVecDense(4, nil)
	precision.SetSym(0, 0, workroomFittings)
	for j := range reels {
		precision.SetSym(j+1, j+1, reelFittings)
	}
	squares, n := 0.0, 0.0
	for _, note := range l.Fittings {
		d, _ := k.difference(note)
		j := slices.Index(reels, note.Reel) + 1
		precision.SetSym(0, 0, precision.At(0, 0)+1)
		precision.SetSym(j, j, precision.At(j, j)+1)
		precision.SetSym(0, j, precision.At(0, j)+1)
		data.SetVec(0, data.AtVec(0)+d)
		data.SetVec(j, data.AtVec(j)+d)
		squares, n = squares+d*d, n+1
	}
	var x mat.VecDense
	var inverse mat.Dense
	_ = inverse.Inverse(precision)
	x.MulVec(&inverse, data)
	j := slices.Index(reels, l.Reel) + 1
	spread := (spreadFittings*k.spread*k.spread + squares - mat.Dot(&x, data)) / (spreadFittings + n - 2)
	return x.AtVec(0) + x.AtVec(j), math.Sqrt(spread * (inverse.At(0, 0) + 2*inverse.At(0, j) + inverse.At(j, j)))
}

// The deviation that is said is the one there is: over many workrooms whose bias
// and spread are drawn from what is assumed beforehand, errors over deviations are
// spread by about one (a little more: they follow Student's distribution).
func TestTheDeviationIsHonest(t *testing.T) {
	r := newRand(t)
	k := lessons[1]
	var z []float64
	for range 3000 {
		spread := k.spread * math.Sqrt(spreadFittings/chiSquare(r, int(spreadFittings)))
		bias := spread / math.Sqrt(usualFittings) * r.NormFloat64()
		heaps, squares := map[string]heap{}, 0.0
		for range 6 {
			d := bias + spread*r.NormFloat64()
			heaps[""] = heap{heaps[""].n + 1, heaps[""].sum + d}
			squares += d * d
		}
		mean, deviation := k.corrected(heaps, squares, "")
		z = append(z, (mean-bias)/deviation)
	}
	assert.InDelta(t, 1, stat.StdDev(z, nil), 0.06)
}

func chiSquare(r *rand.Rand, n int) (sum float64) {
	for range n {
		x := r.NormFloat64()
		sum += x * x
	}
	return sum
}

func TestASlipOfThePenIsSetAside(t *testing.T) {
	l := workroomOf(newRand(t), 6, 0, 0.5)
	before, err := Learn(l)
	require.NoError(t, err)
	slip := l.Fittings[0]
	slip.Real.ElasticCut = new(Length(40)) // centimetres written as millimetres
	l.Fittings = append(l.Fittings, slip)
	after, err := Learn(l)
	require.NoError(t, err)
	assert.InDelta(t, before[0].Correction, after[0].Correction, 1e-12)
	assert.Equal(t, 1, after[0].SetAside)
	assert.Contains(t, after[0].Says, "1 set aside")
	for _, x := range []float64{math.NaN(), math.Inf(1), 1e9} {
		l.Fittings[2].Real.Base = new(Length(x))
		_, err = Learn(l)
		var refused Refusal
		require.ErrorAs(t, err, &refused)
		assert.Equal(t, "learned.fittings.2.hat.base_mm", refused.Field)
	}
}

func TestTheSwitchLeavesEverythingAsItWas(t *testing.T) {
	in := Input{Measures: Measures{Girth: new(560 * Millimetre), NapeToCrown: new(224 * Millimetre)}}
	plain, err := Fit(in)
	require.NoError(t, err)
	in.Learned = workroomOf(newRand(t), 9, 2, 0.2)
	in.Learned.Off = true
	off, err := Fit(in)
	require.NoError(t, err)
	assert.Equal(t, plain, off)
	in.Learned.Off = false
	on, err := Fit(in)
	require.NoError(t, err)
	assert.NotEqual(t, plain, on)
	require.Len(t, on.Lessons, len(lessons))
}

// What is taught moves the hat by as much, and no limit is broken for it.
func TestLessonsMoveTheHatWithinItsLimits(t *testing.T) {
	r := newRand(t)
	for range 25 {
		in := Input{Measures: Measures{Girth: new(Length(draw(r, 530, 600))), NapeToCrown: nil}, Wish: Wish{Side: Left}}
		in.Learned = workroomOf(r, 9, draw(r, -2, 2), 0.3)
		moved, err := Fit(in)
		require.NoError(t, err)
		for _, s := range Standings(in, moved) {
			assert.True(t, s.Met(), "%s is %g, held against %g", s.Field, s.Value, s.Bound)
		}
		path := moved.Elastic.Relaxed - moved.Elastic.Worn/Length(1+moved.Elastic.Stretch)
		assert.InDelta(t, moved.Lessons[0].Correction, path.Millimetres(), 1e-9, "the elastic is cut as taught")
		assert.GreaterOrEqual(t, float64(moved.Elastic.PlusMinus), 2*moved.Lessons[0].Deviation)
	}
	in := Input{Measures: Measures{Girth: new(580 * Millimetre)}, Wish: Wish{Side: Left}}
	plain, err := Fit(in)
	require.NoError(t, err)
	var l Learned
	for range 8 {
		l.Fittings = append(l.Fittings, FittingNote{Proposed: Made{Forward: new(Angle(18))}, Real: Made{Forward: new(Angle(14))}})
	}
	in.Learned = l
	moved, err := Fit(in)
	require.NoError(t, err)
	assert.InDelta(t, moved.Lessons[0].Correction, float64(moved.Placement.Forward-plain.Placement.Forward), 0.05, "no limit is near, so the whole of it is followed")
	said := false
	for _, n := range moved.Reasons {
		said = said || n.Field == "hat.forward_deg" && n.Value == float64(moved.Placement.Forward)
	}
	assert.True(t, said, "and the reason says so")
}
