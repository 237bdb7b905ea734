package server

import (
	"go/ast"
	"go/parser"
	"go/token"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/orders"
	"perchbook/templates"
)

// kindsAsked reads the kinds of question from the source, so that a new one cannot be forgotten here.
func kindsAsked(t *testing.T) []orders.Kind {
	t.Helper()
	file, err := parser.ParseFile(token.NewFileSet(), "../orders/intake.go", nil, 0)
	require.NoError(t, err)
	var all []orders.Kind
	ast.Inspect(file, func(n ast.Node) bool {
		spec, ok := n.(*ast.ValueSpec)
		if !ok {
			return true
		}
		if named, ok := spec.Type.(*ast.Ident); !ok || named.Name != "Kind" {
			return true
		}
		for _, v := range spec.Values {
			value, err := strconv.Unquote(v.(*ast.BasicLit).Value)
			require.NoError(t, err)
			all = append(all, orders.Kind(value))
		}
		return true
	})
	require.Greater(t, len(all), 5, "the kinds were found")
	return all
}

// page renders one question as the only one on its page.
func page(t *testing.T, q orders.Question, typed []string, problem *orders.Problem) (string, error) {
	t.Helper()
	pages, err := templates.Load()
	require.NoError(t, err)
	a := door{}.askedOf(q, typed, problem)
	a.Lone = true
	v := askView{Base: "/x", Action: "/x", Back: "/x", Heading: q.Label, Asked: []asked{a}, Lone: true}
	v.weigh(door{}, a)
	body, err := pages.Render("question", templates.English, struct {
		Frame frame
		View  any
	}{frame{Title: map[bool]string{true: "Problem: x", false: "x"}[problem != nil], Lang: "en"}, v})
	return string(body), err
}

func TestEveryKindHasAPart(t *testing.T) {
	for _, kind := range kindsAsked(t) {
		q := orders.Question{Key: "k", Label: "What?", Hint: "Like so.", Why: "Because.", Kind: kind, Options: []orders.Option{{Value: "a", Label: "A"}, {Value: "b", Label: "B"}}}
		for what, problem := range map[string]*orders.Problem{
			"sound": nil, "wrong": {Text: "No."}, "doubted": {Text: "Sure?", Confirmable: true}, "wanting": {Text: "Once more.", NeedsMore: true},
		} {
			body, err := page(t, q, []string{"a"}, problem)
			require.NoError(t, err, "a question of kind %s has a part, %s", kind, what)
			checkPage(t, body)
			assert.Contains(t, body, `name="k"`, "kind %s can be answered", kind)
			assert.Contains(t, body, "Because.", "kind %s says why it is asked", kind)
			if problem != nil {
				assert.Contains(t, body, `id="f-k-problem"`, "kind %s, %s, has the problem beside the field", kind, what)
			}
		}
	}
	_, err := page(t, orders.Question{Kind: "unheard of"}, nil, nil)
	assert.Error(t, err, "a kind without a part is noticed")
}

func TestEveryQuestionShowsAndItsDrawingIsThere(t *testing.T) {
	for _, q := range orders.Questions {
		if q.Picture != "" && q.Kind != orders.Readings {
			require.True(t, templates.Drawn(q.Picture), "the drawing %s of %s is there", q.Picture, q.Key)
		}
		body, err := page(t, q, nil, nil)
		require.NoError(t, err, q.Key)
		checkPage(t, body)
		if q.Kind == orders.Readings {
			checkMethod(t, q, body)
			continue
		}
		assert.Equal(t, q.Picture != "", strings.Contains(body, `<title id="d-`), "%s: a drawing that instructs says in words what it shows", q.Key)
	}
}

func TestFacesHairAndSidesAreDrawn(t *testing.T) {
	for key, least := range map[string]int{"face": 6, "hair_day": 2, "side": 2} {
		q, ok := orders.Questions.Find(key)
		require.True(t, ok)
		drawn := 0
		for _, p := range (door{}).askedOf(q, nil, nil).Picks {
			if p.Drawing != "" {
				drawn++
			}
		}
		assert.Equal(t, least, drawn, "drawings to pick from for %s", key)
	}
}

func TestTheTapeTellsHowFarSheHasCome(t *testing.T) {
	d := door{Base: "/enquiry/x", Draft: orders.Draft{Answers: orders.Answers{"wearer": {Value: "me"}, "hair_day": {Value: "up"}, "girth": {Value: "570.0"}}}}
	steps := d.steps()
	assert.LessOrEqual(t, len(steps)+2, 12, "agreement, questions and summary are at most twelve screens")
	before := 0
	for i, page := range append(steps, "check") {
		m := d.measure(page)
		assert.Equal(t, i+1, m.Step)
		assert.Equal(t, len(steps)+1, m.Of)
		assert.Greater(t, m.Done, before, "the tape grows at %s", page)
		before = m.Done
	}
	assert.LessOrEqual(t, before, tapeWidth)
	assert.Zero(t, d.measure("face").Of, "what may be left out stands on no tape")
	assert.Equal(t, before, door{Base: d.Base}.measure("check").Done, "before anything is answered the tape is as long")
	assert.Equal(t, len(steps)+1, door{Base: d.Base}.measure("you").Of, "and its steps as many")
}

// Each tape is shown step by step, the wrong way beside the right one, every drawing with words of its own;
// and what to do alone, with a helper, with string and without a ruler.
func checkMethod(t *testing.T, q orders.Question, body string) {
	t.Helper()
	require.NotEmpty(t, q.Picture, "%s: the chat tells where it is drawn", q.Key)
	figures := strings.Split(body, "<figure")[1:]
	require.GreaterOrEqual(t, len(figures), 4, "%s: drawings", q.Key)
	wrong := 0
	for _, f := range figures {
		assert.Contains(t, f, `aria-hidden="true"`, "%s: the words are not read twice", q.Key)
		_, words, _ := strings.Cut(f, "<figcaption>")
		words, _, _ = strings.Cut(words, "</figcaption>")
		assert.Greater(t, len(words), 20, "%s: a drawing says in words what it shows", q.Key)
		if strings.HasPrefix(f, ` class="not-so"`) {
			wrong++
			assert.True(t, strings.HasPrefix(words, "Not so: "), "%s: the wrong way is told by its words too: %s", q.Key, words)
		}
	}
	assert.Positive(t, wrong, "%s: what goes wrong is drawn", q.Key)
	for _, words := range []string{"Alone: ", "With a helper: ", "Lay a string", "29.7 cm", "27.9 cm (11 in)"} {
		assert.Contains(t, body, words, q.Key)
	}
}
