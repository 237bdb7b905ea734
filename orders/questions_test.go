package orders

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// question is one of the list, which the test needs to be there.
func question(t testing.TB, key string) Question {
	t.Helper()
	q, ok := Questions.Find(key)
	require.True(t, ok, "there is no question %q", key)
	return q
}

var keyShape = regexp.MustCompile(`^[a-z]+(_[a-z]+)*$`)

func TestEveryQuestionIsWhole(t *testing.T) {
	seen := map[string]bool{}
	for _, q := range Questions {
		assert.Regexp(t, keyShape, q.Key, "key of a form field, a button and a stored answer")
		assert.False(t, seen[q.Key], "key %s is used twice", q.Key)
		seen[q.Key] = true
		assert.Regexp(t, keyShape, q.Page, "page of %s", q.Key)
		assert.True(t, strings.HasSuffix(q.Label, "?"), "the label of %s does not ask anything", q.Key)
		for name, words := range map[string]string{"short name": q.Short, "hint": q.Hint, "reason": q.Why} {
			assert.NotEmpty(t, strings.TrimSpace(words), "%s has no %s", q.Key, name)
		}
		assert.Equal(t, q.Needed, q.Part == "", "%s: what may be added stands under a heading, what is needed does not", q.Key)
		assert.Contains(t, q.parsers(), q.Kind, "nothing reads the answer to %s", q.Key)
		checkBounds(t, q)
		checkOptions(t, q)
	}
}

func checkBounds(t *testing.T, q Question) {
	switch q.Kind {
	case Readings, Length:
		assert.True(t, q.Min > 0 && q.Min < q.Max && q.Max < 3000, "%s: bounds %v to %v mm", q.Key, q.Min, q.Max)
		if tape, is := tapeNumber(q.Key); is {
			usual := tape.Usual(10)
			assert.True(t, q.Min < usual.Least.Millimetres() && usual.Most.Millimetres() < q.Max, "%s: what is usual lies outside what can be", q.Key)
		}
	case Number:
		assert.True(t, q.Min < q.Max, "%s: bounds %v to %v", q.Key, q.Min, q.Max)
	case Text:
		assert.True(t, q.Max > 0 && q.Max <= 1000, "%s: room for %v letters", q.Key, q.Max)
	default:
		assert.Zero(t, q.Min+q.Max, "%s has bounds that nothing looks at", q.Key)
	}
}

// mostButton is what a messenger lets a button carry, in bytes (Telegram's callback_data).
const mostButton = 64

func checkOptions(t *testing.T, q Question) {
	chosen := q.Kind == Choice || q.Kind == Choices
	assert.Equal(t, chosen, len(q.Options) >= 2, "%s: %d options for kind %s", q.Key, len(q.Options), q.Kind)
	said := map[string]bool{}
	for _, o := range q.Options {
		assert.Regexp(t, keyShape, o.Value, "option of %s", q.Key)
		assert.LessOrEqual(t, len(q.Key+"="+o.Value), mostButton, "the button %s=%s is too long", q.Key, o.Value)
		for _, words := range slices.Compact(slices.Sorted(slices.Values([]string{folded(o.Value), folded(o.Label)}))) {
			assert.NotEmpty(t, words, "an option of %s has no words", q.Key)
			assert.False(t, said[words], "%s: %q could mean two options", q.Key, words)
			said[words] = true
		}
	}
}

func TestConditionsPointBack(t *testing.T) {
	pages := map[string]int{}
	for i, q := range Questions {
		if _, seen := pages[q.Page]; !seen {
			pages[q.Page] = i
		}
	}
	for _, q := range Questions {
		if q.Only.Key == "" {
			assert.Empty(t, q.Only.Is, "%s: values of no question", q.Key)
			assert.Empty(t, q.Also, "%s: more conditions beside none", q.Key)
			continue
		}
		for _, c := range append([]If{q.Only}, q.Also...) {
			on := question(t, c.Key)
			assert.Less(t, pages[on.Page], pages[q.Page], "%s depends on %s, which is not asked on an earlier page", q.Key, on.Key)
			assert.True(t, on.Only.Key == "" || on.Only.Key == q.Only.Key, "%s depends on %s, which may not be asked itself", q.Key, on.Key)
			assert.NotEmpty(t, c.Is, "%s is never asked", q.Key)
			for _, value := range c.Is {
				assert.True(t, canBe(on, value, len(c.Is)), "%s depends on %s being %q, which it never is", q.Key, on.Key, value)
			}
			assert.False(t, q.Needed && !on.Needed, "%s is needed and depends on %s, which is not", q.Key, on.Key)
		}
	}
}

