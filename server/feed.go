package server

import (
	"crypto/sha256"
	"encoding/base64"
	"net/http"
	"strings"

	ics "github.com/arran4/golang-ical"
	"github.com/gin-gonic/gin"

	"perchbook/orders"
	"perchbook/templates"
)

// feedView is where the milliner opens and shuts her calendar feed.
type feedView struct {
	Open, Names bool
	Address     string
}

func (s *Server) showFeed(c *gin.Context) error {
	feed, err := s.Store.Feed(c.Request.Context())
	if err != nil {
		return err
	}
	v := feedView{Open: feed.Open, Names: feed.Names}
	if feed.Open {
		v.Address = s.Store.Origin() + orders.FeedPath + feed.Link + "/diary.ics"
	}
	s.render(c, http.StatusOK, "feed", s.frame(c, "Calendar feed"), v)
	return nil
}

func (s *Server) openFeed(c *gin.Context) error {
	if err := s.Store.OpenFeed(c.Request.Context(), c.PostForm("names") == "yes"); err != nil {
		return err
	}
	s.note(c, "The feed is open under a new address. An earlier address opens nothing any more.")
	return onward(c, "/workroom/diary/feed")
}

func (s *Server) shutFeed(c *gin.Context) error {
	if err := s.Store.ShutFeed(c.Request.Context()); err != nil {
		return err
	}
	s.note(c, "The feed is shut, and its address opens nothing any more.")
	return onward(c, "/workroom/diary/feed")
}

// serveFeed answers a calendar program. Whatever is not the feed's address gets one and the same answer.
func (s *Server) serveFeed(c *gin.Context) {
	ctx := c.Request.Context()
	feed, err := s.Store.FeedByLink(ctx, c.Param("link"))
	var list []orders.Appointment
	if err == nil {
		list, err = s.Store.FeedAppointments(ctx)
	}
	var d desk
	if err == nil {
		d, err = s.desk(ctx)
	}
	if err != nil {
		s.fail(c, err)
		return
	}
	body := d.feed(list, feed.Names)
	sum := sha256.Sum256([]byte(body))
	tag := `"` + base64.RawURLEncoding.EncodeToString(sum[:16]) + `"`
	c.Header("ETag", tag)
	c.Header("Cache-Control", "private, no-cache")
	if matches(c.GetHeader("If-None-Match"), tag) {
		c.Status(http.StatusNotModified)
		c.Writer.WriteHeaderNow()
		return
	}
	c.Data(http.StatusOK, "text/calendar; charset=utf-8", []byte(body))
}

// matches compares an If-None-Match header weakly (RFC 9110, 13.1.2).
func matches(header, tag string) bool {
	for one := range strings.SplitSeq(header, ",") {
		if one = strings.TrimPrefix(strings.TrimSpace(one), "W/"); one == tag || one == "*" {
			return true
		}
	}
	return false
}

// feed writes the diary as iCalendar (RFC 5545) with its name and how often to read it (RFC 7986). The
// same appointments give the same bytes.
func (d desk) feed(list []orders.Appointment, names bool) string {
	cal := ics.NewCalendarFor("Perchbook")
	cal.SetMethod(ics.MethodPublish)
	name := oneLine("Diary, " + d.studio.Name)
	cal.SetName(name)
	cal.SetXWRCalName(name)
	cal.SetRefreshInterval("PT1H")
	cal.SetXPublishedTTL("PT1H")
	for _, a := range list {
		summary := title(a.Kind) + " " + a.CommissionNumber
		if names {
			summary += ", " + a.ClientName
		}
		d.event(cal, a, summary)
	}
	return cal.Serialize(ics.WithNewLineWindows)
}

// event adds an appointment. Its stamp is when it last changed, so that an event that stays the same is written the same.
func (d desk) event(cal *ics.Calendar, a orders.Appointment, summary string) *ics.VEvent {
	changed := a.Changed
	if changed.IsZero() {
		changed = a.Start
	}
	e := cal.AddEvent(a.ID + "@perchbook")
	e.SetDtStampTime(changed)
	e.SetModifiedAt(changed)
	e.SetStartAt(a.Start)
	e.SetEndAt(a.End)
	e.SetSequence(a.Sequence)
	e.SetStatus(calendarStates[a.State])
	e.SetSummary(oneLine(summary))
	e.SetLocation(oneLine(d.venue(templates.English, a)))
	return e
}
