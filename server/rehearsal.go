package server

import (
	"crypto/rand"
	"net/http"
	"unicode/utf8"

	"github.com/gin-gonic/gin"

	"perchbook/bot"
	"perchbook/orders"
)

// rehearsalView is the rehearsal chat: the same conversation that a client has in the messenger.
type rehearsalView struct {
	Begun    bool
	Problems []mend
	Said     []saidView
	Buttons  []orders.Option
	Text     field
}

type saidView struct {
	Client bool // said by whoever plays the client
	Last   bool
	Said   []saying
	When   string
}

const longestSaying = 4000 // letters; what a messenger takes at once

// rehearsing is the address of this maker's rehearsal, "" when none has begun.
func (s *Server) rehearsing(c *gin.Context) string {
	return s.sessions.GetString(c.Request.Context(), "rehearsal")
}

func (s *Server) showRehearsal(c *gin.Context) error {
	return s.rehearsalPage(c, http.StatusOK, "", "")
}

func (s *Server) rehearsalPage(c *gin.Context, status int, typed, problem string) error {
	ctx, address := c.Request.Context(), s.rehearsing(c)
	view := rehearsalView{Begun: address != "", Text: field{Key: "text", Label: "You, as the client", Value: typed, Problem: problem}}
	if view.Begun {
		d, err := s.desk(ctx)
		if err != nil {
			return err
		}
		said, err := bot.Transcript(ctx, s.Store, address)
		if err != nil {
			return err
		}
		view.Begun = len(said) > 0 // not when it was erased
		view.Said, view.Buttons = s.conversation(d, said)
	}
	view.Problems = mends(view.Text)
	name := "Rehearsal chat"
	if problem != "" {
		name = "Problem: " + name
	}
	s.render(c, status, "rehearsal", s.frame(c, name), view)
	return nil
}

// conversation lists what was said, and the buttons of the last message.
func (s *Server) conversation(d desk, letters []orders.Letter) ([]saidView, []orders.Option) {
	var said []saidView
	var buttons []orders.Option
	for i, l := range letters {
		said = append(said, saidView{Client: !l.Out, Last: i == len(letters)-1, Said: s.linked(l.Body), When: l.At.In(d.zone).Format(onTheClock)})
		buttons = nil
		if l.Out {
			buttons = l.Buttons
		}
	}
	return said, buttons
}

func (s *Server) sayRehearsal(c *gin.Context) error {
	ctx, address := c.Request.Context(), s.rehearsing(c)
	if address == "" {
		return s.restartRehearsal(c)
	}
	press, text := c.PostForm("press"), tidy(c.PostForm("text"))
	var err error
	switch n := utf8.RuneCountInString(text); {
	case press != "":
		err = bot.Press(ctx, s.Store, address, press)
	case n == 0:
		return s.rehearsalPage(c, http.StatusUnprocessableEntity, "", "Write something, or press one of the buttons.")
	case n > longestSaying:
		return s.rehearsalPage(c, http.StatusUnprocessableEntity, text, "That is longer than a messenger takes at once. Shorten it.")
	default:
		err = bot.Say(ctx, s.Store, address, text)
	}
	if err != nil {
		return err
	}
	return onward(c, "/workroom/rehearsal#last")
}

// restartRehearsal opens a fresh conversation, as a new client would.
func (s *Server) restartRehearsal(c *gin.Context) error {
	ctx, address := c.Request.Context(), rand.Text()
	if err := bot.Say(ctx, s.Store, address, ""); err != nil {
		return err
	}
	s.sessions.Put(ctx, "rehearsal", address)
	return onward(c, "/workroom/rehearsal#last")
}