// canBe says whether an answer can have a value that a condition names, one of so many.
func canBe(on Question, value string, among int) bool {
	isOption := slices.ContainsFunc(on.Options, func(o Option) bool { return o.Value == value })
	return isOption || on.Kind == Consent && value == Yes || value == Given && among == 1 || value == Taken && on.Kind == Readings
}

// The hair is asked about only of a head that was taped and whose hair on the day is known.
func TestHairWhenMeasuredIsAskedWhereItWasMeasured(t *testing.T) {
	q := question(t, "hair_measured")
	a := Answers{"wearer": {Value: "me"}, "hair_day": {Value: "up"}}
	assert.True(t, !q.Applies(a) && q.MayApply(a), "before the tape it is still to come")
	a["girth"] = Answer{Value: "570.0"}
	assert.True(t, q.Applies(a), "a head that was taped")
	a["girth"] = Answer{Value: Later}
	assert.False(t, q.Applies(a) || q.MayApply(a), "a head that the studio will tape")
	a["girth"], a["hair_day"] = Answer{Value: "570.0"}, Answer{Value: "unsure"}
	assert.False(t, q.Applies(a) || q.MayApply(a), "there is no way to compare with")
}

func TestPagesAreOfOneKind(t *testing.T) {
	needed := map[string]bool{}
	last := ""
	for _, q := range Questions {
		before, seen := needed[q.Page]
		assert.False(t, q.Offered && (q.Needed || seen), "%s may be left out by one press, so it is not needed and has a page of its own", q.Key)
		assert.True(t, !seen || before == q.Needed, "page %s mixes what is needed with what may be added", q.Page)
		assert.True(t, !seen || last == q.Page, "the questions of page %s do not stand together", q.Page)
		needed[q.Page], last = q.Needed, q.Page
	}
}

func TestFewScreensBeforeSending(t *testing.T) {
	for _, wearer := range []string{"me", "adult", "child"} {
		pages := Questions.Ahead(Answers{"wearer": {Value: wearer}})
		assert.LessOrEqual(t, len(pages), 12, "%s has to pass %v", wearer, pages)
		assert.Equal(t, "privacy", pages[0], "something is asked before she agrees that it is kept")
	}
}

func TestClientsHearNoTradeWords(t *testing.T) {
	trade := regexp.MustCompile(`(?i)\b(girth|head ?size|tragion|vertex|occiput|sinamay|bias|shear|tension|percher|calliper)`)
	for _, q := range Questions {
		words := []string{q.Label, q.Short, q.Hint, q.Why}
		for _, o := range q.Options {
			words = append(words, o.Label)
		}
		for _, w := range words {
			assert.NotRegexp(t, trade, w, "a word of the trade in %s", q.Key)
		}
	}
}

func TestNobodyMeasuresAChild(t *testing.T) {
	child := Answers{"wearer": {Value: "child"}}
	for _, key := range []string{"girth", "nape", "ear_to_ear", "brow_to_nape", "hair_measured"} {
		assert.False(t, question(t, key).Applies(child), "%s is asked for a child", key)
		assert.True(t, question(t, key).MayApply(Answers{"wearer": {Value: "me"}}), "%s is not asked for a grown-up", key)
	}
	assert.Equal(t, []string{"privacy", "you", "occasion"}, Questions.Pages(child))
}

func TestSidesAreHerOwn(t *testing.T) {
	for _, q := range Questions {
		for _, o := range q.Options {
			if o.Value == "left" || o.Value == "right" {
				assert.Contains(t, strings.ToLower(o.Label+" "+q.Label+" "+q.Hint), "own", "%s: whose %s?", q.Key, o.Value)
			}
		}
	}
}
