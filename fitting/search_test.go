package fitting

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
)

// wearers are ten who differ in all that the advice goes by.
func wearers() map[string]Input {
	of := func(girth, nape Length, change func(*Input)) Input {
		in := Input{Measures: Measures{Girth: &girth, NapeToCrown: &nape}}
		change(&in)
		return in
	}
	return map[string]Input{
		"nothing said": of(560, 224, func(*Input) {}),
		"round face at the races": of(552, 218, func(in *Input) {
			in.Face.Shape, in.Occasion = Round, Occasion{"races", true, new(inchRule)}
		}),
		"long face, quiet, to the middle": of(575, 240, func(in *Input) {
			in.Face.Shape, in.Wish = Long, Wish{Middle, Quiet, ""}
		}),
		"bold, small head, short": of(530, 205, func(in *Input) {
			in.Wish.Presence, in.Wearer = Bold, Wearer{true, new(Length(1480))}
		}),
		"drooping as wished": of(560, 230, func(in *Input) { in.Wish.Brim, in.Hair.Thickness = Down, 6 }),
		"heart, evening":     of(590, 236, func(in *Input) { in.Face.Shape, in.Occasion.Kind = Heart, "evening" }),
		"tapes of the face": of(610, 250, func(in *Input) {
			in.Face = Face{HairlineToChin: new(Length(165)), Cheekbone: new(Length(138)), Forehead: new(Length(112)), Jaw: new(Length(124))}
		}),
		"knot on top": of(568, 232, func(in *Input) {
			in.Hair.Knot, in.Face.Shape, in.Wish.Presence = KnotOnTop, Square, Quiet
		}),
		"fine hair, bold": of(580, 238, func(in *Input) {
			in.Hair.Grip, in.Face.Shape, in.Wish.Presence, in.Hair.Parting = FineHair, Heart, Bold, PartedLeft
		}),
		"quiet, drooping, outdoors": of(545, 214, func(in *Input) {
			in.Face.Shape, in.Wish, in.Occasion.Outdoors = Pear, Wish{Left, Quiet, Down}, true
		}),
	}
}

// randomHats for each wearer and presence.
func randomHats() int {
	if testing.Short() {
		return 5000
	}
	return 100000
}

// worthLess is a difference in the score that nobody sees, where the hat lies
// inside the limit of the hold and where it lies on it.
func (s settled) worthLess() float64 {
	if s.person.tangents[0].drawn {
		return 3e-3
	}
	return 1e-4
}

// No random hat inside the limits is better than the one advised, whether drawn
// from all that may be advised or from near the advice.
func TestAdviceIsNeverWorseThanRandomHats(t *testing.T) {
	for name, in := range wearers() {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			k, err := newTask(in)
			require.NoError(t, err)
			for _, p := range presences {
				k.as(p).neverWorse(t)
			}
		})
	}
}

func (k task) neverWorse(t *testing.T) {
	r := newRand(t)
	chosen, _ := k.settle()
	require.Zero(t, chosen.exceeded, "the advice is outside the limits")
	require.True(t, chosen.holds, "the advice is not held by its elastic")
	ways := []search{k.going(Up), k.going(Down)}
	if k.in.Wish.Brim == Down {
		ways = ways[1:]
	}
	person, inside := k.search.person, 0
	for i := range randomHats() {
		s := ways[r.IntN(len(ways))]
		hat := person.try(s.random(r, chosen.trial.figures, i%2 == 0))
		if person.exceeded(&hat) > 0 {
			continue
		}
		inside++
		if person.score(&hat) < chosen.score-chosen.worthLess() && person.steadiness(&hat).holds {
			require.Fail(t, "there is a better hat", "%v has %v, %v only %v", hat.figures, person.score(&hat), chosen.trial.figures, chosen.score)
		}
	}
	require.Greater(t, inside, randomHats()/100, "too few hats were inside the limits to say anything")
}

// random draws figures from the whole box, or from near a hat, the nearer the
// oftener.
func (s search) random(r *rand.Rand, f figures, near bool) figures {
	limits := box{s.low.scaled(), s.high.scaled()}
	x := f.scaled()
	reach := math.Pow(10, -3*r.Float64())
	for i := range x {
		if near {
			x[i] += draw(r, -reach, reach)
		} else {
			x[i] = draw(r, limits.low[i], limits.high[i])
		}
	}
	return figuresFrom(limits.clamp(x))
}

