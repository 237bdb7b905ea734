package orders

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestTapesThatDoNotGoTogetherAreQuestioned(t *testing.T) {
	for name, c := range map[string]struct {
		tapes Answers
		key   string // questioned; "" for none
		says  string
	}{
		"an ordinary head":               {tapes: Answers{"girth": {Value: "570.0 571.0 572.0"}, "nape": {Value: "228.0"}, "ear_to_ear": {Value: "348.0"}, "brow_to_nape": {Value: "380.0"}}},
		"no girth":                       {tapes: Answers{"nape": {Value: "180.0"}}},
		"girth left for later":           {tapes: Answers{"girth": {Value: Later}, "nape": {Value: "180.0"}}},
		"nape left for later":            {tapes: Answers{"girth": {Value: "570.0"}, "nape": {Value: Later}}},
		"a short nape tape":              {tapes: Answers{"girth": {Value: "570.0"}, "nape": {Value: "200.0"}}, key: "nape", says: "nearly all lie between 20.1 cm"},
		"a long nape tape":               {tapes: Answers{"girth": {Value: "570.0"}, "nape": {Value: "256.0"}}, key: "nape", says: "and 25.5 cm"},
		"a nape tape that no head has":   {tapes: Answers{"girth": {Value: "570.0"}, "nape": {Value: "180.0"}}, key: "nape", says: "No head has both"},
		"one that is longer than a head": {tapes: Answers{"girth": {Value: "570.0"}, "nape": {Value: "287.0"}}, key: "nape", says: "No head has both"},
		"questioned before and kept":     {tapes: Answers{"girth": {Value: "570.0"}, "nape": {Value: "200.0", Confirmed: true}}},
		"ear to ear too short":           {tapes: Answers{"girth": {Value: "570.0"}, "ear_to_ear": {Value: "310.0"}}, key: "ear_to_ear", says: "nearly all lie between 31.1 cm"},
		"ear to ear too long":            {tapes: Answers{"girth": {Value: "570.0"}, "ear_to_ear": {Value: "385.0"}}, key: "ear_to_ear", says: "and 38.4 cm"},
		"brow to nape hardly longer":     {tapes: Answers{"girth": {Value: "570.0"}, "nape": {Value: "228.0"}, "brow_to_nape": {Value: "340.0"}}, key: "brow_to_nape", says: "do not go together"},
	} {
		problems := Unlikely(c.tapes)
		if c.key == "" {
			assert.Empty(t, problems, name)
			continue
		}
		require.Len(t, problems, 1, name)
		assert.Equal(t, c.key, problems[0].Key, name)
		assert.Contains(t, problems[0].Text, c.says, name)
		assert.True(t, problems[0].Confirmable, "%s: she may know better", name)
	}
}

func TestUsualLengthsAreNotQuestioned(t *testing.T) {
	for key, s := range usual {
		q := question(t, key)
		for _, mm := range []float64{s.lo, (s.lo + s.hi) / 2, s.hi} {
			assert.True(t, q.unlikely(mm).Empty(), "%s of %v mm", key, mm)
		}
		assert.Contains(t, q.unlikely(s.lo-1).String(), "less", key)
		assert.Contains(t, q.unlikely(s.hi+1).String(), "more", key)
	}
}
