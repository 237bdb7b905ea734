package bot

import (
	"slices"
	"strings"

	"perchbook/orders"
)

// A part is a piece of an answer that is not whole yet: a reading, or one of several choices, or a
// figure that she was asked about. Each names its question, so that going back loses none.
type part struct {
	key  string
	mark byte
	text string
}

// Marks of a part, which stand between key and text where it is stored.
const (
	fine     = '='
	doubtful = '?' // she was asked about it, and has not said yet whether to keep it
)

func (p part) String() string { return p.key + string(p.mark) + p.text }

// split undoes String; false for what is no part.
func split(stored string) (part, bool) {
	i := strings.IndexAny(stored, "=?")
	if i <= 0 {
		return part{}, false
	}
	return part{stored[:i], stored[i], stored[i+1:]}, true
}

// parts are those of one question, in the order in which they were said.
func (t *talk) parts(q orders.Question) []part {
	var found []part
	for _, stored := range t.Pending {
		if p, ok := split(stored); ok && p.key == q.Key {
			found = append(found, p)
		}
	}
	return found
}

// setParts replaces those of one question and leaves the others.
func (t *talk) setParts(q orders.Question, ps ...part) {
	t.Pending = slices.DeleteFunc(t.Pending, func(stored string) bool {
		p, ok := split(stored)
		return !ok || p.key == q.Key
	})
	for _, p := range ps {
		t.Pending = append(t.Pending, p.String())
	}
}

// said makes of the parts what Question.Parse takes.
func said(ps []part) orders.Said {
	s := orders.Said{}
	for _, p := range ps {
		s.Text = append(s.Text, p.text)
	}
	return s
}
