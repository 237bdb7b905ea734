package orders

import "errors"

// Someone decides on each of these; everything else is a fault to be logged.
var (
	ErrNotFound = errors.New("not found")          // no such record, or not for whoever asks
	ErrConflict = errors.New("changed meanwhile")  // the version that was read is old
	ErrSeen     = errors.New("handled before")     // Once: this source has been dealt with
	ErrTaken    = errors.New("hour already taken") // the diary has something there, buffers included
	ErrExpired  = errors.New("code used or past")  // a one-time code that no longer opens anything
)

// A Problem is something the person at the page or in the chat can mend. Text says what was
// understood and what to do. One that a client can meet is made by NewProblem, so that it can be said in
// her language.
type Problem struct {
	Key         string // the question or form field it stands beside
	Text        string // in English
	phrase      Phrase
	Confirmable bool // the same value sent again with Said.Sure is accepted
	NeedsMore   bool // what was given is fine so far; one more reading is wanted
}

func (p *Problem) Error() string { return "problem with " + p.Key }

// NewProblem is a problem that a door puts into the client's language; english must be a constant.
func NewProblem(key, english string, with ...any) *Problem {
	return Say(english, with...).beside(key)
}

func (p Phrase) beside(key string) *Problem { return &Problem{Key: key, Text: p.String(), phrase: p} }

// Parts gives the text to whoever says it in another language.
func (p *Problem) Parts() (english string, with []any) {
	if p.phrase.Empty() {
		return "%s", []any{p.Text}
	}
	return p.phrase.Parts()
}
