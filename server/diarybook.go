package server

import (
	"context"
	"errors"
	"net/http"
	"slices"
	"strconv"
	"time"

	"github.com/gin-gonic/gin"

	"perchbook/orders"
)

// bookingView is what is being booked or moved while the diary is open.
type bookingView struct {
	Action, Heading, Words, Button, Back string
	Wish                                 string
	For, Kind                            string
	Version                              int
	Moving, Other, Written               bool   // Written: the hour written counts, not one that is listed
	On, At                               string // an hour that is not listed, as typed
	Kinds                                []filter
	Places                               []stageChoice
}

// kinds of appointment in the order in which they come up.
var kinds = []string{orders.Consultation, orders.Fitting, orders.Collection}

// booking says what is being booked, and puts the kind into the query. Nil when nothing is.
func (s *Server) booking(ctx context.Context, d desk, q *diaryQuery) (*bookingView, error) {
	if q.moveID != "" {
		return s.moving(ctx, d, q)
	}
	if q.forID == "" {
		q.kind = ""
		return nil, nil
	}
	com, err := s.Store.Commission(ctx, q.forID)
	if err != nil {
		return nil, err
	}
	if !slices.Contains(kinds, q.kind) {
		q.kind = usualKind(com.Stage)
	}
	b := &bookingView{
		Action: "/workroom/diary/book", Heading: "Book a " + q.kind + " for " + com.ClientName,
		Words:  com.Number + ", for " + d.written(com.Day) + ". It takes " + count(d.studio.Minutes[q.kind], "minute", "minutes") + ".",
		Button: "Book this " + q.kind, Back: "/workroom/commissions/" + com.ID, For: com.ID, Kind: q.kind,
	}
	for _, k := range kinds {
		other := *q
		other.kind = k
		b.Kinds = append(b.Kinds, filter{other.link(q.monday), title(k), d.studio.Minutes[k], k == q.kind})
	}
	places := orders.PlacesOf(q.kind)
	for i, p := range places {
		b.Places = append(b.Places, stageChoice{p, title(p), p == q.place || !slices.Contains(places, q.place) && i == 0})
	}
	return b, nil
}

// usualKind is the appointment that a commission in that stage needs next.
func usualKind(st orders.Stage) string {
	switch st {
	case orders.Enquiry, orders.Measured:
		return orders.Consultation
	case orders.Finishing, orders.Ready, orders.HandedOver:
		return orders.Collection
	}
	return orders.Fitting
}

func (s *Server) moving(ctx context.Context, d desk, q *diaryQuery) (*bookingView, error) {
	a, err := s.Store.Appointment(ctx, q.moveID)
	if err != nil {
		return nil, err
	}
	q.kind, q.forID = a.Kind, ""
	return &bookingView{
		Action: "/workroom/diary/appointments/" + a.ID + "/move", Heading: "Move the " + a.Kind + " of " + a.ClientName,
		Words: a.CommissionNumber + ", now on " + d.when(a.Start) + ".", Wish: a.Wish,
		Button: "Move it to this hour", Back: "/workroom/diary/appointments/" + a.ID, Version: a.Version, Moving: true, Kind: a.Kind,
	}, nil
}

const takenHour = "That hour is taken, or too near to another appointment. What is free now stands below; choose another."

const writtenHour = "written" // is picked when an hour that is not listed counts

// hourChosen reads the hour that was picked, or written when none was; a problem when there is neither.
func (d desk) hourChosen(q diaryQuery) (time.Time, *orders.Problem) {
	if start, err := time.Parse(time.RFC3339, q.start); err == nil {
		return start, nil
	}
	if q.on == "" && q.at == "" {
		text := "Choose one of the free hours first."
		if q.start == writtenHour {
			text = "Write the day and the hour, or choose one of the free hours."
		}
		return time.Time{}, &orders.Problem{Key: "start", Text: text}
	}
	const layout = time.DateOnly + " " + onTheClock
	typed := q.on + " " + q.at
	start, err := time.ParseInLocation(layout, typed, d.zone)
	if err != nil {
		return start, &orders.Problem{Key: "start", Text: "That hour can’t be read. Write the day like 2027-06-12 and the hour like 14:30."}
	}
	if start.Format(layout) != typed { // the clock is put forward over it
		return start, &orders.Problem{Key: "start", Text: "There is no such hour: on that night the clock is put forward over it. Choose another."}
	}
	return start, nil
}

