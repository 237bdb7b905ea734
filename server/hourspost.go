package server

import (
	"errors"
	"net/http"
	"time"

	"github.com/gin-gonic/gin"

	"perchbook/orders"
)

func (s *Server) hoursRoutes(hat gin.IRouter) {
	hat.GET("/hours", s.behind(s.openHat, s.showHours))
	hat.POST("/hours/hold", s.behind(s.openHat, s.holdHour))
	hat.POST("/hours/take", s.behind(s.openHat, s.takeHour))
	hat.POST("/hours/leave", s.behind(s.openHat, s.leaveHour))
	hat.POST("/hours/wait", s.behind(s.openHat, s.waitForHour))
	hat.POST("/hours/stop", s.behind(s.openHat, s.stopWaiting))
	hat.POST("/hours/zone", s.behind(s.openHat, s.keepZone))
	hat.POST("/appointments/:id/cancel", s.behind(s.openHat, s.cancelHers))
}

// hoursAgain shows the free hours again, with what went wrong.
func (s *Server) hoursAgain(c *gin.Context, d door, q hoursQuery, err error) error {
	status := http.StatusUnprocessableEntity
	p, ok := asProblem(err)
	switch {
	case ok:
	case errors.Is(err, orders.ErrTaken), errors.Is(err, orders.ErrConflict):
		status, p = http.StatusConflict, orders.NewProblem("start", "Somebody else has just taken that hour. What is free now stands below; choose another.")
	default:
		return err
	}
	q.problem = p
	return s.hoursPage(c, status, d, q)
}

func (s *Server) holdHour(c *gin.Context, d door) error {
	q := hoursAsked(c.PostForm)
	start, err := time.Parse(time.RFC3339, c.PostForm("start"))
	if err != nil {
		return s.hoursAgain(c, d, q, orders.NewProblem("start", "Choose one of the free hours first."))
	}
	if err := s.begins.allow("hour " + d.Commission.ID); err != nil {
		return err
	}
	if _, err := s.Store.Hold(c.Request.Context(), d.Commission.ID, q.kind, q.place, q.move, start); err != nil {
		return s.hoursAgain(c, d, q, err)
	}
	return onward(c, q.link(d.Base)+"#held")
}

func (s *Server) takeHour(c *gin.Context, d door) error {
	a, err := s.Store.TakeHeld(c.Request.Context(), d.Commission.ID, c.PostForm("hold"))
	if err != nil {
		return s.hoursAgain(c, d, hoursAsked(c.PostForm), err)
	}
	return onward(c, d.Base+"#hour-"+a.ID)
}

func (s *Server) leaveHour(c *gin.Context, d door) error {
	if err := s.Store.LeaveHeld(c.Request.Context(), d.Commission.ID, c.PostForm("hold")); err != nil {
		return err
	}
	return onward(c, hoursAsked(c.PostForm).link(d.Base))
}

func (s *Server) waitForHour(c *gin.Context, d door) error {
	q := hoursAsked(c.PostForm)
	if err := s.Store.WaitFor(c.Request.Context(), d.Commission.ID, q.kind, q.place); err != nil {
		return s.hoursAgain(c, d, q, err)
	}
	return onward(c, q.link(d.Base)+"#wait")
}

func (s *Server) stopWaiting(c *gin.Context, d door) error {
	if err := s.Store.StopWaiting(c.Request.Context(), d.Commission.ID); err != nil {
		return err
	}
	return onward(c, hoursAsked(c.PostForm).link(d.Base)+"#wait")
}

func (s *Server) keepZone(c *gin.Context, d door) error {
	q, zone := hoursAsked(c.PostForm), tidy(c.PostForm("zone"))
	if err := s.Store.SetZone(c.Request.Context(), d.Commission.ClientID, zone); err != nil {
		q.zone = &zone
		return s.hoursAgain(c, d, q, err)
	}
	return onward(c, q.link(d.Base))
}

func (s *Server) cancelHers(c *gin.Context, d door) error {
	id := c.Param("id")
	_, err := s.Store.CancelHers(c.Request.Context(), d.Commission.ID, id)
	if errors.Is(err, orders.ErrConflict) {
		err = orders.NewProblem("start", "The studio changed this meanwhile. It now stands as shown.")
	}
	return s.answered(c, d, wish{appointment: id}, err)
}
