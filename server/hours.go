package server

import (
	"context"
	"errors"
	"net/http"
	"net/url"
	"slices"
	"time"

	"github.com/gin-gonic/gin"

	"perchbook/orders"
	"perchbook/templates"
)

// hoursView is where a client chooses an hour herself, or moves one.
type hoursView struct {
	Base, Heading, Rule, Shown string
	Kind, Place, Move          string
	Kinds, Places              []choiceLink
	Days                       []hoursDay
	Later                      string // address of the days after these, "" when there are none
	Held                       *heldView
	Waits                      string // what she waits for, "" when she does not
	Wait                       string // what she could wait for
	Zone                       field
	Zones                      []string
	Problems                   []mend
}

type choiceLink struct {
	Href, Label string
	Here        bool
}

// hoursDay is one day as her own clock has it.
type hoursDay struct {
	Name    string
	Choices []hourChoice
}

type hourChoice struct{ Value, Hers, Studio string } // Studio is "" where the clocks agree

// heldView is an hour that is kept for her while she decides.
type heldView struct {
	ID, Words, Until, Button string
	Offered                  bool
}

// zones are offered as she types; any other IANA name may be written.
var zones = []string{
	"Africa/Cairo", "Africa/Johannesburg", "Africa/Lagos", "Africa/Nairobi", "America/Bogota", "America/Chicago", "America/Denver",
	"America/Halifax", "America/Los_Angeles", "America/Mexico_City", "America/New_York", "America/Sao_Paulo", "America/Toronto",
	"Asia/Dubai", "Asia/Hong_Kong", "Asia/Kolkata", "Asia/Singapore", "Asia/Tokyo", "Australia/Melbourne", "Australia/Perth", "Australia/Sydney",
	"Europe/Amsterdam", "Europe/Athens", "Europe/Berlin", "Europe/Dublin", "Europe/Helsinki", "Europe/Lisbon", "Europe/London",
	"Europe/Madrid", "Europe/Paris", "Europe/Rome", "Europe/Warsaw", "Pacific/Auckland", "Pacific/Honolulu",
}

// A twoClocks says a moment by the studio's clock and by the client's.
type twoClocks struct{ studio, hers *time.Location }

func (s *Server) clocks(ctx context.Context, d door, desk desk) (twoClocks, string, error) {
	client, err := s.Store.Client(ctx, d.Commission.ClientID)
	if err != nil {
		return twoClocks{}, "", err
	}
	hers, err := time.LoadLocation(client.Zone)
	if err != nil || client.Zone == "" {
		hers = desk.zone
	}
	return twoClocks{desk.zone, hers}, client.Zone, nil
}

// differ says whether the two clocks show other times at that moment.
func (w twoClocks) differ(t time.Time) bool {
	return t.In(w.studio).Format(time.DateTime) != t.In(w.hers).Format(time.DateTime)
}

// words says a moment on her clock, and on the studio's where that differs.
func (w twoClocks) words(t time.Time) orders.Phrase {
	if !w.differ(t) {
		return orders.Say("%s, studio’s time", orders.SayHour(t.In(w.studio)))
	}
	return orders.Say("%s in your time; %s in the studio’s", orders.SayHour(t.In(w.hers)), orders.SayHour(t.In(w.studio)))
}

// days groups starts by the day on her clock. An hour that comes twice, when clocks are put back, says which it is.
func (w twoClocks) days(l templates.Language, starts []time.Time, most int) (days []hoursDay, next time.Time) {
	for _, t := range starts {
		hers, name := t.In(w.hers), title(l.Put(orders.SayNear(t.In(w.hers))))
		if len(days) == 0 || days[len(days)-1].Name != name {
			if len(days) == most {
				return days, t
			}
			days = append(days, hoursDay{Name: name})
		}
		c := hourChoice{Value: t.UTC().Format(time.RFC3339), Hers: hers.Format(onTheClock)}
		if w.differ(t) {
			c.Studio = t.In(w.studio).Format(onTheClock)
			if t.In(w.studio).YearDay() != hers.YearDay() {
				c.Studio = l.Say(t.In(w.studio).Weekday().String()) + " " + c.Studio
			}
		}
		if twice(hers) {
			c.Hers = hers.Format(onTheClock + " MST")
		}
		last := &days[len(days)-1]
		last.Choices = append(last.Choices, c)
	}
	return days, time.Time{}
}

// twice says whether the clock on the wall shows the same once more, an hour or half an hour away.
func twice(t time.Time) bool {
	for _, by := range []time.Duration{-time.Hour, -30 * time.Minute, 30 * time.Minute, time.Hour} {
		if t.Add(by).Format(onTheClock) == t.Format(onTheClock) {
			return true
		}
	}
	return false
}

// ruleWords is the cancellation rule as it is told before she books.
func (d door) ruleWords(st orders.Studio) string {
	if st.Rules.MoveHours == 0 {
		return d.say("You can move or cancel it here until it begins.")
	}
	return d.Language.Put(orders.SayCount(st.Rules.MoveHours, "You can move or cancel it here until an hour before it begins. After that, please write to the studio.", "You can move or cancel it here until %d hours before it begins. After that, please write to the studio."))
}

// hoursQuery is what she is choosing.
type hoursQuery struct {
	kind, place, move, from string
	zone                    *string // as typed, when it was wrong
	problem                 *orders.Problem
}

func (q hoursQuery) link(base string) string {
	v := url.Values{}
	for _, p := range []pair{{"kind", q.kind}, {"place", q.place}, {"move", q.move}, {"from", q.from}} {
		if p.Value != "" {
			v.Set(p.Name, p.Value)
		}
	}
	return base + "/hours?" + v.Encode()
}

