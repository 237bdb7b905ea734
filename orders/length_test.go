package orders

import (
	"math"
	"strconv"
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestLengthsAreUnderstoodAsTyped(t *testing.T) {
	lines := 0
	for _, g := range spellings {
		q := question(t, g.question)
		for typed, want := range g.understood {
			mm, p := q.lengthIn(clean(typed))
			if assert.Nil(t, p, "%s: %q was not understood: %v", g.group, typed, said(p)) {
				assert.InDelta(t, want, mm, 0.001, "%s: %q", g.group, typed)
			}
		}
		lines += len(g.understood) + len(g.asked)
	}
	assert.GreaterOrEqual(t, lines, 120, "real-life spellings in the table")
}

// said is a problem's text, for messages of tests.
func said(p *Problem) string {
	if p == nil {
		return ""
	}
	return p.Text
}

func TestWhatIsNoLengthIsAskedAbout(t *testing.T) {
	for _, g := range spellings {
		q := question(t, g.question)
		for typed, want := range g.asked {
			mm, p := q.lengthIn(clean(typed))
			if assert.NotNil(t, p, "%s: %q was taken as %.1f mm", g.group, typed, mm) {
				assert.Contains(t, p.Text, want, "%s: %q", g.group, typed)
				assert.Equal(t, g.question, p.Key, "%q", typed)
				assert.False(t, p.Confirmable, "%q can't be confirmed", typed)
			}
		}
	}
}

func TestAMeaningThatIsNotTheOnlyOneIsAskedAbout(t *testing.T) {
	wide := Question{Key: "wide", Kind: Length, Min: 10, Max: 1000}
	_, p := wide.lengthIn("20")
	if assert.NotNil(t, p, "20 mm, 20 cm and 20 in are all possible") {
		assert.Contains(t, p.Text, "2.0 cm (3/4 in) or 20.0 cm (7 7/8 in)")
	}
	mm, p := wide.lengthIn("20 mm")
	assert.Nil(t, p, "with its unit it is clear: %s", said(p))
	assert.Equal(t, 20.0, mm)
}

func TestEveryLengthShownCanBeTypedAgain(t *testing.T) {
	girth := question(t, "girth")
	rapid.Check(t, func(t *rapid.T) {
		tenths := rapid.IntRange(4500, 7000).Draw(t, "tenths of a mm")
		want := float64(tenths) / 10
		for _, typed := range []string{stored(want), stored(want) + " mm", strconv.FormatFloat(want/10, 'f', 2, 64) + "cm", strings.Replace(stored(want), ".", ",", 1)} {
			mm, p := girth.lengthIn(typed)
			assert.Nil(t, p, "%q: %s", typed, said(p))
			assert.InDelta(t, want, mm, 1e-9, "%q", typed)
		}
		mm, p := girth.lengthIn(BothUnits(want).String())
		assert.Nil(t, p, "%q: %s", BothUnits(want), said(p))
		assert.InDelta(t, want, mm, 0.5001, "%q is rounded to a millimetre", BothUnits(want))
	})
}

func TestEveryEighthOfAnInchCanBeTypedAgain(t *testing.T) {
	height := question(t, "height")
	girth := question(t, "girth")
	rapid.Check(t, func(t *rapid.T) {
		for q, eighths := range map[*Question]int{
			&girth: rapid.IntRange(142, 220).Draw(t, "eighths round a head"), &height: rapid.IntRange(378, 692).Draw(t, "eighths of a height"),
		} {
			want := float64(eighths) / 8 * 25.4
			mm, p := q.lengthIn(imperial(want).String())
			assert.Nil(t, p, "%q: %s", imperial(want), said(p))
			assert.InDelta(t, want, mm, 1e-9, "%q", imperial(want))
		}
	})
}

// kindsOfLength are questions as far apart as a reel's width and a bolt of cloth.
func kindsOfLength(t testing.TB) []Question {
	return []Question{question(t, "girth"), question(t, "nape"), question(t, "height"), question(t, "ear_to_ear"),
		{Key: "width", Kind: Length, Min: LeastReelWidth, Max: MostReelWidth}, {Key: "base", Kind: Length, Min: 30, Max: 250},
		{Key: "knot", Kind: Length, Max: 100}, {Key: "cloth", Kind: Length, Min: LeastClothLength, Max: MostClothLength}}
}

// What is echoed can be typed: it means the same to the last figure shown, and is echoed as it stands.
func TestTheEchoIsUnderstoodAsItself(t *testing.T) {
	questions := kindsOfLength(t)
	rapid.Check(t, func(t *rapid.T) {
		q := rapid.SampledFrom(questions).Draw(t, "question")
		mm := math.Round(10*rapid.Float64Range(max(q.Min, 0.5), q.Max).Draw(t, "mm")) / 10
		for _, typed := range []string{stored(mm) + " mm", strings.Replace(stored(mm/10), ".", ",", 1) + "cm", imperial(mm).String(), BothUnits(mm).String()} {
			meant, p := q.lengthIn(typed)
			if p != nil && typed == imperial(mm).String() {
				continue // an eighth of an inch may lie past a bound
			}
			require.Nil(t, p, "%s: %q: %s", q.Key, typed, said(p))
			echo := q.Echo(typed).String()
			again, p := q.lengthIn(echo)
			require.Nil(t, p, "%s: %q, echo of %q: %s", q.Key, echo, typed, said(p))
			assert.InDelta(t, meant, again, 0.5001, "%s: %q", q.Key, echo)
			assert.Equal(t, echo, q.Echo(echo).String(), "%s: %q", q.Key, typed)
		}
	})
}

// A pair in two units is measured by the bounds only as far as it is meant.
func TestAPairMayMissABoundInItsOtherUnit(t *testing.T) {
	nape := question(t, "nape")
	mm, p := nape.lengthIn("15.0 cm (5 7/8 in)") // 149.2 mm
	require.Nil(t, p, "the least that can be: %s", said(p))
	assert.InDelta(t, 150, mm, 1e-9)
	_, p = nape.lengthIn("14.9 cm (5 7/8 in)")
	if assert.NotNil(t, p, "less than can be") {
		assert.Contains(t, p.Text, "can't be right")
	}
}

func TestWhateverIsAcceptedIsPossible(t *testing.T) {
	bits := []string{"5", "7", "22", "570", "1", "0", "1/2", "½", "⅛", ".", ",", "-", "/", " ", "cm", "mm", "m", "in", `"`, "'", "ft", "and", "half", "or", "(", ")", "e", "NaN", "٥", "７", "us"}
	lengths := []Question{question(t, "girth"), question(t, "nape"), question(t, "height"), question(t, "ear_to_ear")}
	accepted := 0
	rapid.Check(t, func(t *rapid.T) {
		typed := strings.Join(rapid.SliceOfN(rapid.SampledFrom(bits), 1, 8).Draw(t, "typed"), "")
		for _, q := range lengths {
			mm, p := q.lengthIn(typed)
			if p == nil {
				accepted++
				assert.True(t, mm >= q.Min && mm <= q.Max, "%s took %q as %v mm", q.Key, typed, mm)
			} else {
				assert.NotEmpty(t, p.Text, "%q was refused without a word", typed)
			}
		}
	})
	assert.NotZero(t, accepted, "nothing was accepted, so nothing was checked")
}

// Every writing's digits are read, and in their order.
func TestDigitsOfEveryWriting(t *testing.T) {
	writings := 0
	for r := rune(0); r <= unicode.MaxRune; r++ {
		digit, is := digitOf(r)
		if assert.Equal(t, unicode.Is(unicode.Nd, r), is, "%U", r); !is {
			continue
		}
		if digit == 0 {
			writings++
		} else {
			before, _ := digitOf(r - 1)
			require.Equal(t, digit, before+1, "%U follows the digit before it", r)
		}
	}
	for r, want := range map[rune]rune{'7': 7, '٧': 7, '۷': 7, '७': 7, '７': 7, '๗': 7, '𝟳': 7, '𝟶': 0} {
		digit, _ := digitOf(r)
		assert.Equal(t, want, digit, "%c", r)
	}
	assert.Greater(t, writings, 60)
}
