package orders

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"perchbook/fitting"
)

func once(mm string) Answer { return Answer{Value: mm} }

func TestTapesThatDoNotGoTogetherAreQuestioned(t *testing.T) {
	for name, c := range map[string]struct {
		tapes Answers
		key   string // questioned; "" for none
		says  []string
	}{
		"an ordinary head":                    {tapes: Answers{"girth": once("570.0 571.0 572.0"), "nape": once("228.0"), "ear_to_ear": once("348.0"), "brow_to_nape": once("380.0")}},
		"left for later":                      {tapes: Answers{"girth": once(Later), "nape": once("180.0")}},
		"nape left for later":                 {tapes: Answers{"girth": once("570.0"), "nape": once(Later)}},
		"a short nape tape":                   {tapes: Answers{"girth": once("570.0"), "nape": once("192.0")}, key: "nape", says: []string{"You gave 19.2 cm (7 1/2 in) from nape to crown, and 57.0 cm (22 1/2 in) round the head.", "between 19.3 cm (7 5/8 in) and 26.3 cm (10 3/8 in)", "end where the ruler touches?"}},
		"a long nape tape":                    {tapes: Answers{"girth": once("570.0"), "nape": once("264.0")}, key: "nape", says: []string{"and 26.3 cm", "not farther down the neck"}},
		"a nape tape that no head has":        {tapes: Answers{"girth": once("570.0"), "nape": once("180.0")}, key: "nape", says: []string{"18.0 cm", "No head has both"}},
		"one that is longer than a head":      {tapes: Answers{"girth": once("570.0"), "nape": once("287.0")}, key: "nape", says: []string{"No head has both"}},
		"questioned before and kept":          {tapes: Answers{"girth": once("570.0"), "nape": {Value: "192.0", Confirmed: true}}},
		"ear to ear too short":                {tapes: Answers{"girth": once("570.0"), "ear_to_ear": once("305.0")}, key: "ear_to_ear", says: []string{"30.5 cm", "round the head", "very top of the head"}},
		"ear to ear too long":                 {tapes: Answers{"girth": once("570.0"), "ear_to_ear": once("386.0")}, key: "ear_to_ear", says: []string{"not at the lobes"}},
		"ear to ear with the nape alone":      {tapes: Answers{"girth": once(Later), "nape": once("228.0"), "ear_to_ear": once("308.0")}, key: "ear_to_ear", says: []string{"22.8 cm (9 in) from nape to crown"}},
		"the pair that goes least":            {tapes: Answers{"girth": once("545.0"), "nape": once("240.0"), "ear_to_ear": once("311.0")}, key: "ear_to_ear", says: []string{"and 24.0 cm (9 1/2 in) from nape to crown"}},
		"the pair that goes least, the first": {tapes: Answers{"girth": once("615.0"), "nape": once("240.0"), "ear_to_ear": once("300.0")}, key: "ear_to_ear", says: []string{"round the head"}},
		"brow to nape hardly longer":          {tapes: Answers{"girth": once("570.0"), "nape": once("228.0"), "brow_to_nape": once("335.0")}, key: "brow_to_nape", says: []string{"from nape to crown", "begin where the one round your head lay"}},
		"brow to nape with ear to ear":        {tapes: Answers{"girth": once(Later), "ear_to_ear": once("345.0"), "brow_to_nape": once("440.0")}, key: "brow_to_nape", says: []string{"from ear to ear", "not at the eyebrows"}},
		"brow to nape with the girth":         {tapes: Answers{"girth": once("570.0"), "brow_to_nape": once("430.0")}, key: "brow_to_nape", says: []string{"round the head"}},
		"a hat size is believed less":         {tapes: Answers{"girth": {Value: "570.0", Source: Source{HatSize: true, Doubt: 30}}, "nape": once("192.0")}},
		"brow to nape that no head has":       {tapes: Answers{"girth": once("570.0"), "brow_to_nape": once("520.0")}, key: "brow_to_nape", says: []string{"No head has both"}},
		"ear to ear that no head has":         {tapes: Answers{"girth": once("570.0"), "ear_to_ear": once("255.0")}, key: "ear_to_ear", says: []string{"No head has both"}},
		"two that were kept do not nag":       {tapes: Answers{"girth": once("570.0"), "nape": {Value: "180.0", Confirmed: true}, "ear_to_ear": {Value: "255.0", Confirmed: true}}},
	} {
		problems := Unlikely(c.tapes)
		if c.key == "" {
			assert.Empty(t, problems, name)
			continue
		}
		require.Len(t, problems, 1, name)
		assert.Equal(t, c.key, problems[0].Key, name)
		for _, words := range c.says {
			assert.Contains(t, problems[0].Text, words, name)
		}
		assert.True(t, problems[0].Confirmable, "%s: she may know better", name)
	}
}

func TestUsualTapesAreNotQuestioned(t *testing.T) {
	for i, tape := range tapes {
		q := question(t, tape.question)
		usual := fitting.Tape(i).Usual(6)
		for _, mm := range []float64{usual.Least.Millimetres() + 0.1, usual.Most.Millimetres() - 0.1} {
			assert.True(t, q.unlikely(mm, 6).Empty(), "%s of %v mm", q.Key, mm)
		}
		short, long := q.unlikely(usual.Least.Millimetres()-1, 6).String(), q.unlikely(usual.Most.Millimetres()+1, 6).String()
		for _, text := range []string{short, long} {
			assert.Contains(t, text, BothUnits(usual.Least.Millimetres()).String(), "%s: what heads are like", q.Key)
			assert.Contains(t, text, "keep it", "%s: she may know better", q.Key)
		}
		assert.NotEqual(t, short[len(short)-60:], long[len(long)-60:], "%s: what to look at depends on which way it is off", q.Key)
	}
	assert.True(t, question(t, "height").unlikely(1, 0).Empty(), "only tapes are weighed")
}

// Whatever she answers, each tape is asked about at most once, in words with both units, and never after
// she has kept it.
func TestQuestionsAboutTapesAreFewAndKind(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := Answers{}
		for _, tape := range tapes {
			q, _ := Questions.Find(tape.question)
			if rapid.Bool().Draw(t, "taken") {
				a[q.Key] = Answer{Value: stored(rapid.Float64Range(q.Min, q.Max).Draw(t, q.Key)), Confirmed: rapid.Bool().Draw(t, "kept")}
			}
		}
		seen := map[string]bool{}
		for _, p := range Unlikely(a) {
			assert.False(t, seen[p.Key], "%s is asked about twice", p.Key)
			assert.False(t, a[p.Key].Confirmed, "%s was kept", p.Key)
			assert.Regexp(t, `\d cm \(.* in\).*\d cm \(.* in\)`, p.Text)
			seen[p.Key] = true
		}
	})
}
