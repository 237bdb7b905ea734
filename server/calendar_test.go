package server

import (
	"encoding/json"
	"net/http"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"

	"github.com/apognu/gocal"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/orders"
	"perchbook/templates"
)

// an event as a calendar understands it
type readEvent struct {
	UID, Summary, Location, Status string
	Sequence                       int
	Start, End                     string // UTC, RFC 3339
}

// readByGocal and readByPython are two readers that have nothing to do with what writes our files.
func readByGocal(t *testing.T, file string) readEvent {
	t.Helper()
	p := gocal.NewParser(strings.NewReader(file))
	from, to := time.Date(2020, 1, 1, 0, 0, 0, 0, time.UTC), time.Date(2040, 1, 1, 0, 0, 0, 0, time.UTC)
	p.Start, p.End = &from, &to
	require.NoError(t, p.Parse())
	require.Len(t, p.Events, 1)
	e := p.Events[0]
	return readEvent{e.Uid, e.Summary, e.Location, e.Status, e.Sequence, e.Start.UTC().Format(time.RFC3339), e.End.UTC().Format(time.RFC3339)}
}

const pythonReader = `
import icalendar, json, sys
from datetime import timezone
cal = icalendar.Calendar.from_ical(sys.stdin.buffer.read())
events = cal.walk("VEVENT")
assert len(events) == 1 and len(cal.subcomponents) == 1, "one event and nothing else"
e = events[0]
when = lambda k: e.decoded(k).astimezone(timezone.utc).strftime("%Y-%m-%dT%H:%M:%SZ")
json.dump({"UID": str(e["UID"]), "Summary": str(e["SUMMARY"]), "Location": str(e["LOCATION"]), "Status": str(e["STATUS"]),
           "Sequence": int(e["SEQUENCE"]), "Start": when("DTSTART"), "End": when("DTEND")}, sys.stdout)
`

// python is an interpreter that has the package icalendar: Debian's own, which may not be the first
// in the path.
func python() (string, bool) {
	for _, name := range []string{"python3", "/usr/bin/python3"} {
		if exec.Command(name, "-c", "import icalendar").Run() == nil {
			return name, true
		}
	}
	return "", false
}

func readByPython(t *testing.T, file string) readEvent {
	t.Helper()
	name, ok := python()
	if !ok && os.Getenv("PERCHBOOK_NEED_ALL") != "" {
		t.Fatal("python3-icalendar is missing and PERCHBOOK_NEED_ALL is set")
	} else if !ok {
		t.Skip("skipped: python3-icalendar is missing; .ci/run installs it")
	}
	cmd := exec.Command(name, "-c", pythonReader)
	cmd.Stdin = strings.NewReader(file)
	cmd.Stderr = os.Stderr
	out, err := cmd.Output()
	require.NoError(t, err, "python3-icalendar reads the file")
	var e readEvent
	require.NoError(t, json.Unmarshal(out, &e))
	return e
}

var calendarReaders = map[string]func(*testing.T, string) readEvent{"gocal": readByGocal, "python3-icalendar": readByPython}

func TestCalendarFileThroughABookingsLife(t *testing.T) {
	s := newClientSite(t)
	s.studio()
	hat, c := s.sent()
	a := s.book(c, orders.Fitting, orders.InPerson, thursday)
	file := func() string {
		got := s.get(hat + "/appointments/" + a.ID + "/calendar.ics")
		require.Equal(t, http.StatusOK, got.status)
		require.Equal(t, "text/calendar; charset=utf-8", got.kind)
		return got.body
	}
	want := readEvent{a.ID + "@perchbook", "Fitting for your hat, The Tern Lane Workroom", "The Tern Lane Workroom, Saltmere", "TENTATIVE", 0,
		"2027-04-08T13:30:00Z", "2027-04-08T14:15:00Z"}
	for reader, read := range calendarReaders {
		t.Run(reader, func(t *testing.T) { assert.Equal(t, want, read(t, file()), "as booked") })
	}
	s.post(hat+"/appointments/"+a.ID+"/confirm", nil)
	assert.Equal(t, "CONFIRMED", readByGocal(t, file()).Status)

	now, err := s.store.Appointment(t.Context(), a.ID)
	require.NoError(t, err)
	now, err = s.store.Rebook(t.Context(), a.ID, now.Version, thursday.Add(24*time.Hour))
	require.NoError(t, err)
	moved := readByGocal(t, file())
	assert.Equal(t, want.UID, moved.UID, "a moved appointment is the same event")
	assert.Greater(t, moved.Sequence, want.Sequence, "and a newer one")
	assert.Equal(t, "2027-04-09T13:30:00Z", moved.Start)

	_, err = s.store.Cancel(t.Context(), a.ID, now.Version)
	require.NoError(t, err)
	gone := readByGocal(t, file())
	assert.Equal(t, "CANCELLED", gone.Status)
	assert.Greater(t, gone.Sequence, moved.Sequence)
	assert.NotContains(t, file(), "Wren", "a calendar file has no name in it")
}

// What a studio calls itself can break no calendar file.
func TestCalendarTextsBeginNoLines(t *testing.T) {
	d := desk{zone: time.UTC, now: thursday, studio: orders.Studio{
		Name:  "Tern\r\nATTENDEE:mailto:x@x.example\rX-EVIL:1\nEND:VEVENT; Lane, \\ “Workroom” \u2028\x00\x85" + strings.Repeat("ß", 120),
		Place: "Salt\tmere", Reach: "a\r\nb",
	}}
	file := d.calendar(templates.English, orders.Appointment{ID: "a1", Kind: orders.Consultation, Place: orders.InPerson, State: orders.Booked, Start: thursday, End: thursday.Add(time.Hour)})
	for line := range strings.SplitSeq(strings.TrimSuffix(file, "\r\n"), "\r\n") {
		assert.LessOrEqual(t, len(line), 75, "lines are folded")
		assert.NotContains(t, line, "\n", "lines end in CR LF and nothing else")
		assert.NotContains(t, line, "\r")
		for _, forbidden := range []string{"ATTENDEE", "X-EVIL"} {
			assert.False(t, strings.HasPrefix(line, forbidden), "a text began a line: %q", line)
		}
	}
	for reader, read := range calendarReaders {
		t.Run(reader, func(t *testing.T) {
			e := read(t, file)
			assert.Contains(t, e.Summary, "Lane, \\ “Workroom”", "read as written")
			assert.Contains(t, e.Summary, strings.Repeat("ß", 120), "unfolded")
		})
	}
}
