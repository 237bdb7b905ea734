package bot

import (
	"fmt"
	"slices"

	"perchbook/orders"
)

// typed takes words as an answer to the question being asked.
func (t *talk) typed() bool {
	q, ok := t.current()
	if !ok || t.heard.Text == "" {
		return false
	}
	t.keepHeard(q, t.heard.Text)
	switch {
	case q.Why != "" && slices.Contains([]string{"why", "why do you ask"}, bare(t.heard.Text)):
		t.askAgain(q.Why)
	case q.Kind == orders.Photograph:
		t.askAgain(others[Picture])
	case gathered(q):
		t.measure(q, t.heard.Text)
	default:
		t.settle(q, nil, orders.Said{Text: []string{t.heard.Text}})
	}
	return true
}

// gathered says whether an answer may need more than one message: readings, and figures that may
// be questioned.
func gathered(q orders.Question) bool {
	return slices.Contains([]orders.Kind{orders.Readings, orders.Length, orders.Number, orders.Date}, q.Kind)
}

// measure takes one more reading, or a figure in place of one that was questioned.
func (t *talk) measure(q orders.Question, text string) {
	ps := []part{{q.Key, fine, text}}
	if q.Kind == orders.Readings {
		a, problem := q.Understand(said(ps), t.Answers, t.Today)
		if problem == nil {
			t.accept(q, a)
			return
		}
		if problem.NeedsMore || problem.Confirmable { // it can be read by itself
			ps = append(t.parts(q), ps...)
		}
	}
	t.settle(q, ps, said(ps))
}

// settle keeps an answer, or says what is wrong or lacking. ps are the parts it is made of, which
// wait when more is wanted or the last one is questioned; after a mistake those from before it stay.
func (t *talk) settle(q orders.Question, ps []part, s orders.Said) {
	a, problem := q.Understand(s, t.Answers, t.Today)
	if problem == nil {
		t.accept(q, a)
		return
	}
	t.Asking = q.Key
	switch {
	case problem.Confirmable && len(ps) > 0:
		ps[len(ps)-1].mark = doubtful
		t.setParts(q, ps...)
		t.say(problem.Text, slices.Concat([]orders.Option{verbButton("keep", q)}, outButtons(q, ps), t.buttons(q))...)
	case problem.NeedsMore:
		t.setParts(q, ps...)
		t.say(t.progress(q, ps)+problem.Text, t.buttons(q)...)
	default:
		t.askAgain(problem.Text)
	}
}

// progress counts the tapes among the readings; a hat size is none.
func (t *talk) progress(q orders.Question, ps []part) string {
	tape := q
	tape.Kind, tape.HatSizes = orders.Length, false
	n := 0
	for _, p := range ps {
		if _, problem := tape.Parse(orders.Said{Text: []string{p.text}}, t.Today); problem == nil || problem.Confirmable {
			n++
		}
	}
	if n == 0 {
		return ""
	}
	return fmt.Sprintf("Reading %d of %d. ", n, max(3, n+1))
}

// keepDoubtful takes the figure that she was asked about. Pressed twice it finds nothing to keep.
func (t *talk) keepDoubtful(q orders.Question) {
	ps := t.parts(q)
	if len(ps) == 0 || ps[len(ps)-1].mark != doubtful {
		t.askAgain("That one is settled already.")
		return
	}
	s := said(ps)
	s.Sure, s.Enough = true, true // it was questioned only once there was enough
	t.settle(q, ps, s)
}

// outButtons offer to leave single readings out. They carry what was written, not its place, so that
// pressing twice leaves one out.
func outButtons(q orders.Question, ps []part) []orders.Option {
	var bs []orders.Option
	for _, p := range ps {
		b := orders.Option{Value: "out:" + q.Key + "=" + p.text, Label: "Leave out " + p.text}
		if len(ps) > 1 && len(b.Value) <= mostData && !slices.Contains(bs, b) {
			bs = append(bs, b)
		}
	}
	return bs
}

// leaveOut forgets one reading and sees whether the others are enough.
func (t *talk) leaveOut(q orders.Question, text string) {
	ps := t.parts(q)
	i := slices.IndexFunc(ps, func(p part) bool { return p.text == text })
	if i < 0 || len(ps) < 2 {
		t.askAgain("That reading is not there any more.")
		return
	}
	ps = slices.Delete(ps, i, i+1)
	t.setParts(q, ps...)
	t.settle(q, ps, said(ps))
}

// enough ends the readings early.
func (t *talk) enough(q orders.Question) {
	ps := t.parts(q)
	if len(ps) == 0 {
		t.askAgain("There is no reading yet to go by.")
		return
	}
	s := said(ps)
	s.Enough = true
	t.settle(q, ps, s)
}

// again forgets the readings so far.
func (t *talk) again(q orders.Question) {
	t.setParts(q)
	t.Asking = q.Key
	t.askAgain("Then from the first reading once more.")
}

// accept keeps an answer, says back what was understood and asks on. An answer to another question
// than the one being asked corrects that answer and leaves the place.
func (t *talk) accept(q orders.Question, a orders.Answer) {
	here, asked := t.current()
	first := !t.answered(q)
	t.change.Save = append(t.change.Save, Kept{q.Key, a})
	t.Answers[q.Key] = a
	t.setParts(q)
	if asked && here.Key == q.Key {
		t.Asking = ""
		if next, more := t.nextExtra(); first && more && !q.OnTheWay() {
			t.Asking = next.Key // one of the extras leads to the next
		}
	}
	t.ask(paragraphs(echo(q, a), t.agreement(q)))
}

// agreement says whether her tapes go together, after one was given; the summary shows the way to change
// one.
func (t *talk) agreement(q orders.Question) string {
	if q.Kind != orders.Readings || t.Answers[q.Key].Value == "" {
		return ""
	}
	return t.Answers.Agreement().Text.String()
}

func echo(q orders.Question, a orders.Answer) string {
	switch {
	case a.Value == "" && (q.Private() || q.Kind == orders.Consent):
		return q.Short + ": no. Nothing of it is kept."
	case a.Value == "":
		return q.Short + ": left out."
	case q.Private():
		return q.Short + ": noted."
	default:
		return q.Short + ": " + q.Show(a) + "."
	}
}

// keepHeard says what is kept of what came in. A private answer must be erasable by itself, so no
// letter repeats it.
func (t *talk) keepHeard(q orders.Question, text string) {
	if q.Private() {
		text = "(kept with the answers)"
	}
	t.change.Heard = text
}
