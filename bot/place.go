package bot

import (
	"strings"

	"perchbook/orders"
)

// command deals with plain words that may be written at any place. Nothing at all opens the
// conversation; an unknown word after a stroke was meant as a command and is no answer.
func (t *talk) command() bool {
	if t.heard == (Heard{}) {
		t.start()
		return true
	}
	c, ok := find(t.heard.Text)
	if !ok {
		return strings.HasPrefix(t.heard.Text, "/") && t.lost()
	}
	t.change.Heard = t.heard.Text
	c.do(t)
	return true
}

func (t *talk) start() {
	if t.Asking == paused {
		t.Asking = ""
	}
	if t.Sent {
		t.ask("")
		return
	}
	t.ask("We go on where we were.")
}

func (t *talk) pause() {
	q, asked := t.current()
	switch {
	case asked && !q.OnTheWay():
		t.Asking = ""
		t.ask("I ask no more of these.")
	case t.Sent:
		t.Asking = ""
		t.ask("")
	default:
		t.Asking = paused
		t.ask("")
	}
}

// back shows the question before, with its kept answer.
func (t *talk) back() {
	if t.Asking == paused {
		t.Asking = ""
	}
	before, ok := t.before()
	if !ok {
		t.ask("There is nothing before this one.")
		return
	}
	t.Asking = before.Key
	t.ask("")
}

// before is the question before the one being asked, at the summary the last one.
func (t *talk) before() (orders.Question, bool) {
	q, ok := t.current()
	switch {
	case ok:
		return t.beforeOf(q)
	case t.Sent:
		return q, false
	default:
		return t.lastNeeded()
	}
}

// beforeOf passes over the notice, which is not asked again, and photographs, which are for the page.
func (t *talk) beforeOf(q orders.Question) (orders.Question, bool) {
	q, ok := orders.Questions.Before(q.Key, t.Answers)
	for ok && q.Kind == orders.Photograph {
		q, ok = orders.Questions.Before(q.Key, t.Answers)
	}
	return q, ok && !(q.Kind == orders.Consent && q.Needed)
}

func (t *talk) lastNeeded() (last orders.Question, found bool) {
	for _, q := range orders.Questions {
		if q.OnTheWay() && q.Kind != orders.Consent && q.Applies(t.Answers) {
			last, found = q, true
		}
	}
	return last, found
}

func (t *talk) skip() {
	q, ok := t.current()
	if !ok {
		t.ask("There is nothing to skip.")
		return
	}
	t.skipping(q)
}

func (t *talk) skipping(q orders.Question) {
	switch {
	case !q.Needed:
		t.accept(q, q.Skip())
	case q.Kind == orders.Readings:
		t.Asking = q.Key
		t.askAgain("This one is needed, but you need not take it yourself: press \"Measure me at the consultation\".")
	default:
		t.Asking = q.Key
		t.askAgain("Without this one your enquiry cannot be sent.")
	}
}

// answers shows everything kept so far, at any place; the summary does so by itself.
func (t *talk) answers() {
	if _, asked := t.current(); !asked && !t.Sent && t.Asking != paused {
		t.ask("")
		return
	}
	t.ask(t.list())
}

// list is one line an answer, in the order of the questions.
func (t *talk) list() string {
	var lines []string
	for _, q := range orders.Questions {
		a, done := t.Answers[q.Key]
		if done && a.Value != "" && q.Applies(t.Answers) && q.Kind != orders.Consent {
			lines = append(lines, strings.TrimSuffix(echo(q, a), "."))
		}
	}
	return strings.Join(lines, "\n")
}

// doubts are the tapes that do not go together, as when the other one was changed afterwards.
func (t *talk) doubts() string {
	var all []string
	for _, p := range orders.Unlikely(t.Answers) {
		all = append(all, p.Text)
	}
	return strings.Join(all, "\n")
}

// summary stands before sending.
func (t *talk) summary(first string) {
	t.say(paragraphs(first, "That is all I need. This is what I have:", t.list(), t.doubts(),
		"Nothing has been sent yet."),
		doButton("send"), doButton("change"), doButton("add more"))
}

func (t *talk) pick() {
	var bs []orders.Option
	for _, q := range orders.Questions {
		if t.answered(q) && q.Applies(t.Answers) && !(q.Kind == orders.Consent && q.Needed) && q.Kind != orders.Photograph {
			bs = append(bs, orders.Option{Value: "ask:" + q.Key, Label: q.Short})
		}
	}
	if len(bs) == 0 {
		t.ask("There is no answer to change yet.")
		return
	}
	t.say("Which one? Press it, or write \"change\" and its name.", bs...)
}

// named takes "change the day", or before sending and with nothing being asked "day" alone, for the
// wish to change that answer.
func (t *talk) named() bool {
	name, told := strings.CutPrefix(bare(t.heard.Text), "change ")
	if _, asked := t.current(); !told && (asked || t.Sent) {
		return false
	}
	name = strings.TrimPrefix(strings.TrimPrefix(name, "the "), "my ")
	for _, q := range orders.Questions {
		if bare(q.Short) == name && t.answered(q) && q.Applies(t.Answers) && q.Kind != orders.Consent && q.Kind != orders.Photograph {
			t.change.Heard, t.Asking = t.heard.Text, q.Key
			t.ask("")
			return true
		}
	}
	return false
}

func (t *talk) send() {
	if t.Sent {
		t.ask("Your enquiry has been sent already.")
		return
	}
	if _, missing := orders.Questions.Missing(t.Answers); missing {
		t.Asking = ""
		t.ask("Not yet, something is still needed.")
		return
	}
	t.change.Send = true
	t.Sent, t.Asking, t.Stage = true, "", orders.Enquiry
	t.ask("Sent.")
}

// more asks what is not needed, one by one.
func (t *talk) more() {
	q, ok := t.nextExtra()
	if !ok {
		t.Asking = ""
		t.ask("You have been asked everything I know to ask. Photographs go by your own page: {link}")
		return
	}
	t.Asking = q.Key
	t.ask("These help, and each may be skipped. Photographs go by your own page: {link}")
}

// nextExtra is the first question beyond the needed ones that was not asked yet.
func (t *talk) nextExtra() (orders.Question, bool) {
	for _, q := range orders.Questions {
		if !t.answered(q) && !q.OnTheWay() && q.Kind != orders.Photograph && q.Applies(t.Answers) {
			return q, true
		}
	}
	return orders.Question{}, false
}
