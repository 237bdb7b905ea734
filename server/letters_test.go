package server

import (
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/orders"
)

func TestALetterWithoutAChatIsCopied(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	page := b.accepted(room(c)+"/letters", say("body", "Dear Nella,\r\nyour page is {link}."))
	shows(t, page, "Dear Nella,\nyour page is "+testOrigin+orders.CommissionPath+b.store.CommissionLink(c)+".</textarea>")
	shows(t, page, "to send by hand")
	letters := b.letters(c)
	require.Len(t, letters, 1)
	require.Equal(t, orders.ToCopy, letters[0].State)

	copied := room(c) + "/letters/" + letters[0].ID + "/copied"
	page = b.accepted(copied, nil)
	shows(t, page, "sent by you, Tue 28 April 2026")
	hides(t, page, `action="`+copied+`"`)
	assert.Equal(t, orders.Copied, b.letters(c)[0].State)
}

func TestALetterGoesOutByChat(t *testing.T) {
	b := signedInBench(t)
	b.accepted("/workroom/rehearsal/again", nil)
	c := b.rehearsed()
	page := b.accepted(room(c)+"/letters", say("body", "Shall we say Thursday?"))
	shows(t, page, "goes out by chat")
	shows(t, b.see("/workroom/rehearsal"), "Shall we say Thursday?")
	shows(t, b.see(room(c)), "sent by chat, ")
}

func TestNobodyIsSaidToKnowWithoutAChat(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	shows(t, b.see(room(c)), "since there is no other way to the client")
	page := b.accepted("/workroom/diary/book", booking(t, c, orders.Fitting, "2026-06-18 11:00"))
	shows(t, page, "The client does not know yet")
	shows(t, page, "That is after the day of the hat, Fri 12 June 2026.")
	shows(t, b.accepted(room(c)+"/settle", b.versioned(c, say("do", "sign"))), "The client does not know yet")

	b = signedInBench(t)
	b.accepted("/workroom/rehearsal/again", nil)
	talks := b.rehearsed()
	shows(t, b.see(room(talks)), "It goes out by the client’s chat.")
	shows(t, b.see(room(talks)), "Send it by chat</button>")
	page = b.accepted("/workroom/diary/book", booking(t, talks, orders.Fitting, "2026-04-30 11:00"))
	shows(t, page, "A letter is on its way to the client.")
	hides(t, page, "That is after the day of the hat")
}

func TestAnEmptyOrEndlessLetterIsNotWritten(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	endless := strings.Repeat("thread ", 600)
	b.refused(http.StatusUnprocessableEntity, room(c)+"/letters", say("body", " \r\n "))
	shows(t, b.refused(http.StatusUnprocessableEntity, room(c)+"/letters", say("body", endless)), strings.TrimSpace(endless))
	assert.Empty(t, b.letters(c), "nothing was written")
}

func TestOnlyTheClientsOwnLettersAreMarked(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	other := b.enquiry(orders.DoorWeb, map[string]string{"name": "Tamsin Reed"})
	b.accepted(room(c)+"/letters", say("body", "Hello."))
	id := b.letters(c)[0].ID
	assert.Equal(t, http.StatusNotFound, b.post(room(other)+"/letters/"+id+"/copied", nil).status)
	assert.Equal(t, http.StatusNotFound, b.post(room(c)+"/letters/nothing/copied", nil).status)
	assert.Equal(t, orders.ToCopy, b.letters(c)[0].State, "it still waits")
}

func TestAddressesInLettersCanBeOpened(t *testing.T) {
	s := newBench(t).srv
	page := testOrigin + "/hat/ab.c-_D"
	for text, want := range map[string][]saying{
		"none here":                   {{Text: "none here"}},
		"See " + page + ". Bye":       {{Text: "See "}, {page, page}, {Text: ". Bye"}},
		page:                          {{}, {page, page}, {}},
		"http://other.example/x":      {{Text: "http://other.example/x"}},
		testOrigin + ".evil.example/": {{Text: testOrigin + ".evil.example/"}},
		"a " + page + " b " + page + "\"><script>": {{Text: "a "}, {page, page}, {Text: " b "}, {page, page}, {Text: "\"><script>"}},
	} {
		assert.Equal(t, want, s.linked(text), "%q", text)
	}
}