// The measure by which a face's own proportions and the table of start tilts are
// compared: how far all five figures together move, in centimetres and tens of
// degrees, over the faces of the survey and over the shapes of the table.
func influence(t *testing.T, wish Presence) (ofProportions, ofTable float64) {
	const steps = 9
	var grid [len(faceShapes)][steps][unknowns]float64
	for i, s := range faceShapes {
		for j := range steps {
			cheekbone := Length(133.8)
			long := cheekbone * Length(usualLong+longDeviation*(float64(j)/2-2))
			k, err := newTask(Input{
				Measures: Measures{Girth: new(Length(560)), NapeToCrown: new(Length(224))},
				Face:     Face{Shape: s.shape, HairlineToChin: &long, Cheekbone: &cheekbone}, Wish: Wish{Presence: wish},
			})
			require.NoError(t, err)
			chosen, _ := k.settle()
			grid[i][j] = chosen.trial.figures.scaled()
		}
	}
	for i := range grid {
		ofProportions += spread(grid[i][:]) / float64(len(grid))
	}
	for j := range steps {
		var shapes [][unknowns]float64
		for i := range grid {
			shapes = append(shapes, grid[i][j])
		}
		ofTable += spread(shapes) / steps
	}
	return ofProportions, ofTable
}

func spread(hats [][unknowns]float64) float64 {
	sum := 0.0
	for i := range unknowns {
		low, high := math.Inf(1), math.Inf(-1)
		for _, x := range hats {
			low, high = min(low, x[i]), max(high, x[i])
		}
		sum += (high - low) * (high - low)
	}
	return math.Sqrt(sum)
}

func TestFaceMattersMoreThanStartValues(t *testing.T) {
	for _, wish := range []Presence{Quiet, Balanced, Bold} {
		face, table := influence(t, wish)
		t.Logf("%s: proportions move the hat by %.2f, start values by %.2f", wish, face, table)
		require.Greater(t, face, table, "%s: the table is the engine", wish)
		require.Greater(t, table, 0.2, "%s: the start values do nothing", wish)
	}
}

// From face to face the proposals change smoothly: no figure jumps, neither from
// one of a drawn shape to a longer one, nor over a grid of tapes.
func TestProposalsChangeSmoothlyWithTheFace(t *testing.T) {
	const length, breadth = 0.01, 1.5 // between neighbours: of its width, mm
	for _, wish := range presences {
		hat := func(shape FaceShape, long, wide float64) figures {
			cheekbone, tall := Length(wide), Length(long*wide)
			k, err := newTask(Input{
				Measures: Measures{Girth: new(Length(560)), NapeToCrown: new(Length(224))},
				Face:     Face{Shape: shape, HairlineToChin: &tall, Cheekbone: &cheekbone}, Wish: Wish{Presence: wish},
			})
			require.NoError(t, err)
			chosen, _ := k.settle()
			require.True(t, chosen.holds)
			return chosen.trial.figures
		}
		most := 0.0
		near := func(shape FaceShape, long, wide float64, next figures) figures {
			now := hat(shape, long, wide)
			step := now.off(next)
			most = max(most, step)
			require.LessOrEqual(t, step, 0.2, "%s, %q: from %.1f to %.1f at a face of %.2f times %.1f mm", wish, shape, next, now, long, wide)
			return now
		}
		for _, s := range faceShapes {
			before := hat(s.shape, 1.12, 133.8)
			for long := 1.12; long < 1.58; long += length {
				before = near(s.shape, long, 133.8, before)
			}
		}
		for long := 1.15; long < 1.56; long += 0.05 {
			before := hat("", long, 118)
			for wide := 118.0; wide < 150; wide += breadth {
				before = near("", long, wide, before)
				near("", long+length, wide, before)
			}
		}
		t.Logf("%s: neighbouring faces move no figure by more than %.1f mm or degrees", wish, 10*most)
	}
}

// Where the best hat inside the limits would have its elastic slip over to the
// other side, another is found that has not: inside the limits where that can
// be, else nearer the brow than they allow, with a caution.
func TestElasticKeepsToItsSide(t *testing.T) {
	for name, c := range map[string]struct {
		girth, nape Length
		hat         Hat
		inside      bool
	}{
		"small base set back":   {569, 243.7, Hat{Base: new(Length(76.6)), Forward: new(Angle(-3.8)), AnchorFromFront: new(0.07)}, true},
		"small base":            {602, 219.2, Hat{Base: new(Length(65.3)), Forward: new(Angle(4.4))}, true},
		"tilted far":            {553, 247.5, Hat{Sideways: new(Angle(-37))}, true},
		"tilted still farther":  {551, 209.5, Hat{Sideways: new(Angle(40.7)), AnchorFromFront: new(0.14)}, false},
		"tilted as far as ever": {618, 226.9, Hat{Sideways: new(Angle(-51)), AnchorFromFront: new(0.13)}, false},
	} {
		t.Run(name, func(t *testing.T) {
			in := Input{Measures: Measures{Girth: &c.girth, NapeToCrown: &c.nape}, Hat: c.hat}
			k, err := newTask(in)
			require.NoError(t, err)
			s := k.going(Up)
			require.False(t, s.from(s.person.starts(Up)[0], [len(bounds)]float64{}, exactly).runsDown(), "this case tests nothing")
			a, err := Advise(in)
			require.NoError(t, err)
			require.Equal(t, c.inside, len(a.Cautions) == 0)
			_, err = Fit(in)
			require.NoError(t, err)
		})
	}
}
