package server

import (
	"cmp"
	"slices"

	"perchbook/orders"
)

// hourView is one appointment as the client sees it.
type hourView struct {
	ID, Kind, Day, From, To, Zone, Venue string
	State                                string // in words
	Open                                 bool   // still to come, so that it can be confirmed or moved
	Confirmed                            bool
	Calendar, Confirm, Move              string // addresses
	Rebook, Cancel, Rule                 string // addresses, "" when it is too late for them; the rule in words
	Hers                                 string // the hour on her own clock, "" where it shows the same
	Said                                 string // the wish she has sent
	Wish                                 field
	Problem                              string // with an appointment that can't be answered any more
}

// mends lists what is wrong with the answer to an appointment.
func (h hourView) mends() []mend {
	if h.Problem != "" {
		return []mend{{"hour-" + h.ID, h.Problem}}
	}
	return mends(h.Wish)
}

var hourStates = map[string]string{
	orders.Booked:    "Booked for you. Please confirm it, or ask for another time.",
	orders.Confirmed: "You have said yes.",
	orders.MoveAsked: "You have asked for another time. Until the studio answers, this one stays yours.",
	orders.Cancelled: "Cancelled.",
}

// hoursOf lists the appointments, those to come first and the nearest on top.
func (d desk) hoursOf(at door, clocks twoClocks, booked []orders.Appointment, w wish) []hourView {
	past := func(a orders.Appointment) bool { return !a.Start.After(d.now) }
	slices.SortStableFunc(booked, func(a, b orders.Appointment) int {
		if past(a) != past(b) {
			return map[bool]int{false: -1, true: 1}[past(a)]
		}
		return cmp.Compare(a.Start.Unix(), b.Start.Unix())
	})
	var hours []hourView
	for _, a := range booked {
		hours = append(hours, d.hour(at, clocks, a, w))
	}
	return hours
}

func (d desk) hour(at door, clocks twoClocks, a orders.Appointment, w wish) hourView {
	base, start := at.Base+"/appointments/"+a.ID, a.Start.In(d.zone)
	short, _ := start.Zone()
	h := hourView{
		ID: a.ID, Kind: title(at.say(a.Kind)), Day: title(at.Language.Put(orders.SayWeekday(start))), From: start.Format("15:04"), To: a.End.In(d.zone).Format("15:04"),
		Zone: at.say("the studio’s time, %s", short), Venue: d.venue(at.Language, a), State: at.say(hourStates[a.State]),
		Open: a.Start.After(d.now) && a.State != orders.Cancelled, Confirmed: a.State == orders.Confirmed,
		Calendar: base + "/calendar.ics", Confirm: base + "/confirm", Move: base + "/move", Said: a.Wish,
		Wish: field{Key: "wish-" + a.ID, Label: at.say("Which days and times would suit you?"), Hint: at.say("In your own words, such as “any Thursday after four”.")},
	}
	if clocks.differ(a.Start) {
		h.Hers = at.say("%s on your clock (%s)", orders.SayHour(a.Start.In(clocks.hers)), clocks.hers.String())
	}
	if h.Open && a.ChangeableBy(d.studio, d.now) {
		h.Rebook, h.Cancel = hoursQuery{move: a.ID}.link(at.Base), base+"/cancel"
		h.Rule = at.say("Until %s you can move or cancel it here.", clocks.words(d.studio.ChangeUntil(a.Start)))
	}
	if !h.Open && a.State != orders.Cancelled {
		h.State = at.say("This has passed.")
	}
	switch {
	case w.appointment != a.ID:
	case h.Open:
		h.Wish.Value, h.Wish.Problem = w.text, w.problem
	default:
		h.Problem = w.problem
	}
	return h
}
