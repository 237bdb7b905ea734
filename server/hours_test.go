package server

import (
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/orders"
	"perchbook/templates"
)

var firstChoice = regexp.MustCompile(`name="start" value="([^"]+)"`)

// chooses holds the first free hour and returns the hold's id as her page shows it.
func (s *clientSite) chooses(hat, query string) string {
	s.t.Helper()
	page := s.see(hat + "/hours?" + query)
	choice := firstChoice.FindStringSubmatch(page)
	require.NotNil(s.t, choice, "an hour is free")
	form, err := url.ParseQuery(query)
	require.NoError(s.t, err)
	form.Set("start", choice[1])
	got := s.post(hat+"/hours/hold", form)
	require.Equal(s.t, http.StatusSeeOther, got.status, got.body)
	id := regexp.MustCompile(`name="hold" value="([^"]+)"`).FindStringSubmatch(s.see(hat + "/hours?" + query))
	require.NotNil(s.t, id, "the held hour stands on the page")
	return id[1]
}

func TestSheBooksMovesAndCancelsHerself(t *testing.T) {
	s := newClientSite(t)
	s.studio()
	hat, c := s.sent()
	assert.Contains(t, s.see(hat), "Book an hour yourself")
	page := s.see(hat + "/hours?kind=fitting")
	assert.Contains(t, page, "You can move or cancel it here", "the rule is told before she books")
	got := s.post(hat+"/hours/hold", say("kind", "fitting", "place", orders.InPerson))
	require.Equal(t, http.StatusUnprocessableEntity, got.status, "nothing chosen")
	hold := s.chooses(hat, "kind=fitting&place=by+video")
	require.Equal(t, http.StatusSeeOther, s.post(hat+"/hours/take", say("hold", hold)).status)
	all, err := s.store.Appointments(t.Context(), c.ID)
	require.NoError(t, err)
	require.Len(t, all, 1)
	require.Equal(t, orders.Confirmed, all[0].State)
	require.Equal(t, http.StatusUnprocessableEntity, s.post(hat+"/hours/take", say("hold", hold)).status, "taken twice")

	assert.Contains(t, s.see(hat), "Move it yourself")
	hold = s.chooses(hat, "move="+all[0].ID)
	s.post(hat+"/hours/take", say("hold", hold))
	moved, err := s.store.Appointment(t.Context(), all[0].ID)
	require.NoError(t, err)
	require.NotEqual(t, all[0].Start, moved.Start)
	require.Equal(t, http.StatusSeeOther, s.post(hat+"/appointments/"+moved.ID+"/cancel", nil).status)
	gone, err := s.store.Appointment(t.Context(), moved.ID)
	require.NoError(t, err)
	require.Equal(t, orders.Cancelled, gone.State)
	require.Equal(t, http.StatusUnprocessableEntity, s.post(hat+"/appointments/"+moved.ID+"/cancel", nil).status)

	other, _ := s.sent()
	for _, path := range []string{"/appointments/" + moved.ID + "/cancel", "/hours/hold"} {
		got := s.post(other+path, say("move", moved.ID, "start", moved.Start.Format(time.RFC3339)))
		assert.Equal(t, http.StatusNotFound, got.status, "another's appointment: %s", path)
	}
}

func TestSheWaitsAndReadsHoursOnHerClock(t *testing.T) {
	s := newClientSite(t)
	s.studio()
	hat, c := s.sent()
	require.Equal(t, http.StatusSeeOther, s.post(hat+"/hours/wait", say("kind", "fitting", "place", orders.InPerson)).status)
	assert.Contains(t, s.see(hat+"/hours"), "You wait for: fitting, "+orders.InPerson)
	s.post(hat+"/hours/stop", nil)
	assert.NotContains(t, s.see(hat+"/hours"), "You wait for")
	assert.NotContains(t, s.see(hat+"/hours"), "<small>studio", "one clock is enough where both agree")

	got := s.post(hat+"/hours/zone", say("zone", "Here & There"))
	require.Equal(t, http.StatusUnprocessableEntity, got.status)
	assert.Contains(t, got.body, "Here &amp; There", "what was typed stays")
	require.Equal(t, http.StatusSeeOther, s.post(hat+"/hours/zone", say("zone", "Asia/Tokyo")).status)
	assert.Contains(t, s.see(hat+"/hours"), "<small>studio", "both clocks where they differ")
	s.book(c, orders.Fitting, orders.InPerson, thursday)
	assert.Contains(t, s.see(hat), "Thursday 8 April 2027, 22:30 on your clock (Asia/Tokyo)")
}

