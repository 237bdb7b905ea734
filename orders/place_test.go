package orders

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// asked stands in for the list where the order of asking is what matters.
var asked = Intake{
	{Key: "agree", Page: "agree", Kind: Consent, Needed: true},
	{Key: "kind", Page: "kind", Kind: Choice, Needed: true, Options: []Option{{"a", "A"}, {"b", "B"}}},
	{Key: "first", Page: "pair", Kind: Text, Needed: true},
	{Key: "second", Page: "pair", Kind: Text, Needed: true, Only: If{"kind", []string{"a"}}},
	{Key: "tape", Page: "tape", Kind: Readings, Offered: true, Only: If{"first", []string{Given}}},
	{Key: "last", Page: "last", Kind: Text, Needed: true},
	{Key: "note", Page: "note", Kind: Text},
	{Key: "b_note", Page: "b_note", Kind: Text, Only: If{"kind", []string{"b"}}},
}

func TestNextFollowsTheAnswers(t *testing.T) {
	a := Answers{}
	var order []string
	for q, more := asked.Next(a); more; q, more = asked.Next(a) {
		order = append(order, q.Key)
		a[q.Key] = Answer{Value: "b"}
	}
	assert.Equal(t, []string{"agree", "kind", "first", "tape", "last"}, order, "second is for those who said a")
	a["kind"] = Answer{Value: "a"}
	q, more := asked.Next(a)
	assert.True(t, more && q.Key == "second", "a changed mind opens the question it hid")
	a["second"] = Answer{}
	q, _ = asked.Next(a)
	assert.Equal(t, "second", q.Key, "a needed question can't be skipped")
}

// What is offered is asked in its turn, once, and keeps nobody from sending.
func TestWhatIsOfferedIsAskedOnTheWayAndNeverMissing(t *testing.T) {
	a := Answers{"agree": {Value: Yes}, "kind": {Value: "b"}, "first": {Value: "b"}}
	q, more := asked.Next(a)
	assert.True(t, more && q.Key == "tape" && q.OnTheWay(), "it stands between the needed ones, and not %s", q.Key)
	q, missing := asked.Missing(a)
	assert.True(t, missing && q.Key == "last", "only what is needed is missing, and not %s", q.Key)
	a["tape"] = Answer{}
	q, _ = asked.Next(a)
	assert.Equal(t, "last", q.Key, "left out, it is not asked again")
	delete(a, "tape")
	a["last"] = Answer{Value: "b"}
	_, missing = asked.Missing(a)
	assert.False(t, missing, "it may be sent without")
	assert.Equal(t, []string{"agree", "kind", "pair", "tape", "last"}, asked.Pages(a))
	assert.NotContains(t, asked.Extras(a), "tape")
}

func TestPagesAndWhatStandsOnThem(t *testing.T) {
	a := Answers{"kind": {Value: "a"}}
	assert.Equal(t, []string{"agree", "kind", "pair", "last"}, asked.Pages(a), "the tape waits for its condition")
	assert.Equal(t, []string{"note"}, asked.Extras(a))
	assert.Len(t, asked.On("pair", a), 2)
	assert.Len(t, asked.On("pair", Answers{}), 1, "second waits for its condition")
	assert.Empty(t, asked.On("nowhere", a))
}

func TestBeforeGoesBackOneAskedQuestion(t *testing.T) {
	b := Answers{"kind": {Value: "b"}}
	for key, want := range map[string]string{"kind": "agree", "first": "kind", "last": "first", "note": "last", "b_note": "note"} {
		q, ok := asked.Before(key, b)
		assert.True(t, ok && q.Key == want, "before %s came %q, wanted %q", key, q.Key, want)
	}
	_, ok := asked.Before("agree", b)
	assert.False(t, ok, "nothing comes before the first")
	_, ok = asked.Before("nothing", b)
	assert.False(t, ok, "a question that is not on the list")
}

func TestGoingBackThroughTheListMeetsEveryQuestion(t *testing.T) {
	for _, way := range []string{byTapes, byPoints} { // a face is told in one way or the other
		a := Answers{"wearer": {Value: "me"}, "hair_day": {Value: "up"}, "girth": {Value: "570.0"}, "hair_worn": {Value: "knot"}, "health_consent": {Value: Yes}, "faith_consent": {Value: Yes}, "photographs": {Value: "p"}, "face": {Value: way}}
		met := []string{Questions[len(Questions)-1].Key}
		for q, ok := Questions.Before(met[0], a); ok; q, ok = Questions.Before(q.Key, a) {
			met = append(met, q.Key)
		}
		slices.Reverse(met)
		var all []string
		for _, q := range Questions {
			if q.Only.Key != "face" || slices.Contains(q.Only.Is, way) {
				all = append(all, q.Key)
			}
		}
		require.Equal(t, all, met)
	}
}
