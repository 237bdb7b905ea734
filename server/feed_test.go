package server

import (
	"encoding/json"
	"net/http"
	"net/http/httptest"
	"os/exec"
	"strings"
	"testing"
	"time"

	"github.com/apognu/gocal"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/orders"
)

func (s *clientSite) feedPath() string {
	s.t.Helper()
	feed, err := s.store.Feed(s.t.Context())
	require.NoError(s.t, err)
	return orders.FeedPath + feed.Link + "/diary.ics"
}

func TestTheFeedIsSecretAndRevocable(t *testing.T) {
	s := newClientSite(t)
	s.studio()
	_, c := s.sent()
	s.book(c, orders.Fitting, orders.InPerson, thursday)
	shut := s.get(s.feedPath())
	require.Equal(t, http.StatusNotFound, shut.status, "shut until she opens it")
	require.NoError(t, s.store.OpenFeed(t.Context(), false))
	path := s.feedPath()
	open := s.get(path)
	require.Equal(t, http.StatusOK, open.status)
	assert.Contains(t, open.body, "SUMMARY:Fitting "+c.Number)
	assert.NotContains(t, open.body, c.ClientName, "no names unless she wants them")
	for _, wrong := range []string{orders.FeedPath + "diary.AAAA/diary.ics", orders.FeedPath + "x/diary.ics"} {
		assert.Equal(t, shut.body, s.get(wrong).body, "every wrong address gets the same answer")
	}
	require.NoError(t, s.store.OpenFeed(t.Context(), true))
	assert.Equal(t, shut.body, s.get(path).body, "an earlier address is revoked")
	assert.Contains(t, s.get(s.feedPath()).body, c.ClientName, "names where she has turned them on")
	path = s.feedPath()
	require.NoError(t, s.store.ShutFeed(t.Context()))
	assert.Equal(t, http.StatusNotFound, s.get(path).status)
}

func TestTheFeedIsReadAgainOnlyWhenItChanged(t *testing.T) {
	s := newClientSite(t)
	s.studio()
	_, c := s.sent()
	a := s.book(c, orders.Fitting, orders.InPerson, thursday)
	require.NoError(t, s.store.OpenFeed(t.Context(), false))
	ask := func(tag string) *httptest.ResponseRecorder {
		r := httptest.NewRequest(http.MethodGet, s.feedPath(), nil)
		r.Header.Set("If-None-Match", tag)
		w := httptest.NewRecorder()
		s.h.ServeHTTP(w, r)
		return w
	}
	first := ask("")
	tag := first.Header().Get("ETag")
	require.NotEmpty(t, tag)
	for _, known := range []string{tag, "W/" + tag, `"other", ` + tag} {
		again := ask(known)
		require.Equal(t, http.StatusNotModified, again.Code, known)
		require.Empty(t, again.Body.String())
		require.Equal(t, tag, again.Header().Get("ETag"))
	}
	_, err := s.store.Cancel(t.Context(), a.ID, a.Version)
	require.NoError(t, err)
	changed := ask(tag)
	require.Equal(t, http.StatusOK, changed.Code, "a change is seen")
	require.Contains(t, changed.Body.String(), "STATUS:CANCELLED")
}

const pythonFeed = `
import icalendar, json, sys
from datetime import timezone
cal = icalendar.Calendar.from_ical(sys.stdin.buffer.read())
assert str(cal["NAME"]) == str(cal["X-WR-CALNAME"]), "the feed has a name"
assert cal.decoded("REFRESH-INTERVAL").total_seconds() == 3600 if hasattr(cal.decoded("REFRESH-INTERVAL"), "total_seconds") else True
when = lambda e, k: e.decoded(k).astimezone(timezone.utc).strftime("%Y-%m-%dT%H:%M:%SZ")
json.dump([{"UID": str(e["UID"]), "Summary": str(e["SUMMARY"]), "Location": str(e["LOCATION"]), "Status": str(e["STATUS"]),
           "Sequence": int(e["SEQUENCE"]), "Start": when(e, "DTSTART"), "End": when(e, "DTEND")} for e in cal.walk("VEVENT")], sys.stdout)
`

// Two readers that have nothing to do with each other read the same from a feed: across the moves of
// the clock, after a change and after a cancellation.
func TestTheFeedIsReadAlikeByTwoReaders(t *testing.T) {
	zone, err := time.LoadLocation("Europe/London")
	require.NoError(t, err)
	d := desk{zone: zone, now: thursday, studio: orders.Studio{Name: "Tern Lane; Workroom, \\x", Place: "Saltmere"}}
	var list []orders.Appointment
	var want []readEvent
	for i, row := range []struct {
		wall, utc, state string
		sequence         int
	}{
		{"2027-03-27 10:00", "2027-03-27T10:00:00Z", orders.Booked, 0}, {"2027-03-28 10:00", "2027-03-28T09:00:00Z", orders.Confirmed, 0},
		{"2027-10-30 10:00", "2027-10-30T09:00:00Z", orders.MoveAsked, 1}, {"2027-10-31 10:00", "2027-10-31T10:00:00Z", orders.Cancelled, 2},
	} {
		start, err := time.ParseInLocation("2006-01-02 15:04", row.wall, zone)
		require.NoError(t, err)
		id := strings.Repeat(string(rune('a'+i)), 26)
		list = append(list, orders.Appointment{ID: id, CommissionNumber: "27-001", ClientName: "Nella", Kind: orders.Fitting, Place: orders.InPerson,
			State: row.state, Start: start, End: start.Add(time.Hour), Sequence: row.sequence, Changed: thursday})
		utc, err := time.Parse(time.RFC3339, row.utc)
		require.NoError(t, err)
		want = append(want, readEvent{id + "@perchbook", "Fitting 27-001", "Tern Lane; Workroom, \\x, Saltmere", string(calendarStates[row.state]), row.sequence, row.utc, utc.Add(time.Hour).Format(time.RFC3339)})
	}
	file := d.feed(list, false)
	assert.Contains(t, file, "REFRESH-INTERVAL;VALUE=DURATION:PT1H\r\n")
	t.Run("gocal", func(t *testing.T) {
		p := gocal.NewParser(strings.NewReader(file))
		from, to := time.Date(2020, 1, 1, 0, 0, 0, 0, time.UTC), time.Date(2040, 1, 1, 0, 0, 0, 0, time.UTC)
		p.Start, p.End = &from, &to
		require.NoError(t, p.Parse())
		var got []readEvent
		for _, e := range p.Events {
			got = append(got, readEvent{e.Uid, e.Summary, e.Location, e.Status, e.Sequence, e.Start.UTC().Format(time.RFC3339), e.End.UTC().Format(time.RFC3339)})
		}
		assert.ElementsMatch(t, want, got)
	})
	t.Run("python3-icalendar", func(t *testing.T) {
		name, ok := python()
		if !ok {
			readByPython(t, file) // skips, or fails where nothing may be skipped
		}
		cmd := exec.Command(name, "-c", pythonFeed)
		cmd.Stdin = strings.NewReader(file)
		out, err := cmd.Output()
		require.NoError(t, err)
		var got []readEvent
		require.NoError(t, json.Unmarshal(out, &got))
		assert.ElementsMatch(t, want, got)
	})
}
