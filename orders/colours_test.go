package orders

import (
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// light is how light a colour is, from 0 to 1: relative luminance, WCAG 2.2, with the exponent 2.2.
func light(t *testing.T, colour string) float64 {
	t.Helper()
	require.Regexp(t, regexp.MustCompile(`^#[0-9a-f]{6}$`), colour)
	sum := 0.0
	for i, part := range []float64{0.2126, 0.7152, 0.0722} {
		n, err := strconv.ParseUint(colour[1+2*i:3+2*i], 16, 8)
		require.NoError(t, err)
		v := float64(n) / 255
		sum += part * v * v // near enough to order colours by
	}
	return sum
}

func TestColoursAreToldApartByName(t *testing.T) {
	for key, colours := range palettes {
		q := question(t, key)
		require.Equal(t, named(colours), q.Options, "%s: one list", key)
		names, seen := map[string]bool{}, map[string]bool{}
		for _, c := range colours {
			assert.False(t, names[folded(c.Label)], "%s: %s stands twice", key, c.Label)
			names[folded(c.Label)] = true
			if c.Swatch == "" {
				continue
			}
			light(t, c.Swatch)
			assert.False(t, seen[c.Swatch], "%s: %s looks like another", key, c.Label)
			seen[c.Swatch] = true
			assert.Equal(t, c.Swatch, q.Swatch(c.Value))
		}
		assert.Empty(t, q.Swatch("no such colour"))
	}
	assert.Empty(t, question(t, "face").Swatch("round"), "a face has no colour")
	q := question(t, "outfit_colours")
	for _, typed := range [][]string{{"sage", "ivory"}, {"Ivory and sage"}, {"18, 2"}} {
		a, p := q.Parse(Said{Text: typed}, time.Now())
		require.Nil(t, p, "%v", typed)
		assert.Equal(t, "ivory sage", a.Value)
		assert.Equal(t, "Ivory, Sage", q.Show(a))
	}
	_, p := q.Parse(Said{Text: []string{"none", "sage"}}, time.Now())
	require.NotNil(t, p, "nothing chosen, together with a colour")
}

// The elastic is the hair's own colour, or one that is darker.
func TestElasticIsTheHairsColourOrDarker(t *testing.T) {
	hair := map[string]Colour{}
	for _, c := range hairColours {
		hair[folded(c.Label)] = c
	}
	compared := 0
	for _, c := range hairColours {
		words := elasticFor[c.Value]
		require.NotEmpty(t, words, "%s has no elastic", c.Label)
		assert.Equal(t, words, inputOf(Answers{"hair_colour": {Value: c.Value}}, MeasureCard{}, Studio{}).Elastic.Colour)
		own, darker, two := strings.Cut(words, ", or ")
		if c.Value == "other" {
			continue
		}
		assert.True(t, strings.Contains(folded(c.Label), strings.Split(own, " or ")[0]), "%s hair, and %s elastic first", c.Label, own)
		if other, known := hair[darker]; two && known {
			compared++
			assert.Less(t, light(t, other.Swatch), light(t, c.Swatch), "%s elastic shows in %s hair", darker, c.Label)
		}
	}
	assert.GreaterOrEqual(t, compared, 4)
	assert.Empty(t, inputOf(Answers{}, MeasureCard{}, Studio{}).Elastic.Colour, "nothing is proposed for hair of no known colour")
}
