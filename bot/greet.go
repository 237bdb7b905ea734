package bot

import (
	"fmt"

	"perchbook/orders"
)

// decline answers a group once and then keeps silent there.
func (t *talk) decline() bool {
	if !t.heard.Group {
		return false
	}
	if t.Asking != declined {
		t.say("Thank you, but I ask about measurements, and that is between you and the studio. " +
			"Please write to me in a chat of our own.")
		t.Asking = declined
	}
	return true
}

// notice greets, and lets nothing pass until the privacy notice is agreed to. Until then nothing
// of what she says is kept.
func (t *talk) notice() bool {
	if t.Begun {
		return false
	}
	q, ok := orders.Questions.Next(orders.Answers{})
	if !ok {
		t.say("There is nothing to ask at present. Please use our page: {link}")
		return true
	}
	if t.Asking != greeted {
		t.Asking = greeted
		t.say(t.greeting())
		t.showNotice(q, "")
		return true
	}
	switch said := t.answerTo(q.Key); {
	case t.heard.Press == "no:"+q.Key || said == "no":
		t.say("Then I keep nothing of yours, only the number of this chat, so that I can answer. " +
			"If you change your mind, press the button above. The page with the same notice: {link}")
	case said == "":
		t.showNotice(q, "First of all, before I keep anything:")
	default:
		t.consent(q, said)
	}
	return true
}

// greeting is the first thing anyone reads here.
func (t *talk) greeting() string {
	hello := fmt.Sprintf("Hello, this is the enquiry chat of %s.", t.Studio)
	if t.Rehearsal {
		return hello + " This is a rehearsal: nothing leaves the workroom, and an enquiry begun here is marked as rehearsal. " +
			"The page with the same questions: {link}"
	}
	return hello + " Messages here pass through the messenger's own servers, which we cannot erase; " +
		"for measurements and photographs you may prefer our own page: {link}"
}

// changedNotice asks anew once the notice has changed. Until she agrees nothing more of what she says is kept.
func (t *talk) changedNotice() bool {
	q, ok := orders.Questions.Next(orders.Answers{})
	if !t.Outdated || !ok {
		return false
	}
	said := t.answerTo(q.Key)
	if t.heard.Press == "no:"+q.Key || said == "no" {
		t.say("Then I keep nothing more. What you have answered you can see, and erase, on your page: {link}")
		return true
	}
	if _, problem := q.Parse(orders.Said{Text: []string{said}}, t.Today); said == "" || problem != nil {
		t.showNotice(q, "The studio's notice has changed since you agreed. Before I keep anything more, I need your yes or no to it; then please say once more what you have just said.")
		return true
	}
	t.Outdated, t.change.Agree, t.change.Heard = false, true, "Yes, I agree"
	t.ask("Thank you.")
	return true
}

func (t *talk) showNotice(q orders.Question, first string) {
	t.say(paragraphs(first, q.Label, q.Hint, t.Notice, q.Why),
		orders.Option{Value: q.Key + "=yes", Label: "Yes, I agree"},
		orders.Option{Value: "no:" + q.Key, Label: verbs["no"]})
}

// answerTo is what was typed, or the value pressed for key; "" for anything else.
func (t *talk) answerTo(key string) string {
	if t.heard.Press == "" {
		return bare(t.heard.Text)
	}
	if k, value, ok := pressed(t.heard.Press); ok && k == key {
		return value
	}
	return ""
}

func (t *talk) consent(q orders.Question, said string) {
	a, problem := q.Parse(orders.Said{Text: []string{said}}, t.Today)
	if problem != nil {
		t.showNotice(q, "Before I keep anything, I need your yes or no to this:")
		return
	}
	t.change.Begin, t.change.Heard = &a, "Yes, I agree"
	t.Begun, t.Asking, t.Answers[q.Key] = true, "", a
	t.ask("Thank you. Write \"back\" to change an answer and \"help\" for what else you can write.")
}
