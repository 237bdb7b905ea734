package bot

import (
	"maps"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"perchbook/orders"
)

// A partner is a conversation as she sees it.
type partner interface {
	write(t *testing.T, text string) []Reply  // she writes; what comes back
	press(t *testing.T, label string) []Reply // she presses the newest button with that label
}

// play runs a conversation. Lines begin with
//
//	>   what she writes
//	[   the label of the button that she presses, ending in ]
//	<   what must stand somewhere in the replies
//	!   what must not
func play(t *testing.T, p partner, script string) {
	t.Helper()
	replies := ""
	for n, line := range strings.Split(strings.TrimSpace(script), "\n") {
		line = strings.TrimSpace(line)
		if line == "" {
			continue
		}
		what := strings.TrimSpace(line[1:])
		switch line[0] {
		case '>':
			replies = shown(p.write(t, what))
		case '[':
			replies = shown(p.press(t, strings.TrimSuffix(what, "]")))
		case '<':
			require.Contains(t, replies, what, "line %d: the reply lacks this", n+1)
		case '!':
			require.NotContains(t, replies, what, "line %d: the reply must not have this", n+1)
		default:
			t.Fatalf("line %d begins with no known sign: %s", n+1, line)
		}
	}
}

// shown is replies as one text, buttons in square brackets.
func shown(replies []Reply) string {
	var b strings.Builder
	for _, r := range replies {
		b.WriteString(r.Text + "\n")
		for _, o := range r.Buttons {
			b.WriteString("[" + o.Label + "]\n")
		}
	}
	return b.String()
}

// buttonsSeen remembers the newest button of each label.
type buttonsSeen map[string]string

func (s buttonsSeen) see(replies []Reply) {
	for _, r := range replies {
		for _, o := range r.Buttons {
			s[o.Label] = o.Value
		}
	}
}

func (s buttonsSeen) data(t *testing.T, label string) string {
	t.Helper()
	require.Contains(t, s, label, "no such button was ever shown")
	return s[label]
}

// memory is a partner without any store: it does with a Change what the store would do.
type memory struct {
	st      State
	seen    buttonsSeen
	letters []string // what reached the milliner
	kept    []string // what was kept of what came in
}

var today = time.Date(2027, 3, 1, 12, 0, 0, 0, time.UTC)

func newMemory() *memory {
	return &memory{st: State{Today: today, Studio: "the Tern Lane Workroom"}, seen: buttonsSeen{}}
}

func (m *memory) write(_ *testing.T, text string) []Reply { return m.hear(Heard{Text: text}) }

func (m *memory) press(t *testing.T, label string) []Reply {
	return m.hear(Heard{Press: m.seen.data(t, label)})
}

func (m *memory) hear(h Heard) []Reply {
	c, replies := Turn(m.st, h)
	answers := maps.Clone(m.st.Answers)
	if answers == nil {
		answers = orders.Answers{}
	}
	if c.Begin != nil {
		m.st.Begun = true
		answers["privacy"] = *c.Begin
	}
	for _, k := range c.Save {
		answers[k.Key] = k.Answer
	}
	m.st.Answers, m.st.Asking, m.st.Pending = answers, c.Asking, c.Pending
	if c.Send {
		m.st.Sent, m.st.Stage = true, orders.Enquiry
	}
	if c.Letter {
		m.letters = append(m.letters, c.Heard)
	}
	if c.Heard != "" {
		m.kept = append(m.kept, c.Heard)
	}
	m.seen.see(replies)
	return replies
}
