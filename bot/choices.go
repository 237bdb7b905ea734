package bot

import (
	"slices"
	"strings"

	"perchbook/orders"
)

// toggle takes one of several choices, or takes it away again.
func (t *talk) toggle(q orders.Question, value string) {
	now := t.selected(q)
	if i := slices.Index(now, value); i >= 0 {
		now = slices.Delete(now, i, i+1)
	} else {
		now = append(now, value)
	}
	ps := []part{{q.Key, fine, ""}} // stands for "none of them", unlike no part at all
	var labels []string
	for _, o := range q.Options {
		if slices.Contains(now, o.Value) {
			ps = append(ps, part{q.Key, fine, o.Value})
			labels = append(labels, o.Label)
		}
	}
	t.setParts(q, ps...)
	t.Asking = q.Key
	so := "So far: none."
	if len(labels) > 0 {
		so = "So far: " + strings.Join(labels, ", ") + "."
	}
	t.say(so+" Press more, or Done.", t.buttons(q)...)
}

// selected are the choices made so far, or those of the kept answer.
func (t *talk) selected(q orders.Question) []string {
	if ps := t.parts(q); len(ps) > 0 {
		return slices.DeleteFunc(said(ps).Text, func(v string) bool { return v == "" })
	}
	return strings.Fields(t.Answers[q.Key].Value)
}

func (t *talk) done(q orders.Question) {
	chosen := t.selected(q)
	t.keepHeard(q, q.Show(orders.Answer{Value: strings.Join(chosen, " ")}))
	t.settle(q, nil, orders.Said{Text: chosen})
}
