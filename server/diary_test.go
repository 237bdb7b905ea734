package server

import (
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/orders"
)

func TestTheDiaryShowsAnyWeek(t *testing.T) {
	b := signedInBench(t)
	thisWeek := inside(b.see("/workroom/diary"))
	shows(t, thisWeek, "27 April to 3 May 2026")
	shows(t, thisWeek, "free <span>10:00–17:00</span>")
	shows(t, b.see("/workroom/diary?week=2026-06-03"), "1 to 7 June 2026")
	shows(t, b.see("/workroom/diary?week=2026-12-31"), "28 December 2026 to 3 January 2027")
	for _, week := range []string{"x", "2026-13-40", "0000-00-00", "9999-12-31", "-1", "2026-W18", "0001-01-01", "%00", strings.Repeat("9", 400)} {
		assert.Equal(t, thisWeek, inside(b.see("/workroom/diary?week="+url.QueryEscape(week))), "week %.20q is this week", week)
	}
}

// hour is a moment on the studio's clock.
func hour(t *testing.T, at string) time.Time {
	t.Helper()
	london, err := time.LoadLocation("Europe/London")
	require.NoError(t, err)
	start, err := time.ParseInLocation("2006-01-02 15:04", at, london)
	require.NoError(t, err)
	return start
}

func booking(t *testing.T, c orders.Commission, kind, at string) url.Values {
	start := hour(t, at).UTC().Format(time.RFC3339)
	return say("for", c.ID, "kind", kind, "place", orders.InPerson, "start", start, "week", at[:10])
}

func (b *benchSite) booked(c orders.Commission) []orders.Appointment {
	b.t.Helper()
	list, err := b.store.Appointments(b.t.Context(), c.ID)
	require.NoError(b.t, err)
	return list
}

func TestAFreeHourIsBooked(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	page := b.see("/workroom/diary?for=" + c.ID + "&kind=fitting")
	start := hour(t, "2026-04-30 11:00").UTC().Format(time.RFC3339)
	shows(t, page, `value="`+start+`"`)
	shows(t, page, "Book a fitting for Nella Quill")

	form := booking(t, c, orders.Fitting, "2026-04-30 11:00")
	form.Set("place", orders.ByVideo)
	page = b.accepted("/workroom/diary/book", form)
	shows(t, page, "Booked: fitting on Thu 30 April 2026, 11:00")
	a := b.booked(c)[0]
	assert.Equal(t, orders.ByVideo, a.Place)
	assert.True(t, a.Start.Equal(hour(t, "2026-04-30 11:00")), "booked at %s", a.Start)
	require.Len(t, b.letters(c), 1, "the client is told")

	week := b.see("/workroom/diary?week=2026-04-30")
	shows(t, week, "11:00–11:45")
	shows(t, week, "free <span>12:00–17:00</span>") // a quarter of an hour is kept free after it
	for _, kind := range []string{"", "nonsense"} {
		shows(t, b.see("/workroom/diary?for="+c.ID+"&kind="+kind), "Book a consultation")
	}
}

func TestTwoOverlappingBookings(t *testing.T) {
	b := signedInBench(t)
	first, second := b.enquiry(orders.DoorWeb, nil), b.enquiry(orders.DoorWeb, map[string]string{"name": "Tamsin Reed"})
	b.accepted("/workroom/diary/book", booking(t, first, orders.Consultation, "2026-04-30 11:00"))
	for _, at := range []string{"2026-04-30 11:00", "2026-04-30 11:45", "2026-04-30 12:00", "2026-04-30 10:30"} { // the last runs into it
		page := b.refused(http.StatusConflict, "/workroom/diary/book", booking(t, second, orders.Fitting, at))
		shows(t, page, takenHour)
		hides(t, page, `value="`+hour(t, at).UTC().Format(time.RFC3339)+`"`)
	}
	require.Empty(t, b.booked(second), "nothing was booked twice")
	b.accepted("/workroom/diary/book", booking(t, second, orders.Fitting, "2026-04-30 12:15"))
}

func TestAnHourThatCannotBeHad(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	for what, at := range map[string]string{
		"past": "2026-04-27 11:00", "at night": "2026-04-30 03:00", "on Sunday": "2026-05-03 11:00", "past closing": "2026-04-30 16:45",
		"off the quarter hour": "2026-04-30 11:05", "in ten years": "2036-04-30 11:00",
	} {
		b.refused(http.StatusUnprocessableEntity, "/workroom/diary/book", booking(t, c, orders.Fitting, at))
		assert.Empty(t, b.booked(c), what)
	}
	for _, start := range []string{"", "x", "2026-04-30", "NaN"} {
		form := booking(t, c, orders.Fitting, "2026-04-30 11:00")
		form.Set("start", start)
		shows(t, b.refused(http.StatusUnprocessableEntity, "/workroom/diary/book", form), "Choose one of the free hours")
	}
	for name, values := range map[string]string{"kind": "party", "place": "on the moon"} {
		form := booking(t, c, orders.Fitting, "2026-04-30 11:00")
		form.Set(name, values)
		b.refused(http.StatusUnprocessableEntity, "/workroom/diary/book", form)
	}
	assert.Empty(t, b.booked(c), "nothing was booked")
}