func (s *Server) book(c *gin.Context) error {
	d, err := s.desk(c.Request.Context())
	if err != nil {
		return err
	}
	q := diaryQuery{forID: c.PostForm("for"), kind: c.PostForm("kind"), place: c.PostForm("place"), start: c.PostForm("start"), on: c.PostForm("on"), at: c.PostForm("at")}
	start, p := d.hourChosen(q)
	if p == nil {
		a, err := s.Store.Book(c.Request.Context(), q.forID, q.kind, q.place, start)
		if err == nil {
			return s.booked(c, d, a, "Booked: ")
		}
		return s.bookAgain(c, d, q, err)
	}
	return s.bookAgain(c, d, q, p)
}

func (s *Server) rebook(c *gin.Context) error {
	d, err := s.desk(c.Request.Context())
	if err != nil {
		return err
	}
	q := diaryQuery{moveID: c.Param("id"), start: c.PostForm("start"), on: c.PostForm("on"), at: c.PostForm("at")}
	version, err := strconv.Atoi(c.PostForm("version"))
	if err != nil {
		version = -1 // no version is an old version
	}
	start, p := d.hourChosen(q)
	if p == nil {
		a, err := s.Store.Rebook(c.Request.Context(), q.moveID, version, start)
		if err == nil {
			return s.booked(c, d, a, "Moved: ")
		}
		return s.bookAgain(c, d, q, err)
	}
	return s.bookAgain(c, d, q, p)
}

func (s *Server) booked(c *gin.Context, d desk, a orders.Appointment, done string) error {
	com, told, err := s.toldOf(c, a)
	if err != nil {
		return err
	}
	late := ""
	if day, err := time.ParseInLocation(time.DateOnly, com.Day, d.zone); err == nil && !a.Start.Before(day.AddDate(0, 0, 1)) {
		late = "That is after the day of the hat, " + d.written(com.Day) + ". "
	}
	s.note(c, done+a.Kind+" on "+d.when(a.Start)+". "+late+told)
	return onward(c, "/workroom/commissions/"+a.CommissionID+"#appointments")
}

// toldOf is the commission of an appointment, and whether its client knows what was done.
func (s *Server) toldOf(c *gin.Context, a orders.Appointment) (orders.Commission, string, error) {
	com, err := s.Store.Commission(c.Request.Context(), a.CommissionID)
	if err != nil {
		return com, "", err
	}
	told, err := s.told(c.Request.Context(), com.ClientID)
	return com, told, err
}

// bookAgain shows the diary again when an hour could not be had, with what is free now.
func (s *Server) bookAgain(c *gin.Context, d desk, q diaryQuery, why error) error {
	status := http.StatusUnprocessableEntity
	p, mendable := asProblem(why)
	switch {
	case mendable:
		q.problem = p
	case errors.Is(why, orders.ErrTaken):
		status, q.problem = http.StatusConflict, &orders.Problem{Key: "start", Text: takenHour}
	case errors.Is(why, orders.ErrConflict):
		status, q.problem = http.StatusConflict, &orders.Problem{Key: "start", Text: "This appointment was changed meanwhile. It now stands as shown; choose again if it is still to be moved."}
	default:
		return why
	}
	q.monday = d.weekOf(c.PostForm("week"))
	return s.diaryPage(c, status, d, q)
}

// appointmentView is one appointment, from where it is moved or cancelled.
type appointmentView struct {
	appointmentRow
	Problems []mend
	Version  int
	Move     string // address of the diary in which another hour is chosen; "" when it is over
	Cancel   string
	Missed   string // where it is noted that she did not come, "" before it has begun
	Came     bool   // what pressing there would say
	Often    string // how often she has not come, "" for never
	Week     string
	Todo     nextStep // what is written down at such an appointment
}