func hoursAsked(get func(string) string) hoursQuery {
	return hoursQuery{kind: get("kind"), place: get("place"), move: get("move"), from: get("from")}
}

func (s *Server) showHours(c *gin.Context, d door) error {
	return s.hoursPage(c, http.StatusOK, d, hoursAsked(c.Query))
}

const (
	hoursAhead = 8 * 7 * 24 * time.Hour // looked through for free hours at once
	daysShown  = 4
)

func (s *Server) hoursPage(c *gin.Context, status int, d door, q hoursQuery) error {
	ctx := c.Request.Context()
	desk, err := s.desk(ctx)
	if err != nil {
		return err
	}
	clocks, zone, err := s.clocks(ctx, d, desk)
	if err != nil {
		return err
	}
	v := hoursView{Base: d.Base, Heading: d.say("Choose an hour"), Rule: d.ruleWords(desk.studio), Zones: zones,
		Shown: d.say("Hours stand as the studio’s clock shows them (%s).", desk.zone.String()),
		Zone:  field{Key: "zone", Label: d.say("Your time zone"), Hint: d.say("Region and city, such as Europe/London. Leave it empty for the studio’s."), Value: zone}}
	if clocks.hers != clocks.studio {
		v.Shown = d.say("Hours stand as your clock shows them (%s), with the studio’s (%s) below where they differ.", zone, desk.zone.String())
	}
	if err := s.whatHour(ctx, &v, d, &q, clocks); err != nil {
		return err
	}
	if err := s.freeHours(ctx, &v, d, q, desk, clocks); err != nil {
		return err
	}
	if err := s.heldHours(ctx, &v, d, clocks); err != nil {
		return err
	}
	if q.zone != nil {
		v.Zone.Value = *q.zone
	}
	if p := q.problem; p != nil && p.Key == "zone" {
		v.Zone.Problem = d.heed(p)
		v.Problems = mends(v.Zone)
	} else if p != nil {
		v.Problems = []mend{{"free", d.heed(p)}}
	}
	f := s.frame(c, v.Heading)
	if len(v.Problems) > 0 {
		f.Title = d.say("Problem: %s", f.Title)
	}
	s.render(c, status, "hours", f, v)
	return nil
}

// whatHour settles kind, place and what is moved, and offers the others.
func (s *Server) whatHour(ctx context.Context, v *hoursView, d door, q *hoursQuery, clocks twoClocks) error {
	if q.move != "" {
		a, err := s.Store.Appointment(ctx, q.move)
		if err != nil {
			return err
		}
		if a.CommissionID != d.Commission.ID {
			return orders.ErrNotFound
		}
		q.kind, q.place = a.Kind, a.Place
		v.Heading = d.say("Move your %s", orders.SayKind(a.Kind))
		v.Rule = d.say("Now on %s. It stays yours until you have taken another.", clocks.words(a.Start)) + " " + v.Rule
	}
	if !slices.Contains(kinds, q.kind) {
		q.kind = usualKind(d.Commission.Stage)
	}
	if may := orders.PlacesOf(q.kind); !slices.Contains(may, q.place) {
		q.place = may[0]
	}
	v.Kind, v.Place, v.Move = q.kind, q.place, q.move
	if q.move != "" {
		return nil
	}
	for _, k := range kinds {
		v.Kinds = append(v.Kinds, choiceLink{hoursQuery{kind: k}.link(d.Base), title(d.say(k)), k == q.kind})
	}
	for _, p := range orders.PlacesOf(q.kind) {
		v.Places = append(v.Places, choiceLink{hoursQuery{kind: q.kind, place: p}.link(d.Base), title(d.say(p)), p == q.place})
	}
	return nil
}

func (s *Server) freeHours(ctx context.Context, v *hoursView, d door, q hoursQuery, desk desk, clocks twoClocks) error {
	from := desk.now
	if t, err := time.ParseInLocation(time.DateOnly, q.from, clocks.hers); err == nil && t.After(from) {
		from = t
	}
	starts, err := s.Store.Free(ctx, q.kind, from, from.Add(hoursAhead))
	if err != nil {
		return err
	}
	days, next := clocks.days(d.Language, starts, daysShown)
	v.Days = days
	if !next.IsZero() {
		q.from = next.In(clocks.hers).Format(time.DateOnly)
		v.Later = q.link(v.Base)
	}
	return nil
}

func (s *Server) heldHours(ctx context.Context, v *hoursView, d door, clocks twoClocks) error {
	list, err := s.Store.Holds(ctx, d.Commission.ID)
	if err != nil {
		return err
	}
	for _, h := range list {
		if v.Held == nil || !h.Offered {
			v.Held = d.held(h, clocks)
		}
	}
	w, err := s.Store.Waiting(ctx, d.Commission.ID)
	switch {
	case err == nil:
		v.Waits = d.say("%s, %s", orders.SayKind(w.Kind), orders.SayKind(w.Place))
	case !errors.Is(err, orders.ErrNotFound):
		return err
	}
	v.Wait = d.say("%s, %s", orders.SayKind(v.Kind), orders.SayKind(v.Place))
	return nil
}

func (d door) held(h orders.Hold, clocks twoClocks) *heldView {
	v := &heldView{ID: h.ID, Words: title(d.say("%s, %s: %s.", orders.SayKind(h.Kind), orders.SayKind(h.Place), clocks.words(h.Start))), Button: d.say("Book this hour"), Offered: h.Offered,
		Until: d.say("It is kept for you until %s on your clock.", h.Expires.In(clocks.hers).Format(onTheClock))}
	if h.Offered {
		v.Until = d.say("It fell free and is kept for you until %s. Then the next who waits is asked.", orders.SayHour(h.Expires.In(clocks.hers)))
	}
	if h.Moves != "" {
		v.Button = d.say("Move to this hour")
	}
	return v
}
