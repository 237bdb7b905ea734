package fitting

import (
	"encoding/json"
	"reflect"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Each proposal is what would be advised for a wish of its presence, and works
// out to the same figures when its hat is given.
func TestProposalsAreTheAdviceForEachPresence(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := anyWearer(t)
		all, err := Proposals(in)
		if err != nil {
			t.Skip("refused")
		}
		for _, p := range all {
			require.Equal(t, p.Presence == chosenPresence(in), p.Chosen)
			wished := in
			wished.Wish.Presence = p.Presence
			a, err := Advise(wished)
			require.NoError(t, err)
			require.Equal(t, a.Hat, p.Hat, "%s: not what a wish for it gives", p.Presence)
			given := in
			given.Hat = p.Hat
			alone, err := Proposals(given)
			require.NoError(t, err)
			require.Len(t, alone, 1, "nothing is left to choose where the whole hat is given")
			r := alone[0].Solution.Result
			require.Equal(t, r.Elastic, p.Solution.Result.Elastic, "%s", p.Presence)
			require.Equal(t, r.Hold, p.Solution.Result.Hold, "%s", p.Presence)
			requireNumbers(t, reflect.ValueOf(p.Solution.Result), "result")
		}
	})
}

func TestFitHasTheOtherProposalsInShort(t *testing.T) {
	for name, in := range wearers() {
		all, err := Proposals(in)
		require.NoError(t, err, name)
		require.Len(t, all, 3, name)
		r, err := Fit(in)
		require.NoError(t, err, name)
		require.Len(t, r.Alternatives, 2, name)
		others := r.Alternatives
		for i, p := range all {
			require.Equal(t, presences[i], p.Presence, "%s: from least to most", name)
			if p.Chosen {
				require.Equal(t, p.Solution.Result.Elastic, r.Elastic, name)
				continue
			}
			require.Equal(t, p.alternative(), others[0], name)
			require.NotContains(t, p.Solution.Result.Reasons[0].Says, "The wish", "%s: nobody wished for this one", name)
			others = others[1:]
		}
		blob, err := json.Marshal(r.Alternatives[0])
		require.NoError(t, err)
		var parts map[string]any
		require.NoError(t, json.Unmarshal(blob, &parts))
		for _, part := range []string{"presence", "hat", "summary", "trades"} {
			require.Contains(t, parts, part)
		}
	}
}

// The three differ in the size that their names promise.
func TestBolderIsLarger(t *testing.T) {
	for name, in := range wearers() {
		all, err := Proposals(in)
		require.NoError(t, err)
		for i := range 2 {
			require.Less(t, all[i].Summary().Across, all[i+1].Summary().Across, "%s: %s against %s", name, all[i].Presence, all[i+1].Presence)
		}
	}
}

// What a trade says of the hat is so among the three.
func TestTradesAreTrue(t *testing.T) {
	sentence := regexp.MustCompile(`^[0-9A-Z][^%\n]*\.$`)
	of := func(p Proposal) string { return strings.Join(p.Trades, " ") }
	said := map[string]int{}
	for name, in := range wearers() {
		all, err := Proposals(in)
		require.NoError(t, err)
		for i, p := range all {
			s := p.Summary()
			require.Contains(t, of(p), inCentimetres(s.Across)+" across")
			for _, says := range p.Trades {
				require.Regexp(t, sentence, says)
			}
			for j, other := range all {
				if i == j {
					continue
				}
				o := other.Summary()
				for phrase, ok := range map[string]bool{
					"adds the most height": s.Height > o.Height, "adds the least height": s.Height < o.Height,
					"bears the most wind": s.SlipsAt > o.SlipsAt, "bears the least wind": s.SlipsAt < o.SlipsAt,
					"hides the most of the view": s.Ahead < o.Ahead, "hides the least of the view": s.Ahead > o.Ahead,
					"curves the most easily": s.Shear < o.Shear, "takes the most work": s.Shear > o.Shear,
					"is the heaviest": s.Mass > o.Mass, "holds by its elastic alone": o.Fastening != ByElastic,
					"besides its elastic": s.Fastening != ByElastic,
				} {
					if strings.Contains(of(p), phrase) {
						said[phrase]++
						assert.True(t, ok, "%s, %s beside %s: %s", name, p.Presence, other.Presence, of(p))
					}
				}
			}
		}
	}
	require.GreaterOrEqual(t, len(said), 7, "too little was said to test it: %v", said)
}

// A way in which all are alike, or nearly, is not said of any.
func TestAlikeIsNoTrade(t *testing.T) {
	a := Summary{Across: 150, Height: 40, Ahead: 80, SlipsAt: 5, Shear: 15, Fastening: ByElastic, ClothFits: true}
	b := a
	b.Height, b.SlipsAt = 44, 5.4
	require.Equal(t, []string{"15.0 cm across, 4.0 cm above the head.",
		"For the rest it lies between the others: the view ahead is clear up to 80 degrees, and it bears a wind of 5.0 m/s, Beaufort force 0."}, a.against([]Summary{b, b}))
	b.Height, b.Fastening = 46, ByCombAndPins
	require.Equal(t, []string{"15.0 cm across, 4.0 cm above the head.", "It holds by its elastic alone.", "In return it adds the least height."}, a.against([]Summary{b, b}))
	require.Equal(t, []string{"15.0 cm across, 4.6 cm above the head.", "It adds the most height.", "In return it needs a comb and pins besides its elastic."}, b.against([]Summary{a, a}))
}

// Three proposals, complete: 20 ms on one core is aimed at.
func BenchmarkThreeProposals(b *testing.B) {
	in := readCase(b, "right-tilt-steep-brim")
	in.Hat = Hat{}
	for name, change := range map[string]func(*Input){
		"nothing said": func(*Input) {},
		"round face":   func(in *Input) { in.Face.Shape = Round },
		"races":        func(in *Input) { in.Occasion = Occasion{"races", true, new(inchRule)} },
		"droop":        func(in *Input) { in.Wish = Wish{Left, Bold, Down} },
		"fine hair":    func(in *Input) { in.Hair.Grip, in.Face.Shape = FineHair, Heart },
		"on blocks":    func(in *Input) { in.Workroom.Blocks = []Length{100, 110, 115, 120, 130} },
	} {
		asked := in
		change(&asked)
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Proposals(asked); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