// Hours are grouped by her day, and an hour that comes twice on her clock is told apart.
func TestHoursOnHerClockWhenClocksAreMoved(t *testing.T) {
	zone := func(name string) *time.Location {
		loc, err := time.LoadLocation(name)
		require.NoError(t, err)
		return loc
	}
	at := func(text string) time.Time {
		moment, err := time.Parse(time.RFC3339, text)
		require.NoError(t, err)
		return moment
	}
	for name, row := range map[string]struct {
		studio, hers string
		starts       []string
		want         string
	}{
		"hers put forward":    {"Asia/Tokyo", "Europe/London", []string{"2027-03-28T00:45:00Z", "2027-03-28T01:00:00Z"}, "Sunday 28 March: 00:45 (09:45) 02:00 (10:00)"},
		"hers put back":       {"Asia/Tokyo", "Europe/London", []string{"2027-10-31T00:30:00Z", "2027-10-31T01:30:00Z", "2027-10-31T02:30:00Z"}, "Sunday 31 October: 01:30 BST (09:30) 01:30 GMT (10:30) 02:30 (11:30)"},
		"studio's put back":   {"America/New_York", "Europe/London", []string{"2027-11-07T05:30:00Z", "2027-11-07T06:30:00Z"}, "Sunday 7 November: 05:30 (01:30) 06:30 (01:30)"},
		"another day":         {"Europe/London", "Pacific/Auckland", []string{"2027-06-08T13:00:00Z"}, "Wednesday 9 June: 01:00 (Tuesday 14:00)"},
		"same clock":          {"Europe/London", "Europe/Lisbon", []string{"2027-06-08T13:00:00Z"}, "Tuesday 8 June: 14:00"},
		"only one has summer": {"Europe/London", "Africa/Abidjan", []string{"2027-03-27T10:00:00Z", "2027-03-28T09:00:00Z"}, "Saturday 27 March: 10:00; Sunday 28 March: 09:00 (10:00)"},
		"half an hour's move": {"UTC", "Australia/Lord_Howe", []string{"2027-04-03T14:45:00Z", "2027-04-03T15:15:00Z"}, "Sunday 4 April: 01:45 +11 (Saturday 14:45) 01:45 +1030 (Saturday 15:15)"},
	} {
		var starts []time.Time
		for _, s := range row.starts {
			starts = append(starts, at(s))
		}
		days, next := twoClocks{zone(row.studio), zone(row.hers)}.days(templates.English, starts, 5)
		require.True(t, next.IsZero(), name)
		var said []string
		for _, d := range days {
			line := d.Name + ":"
			for _, c := range d.Choices {
				line += " " + c.Hers
				if c.Studio != "" {
					line += " (" + c.Studio + ")"
				}
			}
			said = append(said, line)
		}
		assert.Equal(t, row.want, strings.Join(said, "; "), name)
	}
}

func TestStudioDaysAsTyped(t *testing.T) {
	days, problem := readClosed("24 December 2026 – 2 January 2027\n5 May 2027")
	require.Empty(t, problem)
	require.Len(t, days, 11)
	assert.Equal(t, []string{"24 December 2026 – 2 January 2027", "5 May 2027"}, closedLines(days), "and back")
	for _, wrong := range []string{"2 January 2027 – 24 December 2026", "1 May 2020 to 1 May 2027", "1 May 2027 – soon", "1 May 2027 – 2 May 2027 – 3 May 2027"} {
		_, problem := readClosed(wrong)
		assert.NotEmpty(t, problem, wrong)
	}
	list, problem := readExceptions("5 May 2027: 9–12, 14:00–16:30\n3 May 2027: 18-20")
	require.Empty(t, problem)
	assert.Equal(t, "3 May 2027: 18:00–20:00\n5 May 2027: 9:00–12:00, 14:00–16:30", exceptionWords(list))
	for _, wrong := range []string{"5 May 2027", "5 May 2027: never", "soon: 9–12", "5 May 2027: closed", "5 May 2027: 9-10\n5 May 2027: 11-12"} {
		_, problem := readExceptions(wrong)
		assert.NotEmpty(t, problem, wrong)
	}
}
