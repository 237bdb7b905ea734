package server

import (
	"net/http"
	"strings"
	"unicode"

	ics "github.com/arran4/golang-ical"
	"github.com/gin-gonic/gin"

	"perchbook/orders"
	"perchbook/templates"
)

var calendarStates = map[string]ics.ObjectStatus{
	orders.Booked: ics.ObjectStatusTentative, orders.Confirmed: ics.ObjectStatusConfirmed,
	orders.MoveAsked: ics.ObjectStatusTentative, orders.Cancelled: ics.ObjectStatusCancelled,
}

// calendarFile is one appointment of hers for her own calendar. It names the studio and never her.
func (s *Server) calendarFile(c *gin.Context, at door) error {
	a, err := s.herAppointment(c, at)
	if err != nil {
		return err
	}
	desk, err := s.desk(c.Request.Context())
	if err != nil {
		return err
	}
	c.Header("Content-Disposition", `attachment; filename="`+a.Kind+`.ics"`)
	c.Data(http.StatusOK, "text/calendar; charset=utf-8", []byte(desk.calendar(at.Language, a)))
	return nil
}

// calendar writes an appointment as iCalendar (RFC 5545). The library would let a control character
// in a text begin a new line, so there is none left in what it is given.
func (d desk) calendar(l templates.Language, a orders.Appointment) string {
	cal := ics.NewCalendarFor("Perchbook")
	cal.SetMethod(ics.MethodPublish)
	e := d.event(cal, a, l.Say("%s for your hat, %s", title(l.Say(a.Kind)), d.studio.Name))
	if d.studio.Reach != "" {
		e.SetDescription(oneLine(l.Say("Reach the studio: %s", d.studio.Reach)))
	}
	return cal.Serialize(ics.WithNewLineWindows)
}

// venue says where an appointment takes place.
func (d desk) venue(l templates.Language, a orders.Appointment) string {
	switch {
	case a.Place != orders.InPerson:
		return title(l.Say(a.Place))
	case d.studio.Place == "":
		return d.studio.Name
	}
	return d.studio.Name + ", " + d.studio.Place
}

// oneLine writes a space for every control character and line end.
func oneLine(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || r == '\u2028' || r == '\u2029' || r == unicode.ReplacementChar {
			return ' '
		}
		return r
	}, s)
}