func TestAnHourThatIsNotListed(t *testing.T) {
	b := signedInBench(t)
	st, err := b.store.Studio(t.Context())
	require.NoError(t, err)
	for day := range time.Weekday(7) {
		st.Hours = append(st.Hours, orders.Hours{Day: day, Opens: 0, Shuts: 6 * 60})
	}
	_, err = b.store.SaveStudio(t.Context(), st)
	require.NoError(t, err)
	c := b.enquiry(orders.DoorWeb, nil)
	form := func(on, at string) url.Values {
		return say("for", c.ID, "kind", orders.Collection, "place", orders.InPerson, "on", on, "at", at)
	}
	for _, odd := range [][2]string{{"2026-04-28", ""}, {"", "15:00"}, {"tomorrow", "noon"}, {"2026-02-30", "15:00"}, {"2026-04-28", "25:00"}} {
		page := b.refused(http.StatusUnprocessableEntity, "/workroom/diary/book", form(odd[0], odd[1]))
		shows(t, page, `value="`+odd[0]+`"`)
	}
	skipped := b.refused(http.StatusUnprocessableEntity, "/workroom/diary/book", form("2027-03-28", "01:30")) // summer time begins
	shows(t, skipped, "put forward over it")
	b.accepted("/workroom/diary/book", form("2026-04-28", "15:00")) // sooner than the least notice
	assert.True(t, b.booked(c)[0].Start.Equal(hour(t, "2026-04-28 15:00")))

	other := b.enquiry(orders.DoorWeb, map[string]string{"name": "Tamsin Reed"})
	both := func(start string) url.Values {
		return say("for", other.ID, "kind", orders.Collection, "place", orders.InPerson, "on", "2026-04-28", "at", "16:00", "start", start)
	}
	b.accepted("/workroom/diary/book", both("written")) // whatever was marked before
	b.accepted("/workroom/diary/book", both(hour(t, "2026-04-30 11:00").UTC().Format(time.RFC3339)))
	assert.True(t, b.booked(other)[0].Start.Equal(hour(t, "2026-04-28 16:00")), "the hour written was meant")
	assert.True(t, b.booked(other)[1].Start.Equal(hour(t, "2026-04-30 11:00")), "the hour marked was meant")
	shows(t, b.refused(http.StatusUnprocessableEntity, "/workroom/diary/book", say("for", other.ID, "kind", orders.Fitting, "start", "written")), "Write the day and the hour")
}

func TestAnAppointmentIsMovedAndCancelled(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	b.accepted("/workroom/diary/book", booking(t, c, orders.Fitting, "2026-04-30 11:00"))
	a := b.booked(c)[0]
	_, err := b.store.AskToMove(t.Context(), a.ID, "Could it be <later>?")
	require.NoError(t, err)
	a = b.booked(c)[0]
	at := "/workroom/diary/appointments/" + a.ID
	shows(t, b.see(at), "asks to move")
	shows(t, b.see(at), "Could it be &lt;later&gt;?")
	move := b.see("/workroom/diary?move=" + a.ID + "&week=2026-04-30")
	shows(t, move, "Move the fitting of Nella Quill")
	shows(t, move, "Could it be &lt;later&gt;?")

	form := say("version", strconv.Itoa(a.Version), "start", hour(t, "2026-05-01 15:30").UTC().Format(time.RFC3339), "week", "2026-05-01")
	page := b.accepted(at+"/move", form)
	shows(t, page, "Moved: fitting on Fri 1 May 2026, 15:30")
	b.refused(http.StatusConflict, at+"/move", form) // from the old page
	b.refused(http.StatusConflict, at+"/cancel", say("version", strconv.Itoa(a.Version)))
	assert.True(t, b.booked(c)[0].Start.Equal(hour(t, "2026-05-01 15:30")), "it moved once")

	other := b.enquiry(orders.DoorWeb, map[string]string{"name": "Tamsin Reed"})
	b.accepted("/workroom/diary/book", booking(t, other, orders.Fitting, "2026-04-30 11:00")) // the old hour is free again
	version := strconv.Itoa(b.booked(c)[0].Version)
	taken := say("version", version, "start", hour(t, "2026-04-30 11:15").UTC().Format(time.RFC3339))
	shows(t, b.refused(http.StatusConflict, at+"/move", taken), takenHour)

	page = b.accepted(at+"/cancel", say("version", version))
	shows(t, page, "cancelled")
	shows(t, b.see(at), "nothing can be changed here")
	b.refused(http.StatusUnprocessableEntity, at+"/cancel", say("version", version))
	hides(t, b.see("/workroom/diary?week=2026-05-01"), "Nella Quill")
}

func TestTheClockChangesOverAWeek(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, map[string]string{"day": "2026-12-12"})
	for _, at := range []string{"2026-10-23 11:00", "2026-10-26 11:00"} { // summer time ends on the 25th
		b.accepted("/workroom/diary/book", booking(t, c, orders.Fitting, at))
		shows(t, b.see("/workroom/diary?week="+at[:10]), "11:00–11:45")
	}
	list := b.booked(c)
	assert.Equal(t, 73*time.Hour, list[1].Start.Sub(list[0].Start), "three days and the hour that comes twice")
}
