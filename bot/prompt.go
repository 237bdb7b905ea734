package bot

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"perchbook/orders"
)

// prompt asks a question, with the kept answer when there is one.
func (t *talk) prompt(first string, q orders.Question) {
	had := ""
	if kept := t.Answers[q.Key]; kept.Value != "" && !q.Private() {
		had = "You said: " + q.Show(kept)
	}
	if n := len(t.parts(q)); n > 0 && q.Kind == orders.Readings {
		had = fmt.Sprintf("Readings of it that I have already: %d. Give the next one.", n)
	}
	t.say(paragraphs(first, t.step(q)+q.Label, hint(q), example(q), drawn(q), had), t.buttons(q)...)
}

// hint is a question's own; how a tape is laid stands one step a line.
func hint(q orders.Question) string {
	if q.Kind == orders.Readings {
		return strings.ReplaceAll(q.Hint, ". ", ".\n")
	}
	return q.Hint
}

// drawn leads to the drawing of a question, and to the page where points are marked.
func drawn(q orders.Question) string {
	if q.Kind == orders.Points {
		return "Mark them on your own page, where the picture stays on your device: {link}/ask/" + q.Page
	}
	if q.Picture == "" {
		return ""
	}
	return "It is drawn here: {link}/ask/" + q.Page
}

// askAgain asks the same as before, in short, after a first paragraph that says why.
func (t *talk) askAgain(first string) {
	q, ok := t.current()
	if !ok {
		t.ask(first)
		return
	}
	t.say(paragraphs(first, q.Label), t.buttons(q)...)
}

func (t *talk) answered(q orders.Question) bool {
	_, is := t.Answers[q.Key]
	return is
}

// step is "4 of 9. " for a needed question that has no answer yet. The notice is not counted, and
// what hangs on an answer still to come is.
func (t *talk) step(q orders.Question) string {
	if t.answered(q) || !q.Needed {
		return ""
	}
	n, all := 1, 0
	for _, o := range orders.Questions {
		if !o.Needed || o.Kind == orders.Consent || !o.MayApply(t.Answers) {
			continue
		}
		all++
		if t.answered(o) {
			n++
		}
	}
	return fmt.Sprintf("%d of %d. ", n, all)
}

// example shows how a reading may be written: the middle of what can be, so that it hints at nothing.
// The hints of other kinds hold theirs.
func example(q orders.Question) string {
	if q.Kind != orders.Readings {
		return ""
	}
	middle := (q.Min + q.Max) / 2
	return fmt.Sprintf("Write one reading at a time, for example %.1f cm or %.0f 1/2 in.", middle/10, math.Floor(middle/25.4))
}

// buttons are those under a question: its values first, then what else can be done with it.
func (t *talk) buttons(q orders.Question) []orders.Option {
	bs := t.values(q)
	if q.Kind == orders.Readings && len(t.parts(q)) > 0 {
		bs = append(bs, verbButton("enough", q), verbButton("again", q))
	}
	if q.Private() && t.Answers[q.Key].Value != "" {
		bs = append(bs, verbButton("erase", q))
	}
	if t.answered(q) {
		bs = append(bs, verbButton("leave", q))
	} else if !q.Needed {
		bs = append(bs, verbButton("skip", q))
	}
	if q.Why != "" {
		bs = append(bs, verbButton("why", q))
	}
	if !q.OnTheWay() {
		return append(bs, doButton("cancel"))
	}
	if _, ok := t.beforeOf(q); ok {
		bs = append(bs, doButton("back"))
	}
	return bs
}

// values are the buttons that answer a question by themselves.
func (t *talk) values(q orders.Question) []orders.Option {
	switch q.Kind {
	case orders.Choice:
		return valueButtons(q, q.Options, nil)
	case orders.Choices:
		return append(valueButtons(q, q.Options, t.selected(q)), verbButton("done", q))
	default:
		return valueButtons(q, special[q.Kind], nil)
	}
}

// special are the values that kinds without options still offer as buttons. A kind of nil is
// answered in words only; photographs and points are for the page.
var special = map[orders.Kind][]orders.Option{
	orders.Readings:   {{Value: orders.Later, Label: "Measure me at the consultation"}},
	orders.Date:       {{Value: orders.NotFixed, Label: "Not fixed yet"}},
	orders.Consent:    {{Value: orders.Yes, Label: "Yes, I agree"}, {Value: "no", Label: "No, thank you"}},
	orders.Length:     nil,
	orders.Number:     nil,
	orders.Text:       nil,
	orders.Reach:      nil,
	orders.Photograph: nil,
	orders.Points:     nil,
}

func valueButtons(q orders.Question, options []orders.Option, selected []string) []orders.Option {
	var bs []orders.Option
	for _, o := range options {
		label := o.Label
		if slices.Contains(selected, o.Value) {
			label = "✓ " + label
		}
		bs = append(bs, orders.Option{Value: q.Key + "=" + o.Value, Label: label})
	}
	return bs
}
