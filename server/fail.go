package server

import (
	"context"
	"errors"
	"net/http"

	"github.com/gin-gonic/gin"

	"perchbook/orders"
)

// A trouble is a page that says what went wrong and what to do.
type trouble struct {
	Heading, Text string
	Bench         bool // the way back leads to the workroom
}

// fail shows an error: what the person can mend is said to her, the rest is logged once.
func (s *Server) fail(c *gin.Context, err error) {
	if errors.Is(err, context.Canceled) && c.Request.Context().Err() != nil { // whoever asked has left the page
		c.AbortWithStatus(http.StatusRequestTimeout)
		return
	}
	c.Abort()
	status, t := s.judge(c, err)
	if c.Writer.Written() {
		return
	}
	f := s.frame(c, t.Heading)
	if t.Bench = f.Signed; t.Bench && status == http.StatusNotFound {
		t.Text = "The address may be incomplete, or what stood here has been erased."
	}
	s.render(c, status, "trouble", f, t)
}

func (s *Server) judge(c *gin.Context, err error) (int, trouble) {
	var problem *orders.Problem
	var tooLarge *http.MaxBytesError
	l := s.language(c)
	switch {
	case errors.As(err, &problem):
		return http.StatusUnprocessableEntity, trouble{Heading: l.Say("One thing to mend"), Text: l.Put(problem)}
	case errors.Is(err, orders.ErrNotFound):
		return http.StatusNotFound, trouble{Heading: l.Say("There is nothing here"), Text: l.Say("The address may be incomplete, or the private link has been ended. Open the newest link you were sent, or ask the studio for a new one.")}
	case errors.Is(err, orders.ErrExpired):
		return http.StatusGone, trouble{Heading: l.Say("This link has been used or is past its time"), Text: l.Say("Ask for a new one; whoever runs this server can make one by starting it again.")}
	case errors.Is(err, orders.ErrConflict):
		return http.StatusConflict, trouble{Heading: l.Say("Somebody changed this meanwhile"), Text: l.Say("Nothing of yours was written over it. Go back, load the page again, and make your change on what stands there now.")}
	case errors.Is(err, orders.ErrTaken):
		return http.StatusConflict, trouble{Heading: l.Say("That hour has just been taken"), Text: l.Say("Go back and choose another; the list now shows what is free.")}
	case errors.Is(err, errTooMany):
		return http.StatusTooManyRequests, trouble{Heading: l.Say("A little too fast"), Text: l.Say("Wait a minute, then try again.")}
	case errors.As(err, &tooLarge):
		return http.StatusRequestEntityTooLarge, trouble{Heading: l.Say("That is too large"), Text: l.Say("Photographs of up to 12 MB can be sent. A smaller copy does just as well.")}
	}
	s.Log.ErrorContext(c.Request.Context(), "request failed", "route", c.FullPath(), "err", err)
	return http.StatusInternalServerError, trouble{Heading: l.Say("Something went wrong here"), Text: l.Say("It is our fault, and it has been written down. What you sent before is kept. Please try again.")}
}
