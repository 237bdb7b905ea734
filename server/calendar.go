package server

import (
	"net/http"
	"strings"
	"unicode"

	ics "github.com/arran4/golang-ical"
	"github.com/gin-gonic/gin"

	"perchbook/orders"
)

var calendarStates = map[string]ics.ObjectStatus{
	orders.Booked: ics.ObjectStatusTentative, orders.Confirmed: ics.ObjectStatusConfirmed,
	orders.MoveAsked: ics.ObjectStatusTentative, orders.Cancelled: ics.ObjectStatusCancelled,
}

// calendarFile is one appointment of hers for her own calendar. It names the studio and never her.
func (s *Server) calendarFile(c *gin.Context, d door) error {
	a, err := s.herAppointment(c, d)
	if err != nil {
		return err
	}
	desk, err := s.desk(c.Request.Context())
	if err != nil {
		return err
	}
	c.Header("Content-Disposition", `attachment; filename="`+a.Kind+`.ics"`)
	c.Data(http.StatusOK, "text/calendar; charset=utf-8", []byte(desk.calendar(a)))
	return nil
}

// calendar writes an appointment as iCalendar (RFC 5545). The library would let a control character
// in a text begin a new line, so there is none left in what it is given.
func (d desk) calendar(a orders.Appointment) string {
	cal := ics.NewCalendarFor("Perchbook")
	cal.SetMethod(ics.MethodPublish)
	e := d.event(cal, a, title(a.Kind)+" for your hat, "+d.studio.Name)
	if d.studio.Reach != "" {
		e.SetDescription(oneLine("Reach the studio: " + d.studio.Reach))
	}
	return cal.Serialize(ics.WithNewLineWindows)
}

// venue says where an appointment takes place.
func (d desk) venue(a orders.Appointment) string {
	switch {
	case a.Place != orders.InPerson:
		return title(a.Place)
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
