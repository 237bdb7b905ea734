package server

import (
	"html"
	"net/http"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/orders"
)

var press = regexp.MustCompile(`name="press" value="([^"]*)"`)

// pressFirst presses the first button of the last message.
func (b *benchSite) pressFirst(page string) string {
	b.t.Helper()
	m := press.FindStringSubmatch(page)
	require.NotNil(b.t, m, "there is a button:\n%s", inside(page))
	return b.accepted("/workroom/rehearsal", say("press", html.UnescapeString(m[1])))
}

// rehearsed goes through a whole rehearsal that has begun and returns the commission it makes.
func (b *benchSite) rehearsed() orders.Commission {
	b.t.Helper()
	page := b.see("/workroom/rehearsal")
	words := []struct{ asked, answer string }{
		{"What is your name", "Tamsin Reed"}, {"How can the studio reach you", "tamsin@post.example"},
		{"On which day", "not fixed yet"}, {"round your head", "57"}, {"nape up to the crown", "23"},
	}
	for range 40 {
		list, err := b.store.Commissions(b.t.Context())
		require.NoError(b.t, err)
		if len(list) > 0 {
			return list[0]
		}
		last := page[strings.LastIndex(page, `id="last"`):]
		answered := false
		for _, w := range words {
			if strings.Contains(last, w.asked) || strings.Contains(last, "number.") && w.asked == "round your head" {
				page, answered = b.accepted("/workroom/rehearsal", say("text", w.answer)), true
				break
			}
		}
		if !answered {
			page = b.pressFirst(page)
		}
	}
	b.t.Fatalf("no commission after forty turns:\n%s", inside(page))
	return orders.Commission{}
}

func TestARehearsalIsAChatOnAPage(t *testing.T) {
	b := signedInBench(t)
	shows(t, b.see("/workroom/rehearsal"), "Begin the rehearsal")
	page := b.accepted("/workroom/rehearsal/again", nil)
	shows(t, page, "The studio")
	shows(t, b.refused(http.StatusUnprocessableEntity, "/workroom/rehearsal", say("text", "  ")), "Write something")
	long := strings.Repeat("a", 4001)
	shows(t, b.refused(http.StatusUnprocessableEntity, "/workroom/rehearsal", say("text", long)), long)

	page = b.pressFirst(page)
	shows(t, page, "You, as the client")
	b.accepted("/workroom/rehearsal", say("press", "no=such button"))
	page = b.accepted("/workroom/rehearsal", say("text", "<i>hello</i>"))
	shows(t, page, "&lt;i&gt;hello&lt;/i&gt;")

	fresh := b.accepted("/workroom/rehearsal/again", nil)
	hides(t, fresh, "&lt;i&gt;hello&lt;/i&gt;")
}

func TestARehearsalMakesACommission(t *testing.T) {
	b := signedInBench(t)
	b.accepted("/workroom/rehearsal/again", nil)
	c := b.rehearsed()
	assert.Equal(t, orders.DoorRehearsal, c.Door)
	shows(t, b.see(room(c)), "by the rehearsal chat")
	shows(t, b.see(room(c)), "Questions and answers in the chat")
}

func TestSayingSomethingBeginsARehearsal(t *testing.T) {
	b := signedInBench(t)
	shows(t, b.accepted("/workroom/rehearsal", say("text", "hello")), "The studio")
}
