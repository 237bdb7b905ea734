package bot

import (
	"maps"
	"slices"
	"time"

	"perchbook/orders"
)

// A State is all that a conversation knows when something is said: what is stored, and the day.
type State struct {
	Rehearsal bool
	Today     time.Time // in the studio's zone
	Studio    string    // its name, as clients read it
	Notice    string    // what the privacy notice says besides its question, as it is now
	Begun     bool      // the privacy notice was agreed to: there is a draft
	Outdated  bool      // what was agreed to is no longer what the notice says
	Sent      bool      // the draft has become a commission
	Answers   orders.Answers
	Asking    string   // as in orders.Chat: a question's key, or one of the places below
	Pending   []string // as in orders.Chat: parts of answers, see part

	Stage        orders.Stage         // of the commission, once sent
	Appointments []orders.Appointment // still to come, soonest first
}

// Places in a conversation that are no question. No question may have one of them as its key.
const (
	greeted  = "greeted"  // the notice was shown and is not agreed to
	paused   = "paused"   // she asked to stop; "go on" takes it up again
	declined = "declined" // a group was told once that this is no place for measurements
)

// Heard is one thing said: words, a pressed button, or something else.
type Heard struct {
	Text   string
	Press  string // data of the button, see press
	Other  Other  // what came instead of words
	Edited bool   // an earlier message was changed
	Group  bool   // others are listening
}

// A Change is what is to be stored because of one thing said.
type Change struct {
	Begin   *orders.Answer // she agrees to the privacy notice: begin a draft with this
	Agree   bool           // she agrees to a notice that has changed
	Save    []Kept         // in order
	Send    bool           // send the enquiry in, after Save
	Asking  string
	Pending []string
	Heard   string // what came in, as it is kept; "" keeps nothing
	Letter  bool   // Heard is for the milliner to read and answer
}

// Kept is an answer to store under a question's key.
type Kept struct {
	Key    string
	Answer orders.Answer
}

// A Reply is one message back. Buttons carry "key=value" or "verb:key", at most 64 bytes.
// {link} in Text stands for the client's own page, or the first page before there is a draft.
type Reply struct {
	Text    string
	Buttons []orders.Option
}

// talk is one turn while it is worked out.
type talk struct {
	State
	heard  Heard
	change Change
	said   []Reply
}

// A rule deals with what was said, or leaves it to the next one.
type rule struct {
	name string
	deal func(*talk) bool
}

// rules is the order of matching: the first that deals with what was said ends the turn.
// help, at the end, deals with everything.
var rules = []rule{
	{"a group is no place for this", (*talk).decline},
	{"nothing before the notice is agreed to", (*talk).notice},
	{"nothing more before a changed notice is agreed to", (*talk).changedNotice},
	{"a pressed button", (*talk).press},
	{"something other than words", (*talk).other},
	{"a command in plain words", (*talk).command},
	{"the name of an answer to change", (*talk).named},
	{"an answer to what was asked", (*talk).typed},
	{"after sending, a letter for the milliner", (*talk).letter},
	{"anything else gets help", (*talk).lost},
}

// Turn says what follows from one thing said: what to store, and what to answer. It never fails;
// whatever it does not understand is answered with a sentence that helps. st is not changed.
func Turn(st State, h Heard) (Change, []Reply) {
	t := &talk{State: st, heard: h}
	t.Answers = maps.Clone(st.Answers)
	if t.Answers == nil {
		t.Answers = orders.Answers{}
	}
	t.Pending = slices.Clone(st.Pending)
	for _, r := range rules {
		if r.deal(t) {
			break
		}
	}
	t.change.Asking, t.change.Pending = t.Asking, t.Pending
	return t.change, t.said
}

// say adds a reply.
func (t *talk) say(text string, buttons ...orders.Option) {
	t.said = append(t.said, Reply{Text: text, Buttons: buttons})
}

// current returns the question being asked, and false at the summary, after sending and when paused.
func (t *talk) current() (orders.Question, bool) {
	if q, ok := orders.Questions.Find(t.Asking); ok && q.Applies(t.Answers) {
		return q, true
	}
	if t.Sent || t.Asking == paused {
		return orders.Question{}, false
	}
	return orders.Questions.Next(t.Answers)
}

// ask says what comes next after an optional first paragraph: the question being asked, the
// summary, or after sending what can be done.
func (t *talk) ask(first string) {
	if q, ok := t.current(); ok {
		t.prompt(first, q)
	} else if t.Sent {
		t.say(paragraphs(first, t.afterwards()), t.afterButtons()...)
	} else if t.Asking == paused {
		t.say(paragraphs(first, pausedText), doButton("go on"))
	} else {
		t.summary(first)
	}
}