// atHour is what is written down at an appointment of a kind, or goes with it; nothing at a fitting or a
// collection before there is a fit sheet.
func (s *Server) atHour(ctx context.Context, a orders.Appointment) (nextStep, error) {
	base := "/workroom/commissions/" + a.CommissionID
	if a.Kind == orders.Consultation {
		return nextStep{Href: base + "/measure", Label: "Write a measure card"}, nil
	}
	sheets, err := s.Store.Sheets(ctx, a.CommissionID)
	switch {
	case err != nil || len(sheets) == 0:
		return nextStep{}, err
	case a.Kind == orders.Fitting:
		return nextStep{Href: base + "/fitting", Label: "Write a fitting note"}, nil
	}
	return nextStep{Href: base + "/care", Label: "Card on wearing and keeping it"}, nil
}

func (s *Server) showAppointment(c *gin.Context) error {
	return s.appointmentPage(c, http.StatusOK, "")
}

func (s *Server) appointmentPage(c *gin.Context, status int, problem string) error {
	ctx := c.Request.Context()
	a, err := s.Store.Appointment(ctx, c.Param("id"))
	if err != nil {
		return err
	}
	d, err := s.desk(ctx)
	if err != nil {
		return err
	}
	week := d.weekOf(a.Start.In(d.zone).Format(time.DateOnly))
	v := appointmentView{appointmentRow: d.appointment(a), Version: a.Version, Week: diaryQuery{}.link(week)}
	if a.State != orders.Cancelled && !v.Past {
		v.Move, v.Cancel = diaryQuery{moveID: a.ID}.link(week), v.Href+"/cancel"
	}
	if a.State != orders.Cancelled && !a.Start.After(d.now) {
		v.Missed, v.Came = v.Href+"/missed", a.Missed
	}
	if a.State != orders.Cancelled && !a.Missed {
		if v.Todo, err = s.atHour(ctx, a); err != nil {
			return err
		}
	}
	missed, err := s.Store.MissedBy(ctx, a.CommissionID)
	if err != nil {
		return err
	}
	if missed > 0 {
		v.Often = count(missed, "appointment", "appointments")
	}
	name := v.Kind + " of " + a.ClientName
	if problem != "" {
		v.Problems, name = []mend{{"state", problem}}, "Problem: "+name
	}
	s.render(c, status, "appointment", s.frame(c, name), v)
	return nil
}

// markMissed notes that a client did not come, or that she did after all.
func (s *Server) markMissed(c *gin.Context) error {
	version, err := strconv.Atoi(c.PostForm("version"))
	if err != nil {
		version = -1 // no version is an old version
	}
	a, err := s.Store.MarkMissed(c.Request.Context(), c.Param("id"), version, c.PostForm("came") != "yes")
	if p, ok := asProblem(err); ok {
		return s.appointmentPage(c, http.StatusUnprocessableEntity, p.Text)
	}
	if errors.Is(err, orders.ErrConflict) {
		return s.appointmentPage(c, http.StatusConflict, "This appointment was changed meanwhile. It now stands as shown.")
	}
	if err != nil {
		return err
	}
	s.note(c, "Noted. The client is told nothing of it.")
	return onward(c, "/workroom/diary/appointments/"+a.ID)
}

func (s *Server) cancelAppointment(c *gin.Context) error {
	version, err := strconv.Atoi(c.PostForm("version"))
	if err != nil {
		version = -1 // no version is an old version
	}
	a, err := s.Store.Cancel(c.Request.Context(), c.Param("id"), version)
	if p, ok := asProblem(err); ok {
		return s.appointmentPage(c, http.StatusUnprocessableEntity, p.Text)
	}
	if errors.Is(err, orders.ErrConflict) {
		return s.appointmentPage(c, http.StatusConflict, "This appointment was changed meanwhile. It now stands as shown; cancel it again if that is still wanted.")
	}
	if err != nil {
		return err
	}
	_, told, err := s.toldOf(c, a)
	if err != nil {
		return err
	}
	s.note(c, "Cancelled, and the hour is free again. "+told)
	return onward(c, "/workroom/commissions/"+a.CommissionID+"#appointments")
}
