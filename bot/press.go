package bot

import (
	"strings"

	"perchbook/orders"
)

// mostData is how many bytes a button may carry.
const mostData = 64

// pressed splits the data of a button that carries a value.
func pressed(data string) (key, value string, ok bool) {
	i := strings.IndexAny(data, "=:")
	if i <= 0 || data[i] != '=' {
		return "", "", false
	}
	return data[:i], data[i+1:], true
}

// press deals with a button, be it an old one: an old value corrects that answer.
func (t *talk) press() bool {
	if t.heard.Press == "" {
		return false
	}
	if t.Asking == paused {
		t.Asking = ""
	}
	if key, value, ok := pressed(t.heard.Press); ok {
		t.pressValue(key, value)
		return true
	}
	verb, what, _ := strings.Cut(t.heard.Press, ":")
	if verb == "do" {
		t.pressCommand(what)
		return true
	}
	t.pressVerb(verb, what)
	return true
}

func (t *talk) pressCommand(name string) {
	c, ok := find(name)
	if !ok {
		t.lost()
		return
	}
	t.change.Heard = c.label
	c.do(t)
}

// question finds the one a button belongs to, or says that it no longer matters.
func (t *talk) question(key string) (orders.Question, bool) {
	q, ok := orders.Questions.Find(key)
	if !ok || !q.Applies(t.Answers) {
		t.ask("That question no longer matters.")
		return q, false
	}
	return q, true
}

func (t *talk) pressValue(key, value string) {
	q, ok := t.question(key)
	if !ok {
		return
	}
	t.keepHeard(q, q.Show(orders.Answer{Value: value}))
	switch {
	case q.Kind == orders.Choices:
		t.toggle(q, value)
	case gathered(q):
		t.measure(q, value)
	default:
		t.settle(q, nil, orders.Said{Text: []string{value}})
	}
}

func (t *talk) pressVerb(verb, what string) {
	key, text, _ := strings.Cut(what, "=")
	q, ok := t.question(key)
	if !ok {
		return
	}
	t.change.Heard = verbs[verb]
	switch verb {
	case "ask":
		t.change.Heard += ": " + q.Short
		t.Asking = q.Key
		t.ask("")
	case "skip", "no":
		t.skipping(q)
	case "erase":
		t.accept(q, q.Skip())
	case "keep":
		t.keepDoubtful(q)
	case "enough":
		t.enough(q)
	case "out":
		t.change.Heard += " " + text
		t.leaveOut(q, text)
	case "again":
		t.again(q)
	case "done":
		t.done(q)
	case "leave":
		t.leave(q)
	case "why":
		t.askAgain(q.Why)
	default:
		t.lost()
	}
}

// leave goes on from a question whose kept answer stays. An old button of it moves nothing.
func (t *talk) leave(q orders.Question) {
	if here, ok := t.current(); ok && here.Key == q.Key {
		t.setParts(q)
		t.Asking = ""
	}
	t.ask("")
}
