package server

import (
	"context"
	"fmt"
	"time"

	"perchbook/orders"
)

// milestoneWords name the milestones, and say what has or had to be done.
var milestoneWords = map[orders.Milestone]struct{ name, must, missed string }{
	orders.ToAgree:    {"Agreed", "It has to be agreed", "It should have been agreed"},
	orders.ToPay:      {"Deposit here", "The deposit has to be here", "The deposit should have been here"},
	orders.ToHave:     {"Cloth here", "The cloth has to be here", "The cloth should have been here"},
	orders.ToFit:      {"Fitted", "The fitting has to be over", "The fitting should have been over"},
	orders.ToFinish:   {"Finished", "It has to be finished", "It should have been finished"},
	orders.ToHandOver: {"Handed over", "It has to leave the workroom", "It should have left the workroom"},
	"":                {"The day", "", ""},
}

const dayShort = "Mon 2 January"

// riskWord is how a commission stands in a word or two; a shape goes with it on the page.
var riskWord = map[orders.Risk]string{
	orders.InTime: "in time", orders.ThisWeek: "this week", orders.Late: "late", orders.DayPast: "day past",
}

// riskSentence says how a commission stands, and why; "" when there is nothing to say.
func riskSentence(st orders.Standing) string {
	w, by := milestoneWords[st.Next], st.By.Format(dayShort)
	switch st.Risk {
	case orders.DayPast:
		return "The day it is for has passed. Hand it over, or move it on."
	case orders.Late:
		return fmt.Sprintf("Late. %s by %s, %s.", w.missed, by, count(-st.Days, "day ago", "days ago"))
	case orders.ThisWeek:
		return fmt.Sprintf("This week. %s by %s, %s.", w.must, by, daysOff(st.Days))
	case orders.InTime:
		return fmt.Sprintf("In time. %s by %s, %s.", w.must, by, daysOff(st.Days))
	}
	return ""
}

func daysOff(n int) string {
	switch n {
	case 0:
		return "today"
	case 1:
		return "tomorrow"
	}
	return fmt.Sprintf("in %d days", n)
}

// dueStep is what the milliner does about what is due.
func dueStep(c orders.Planned, st orders.Standing) nextStep {
	base := "/workroom/commissions/" + c.ID
	booking := "/workroom/diary?for=" + c.ID
	switch {
	case st.Risk == orders.DayPast:
		return nextStep{Href: base + "#move", Label: "Move it on"}
	case c.HourID != "" && c.Stage != orders.Finishing:
		return nextStep{Href: "/workroom/diary/appointments/" + c.HourID, Label: "Look at the appointment"}
	case c.Stage == orders.Enquiry:
		return nextStep{Href: base + "/measure", Label: "Write a measure card"}
	case c.Stage == orders.Measured:
		return nextStep{Href: base + "/settle", Label: "Settle the hat"}
	case c.Stage == orders.Proposed:
		return nextStep{Href: base + "/money", Label: "Quotation and payments"}
	case st.Next == orders.ToPay:
		return nextStep{Href: base + "/money", Label: "Write the deposit down"}
	case c.Stage == orders.Agreed:
		return nextStep{Href: base + "#move", Label: "Begin to cut"}
	case c.Stage == orders.InHand:
		return nextStep{Href: booking + "&kind=fitting", Label: "Book the fitting"}
	case c.Stage == orders.Ready:
		return nextStep{Href: booking + "&kind=collection", Label: "Book the collection"}
	}
	return nextStep{Href: base + "#move", Label: "Move it on"}
}

// benchHours writes minutes at the bench as hours: "7.5 h".
func benchHours(minutes int) string { return shortest(float64(minutes)/60, 1) + " h" }

// planView is a commission's latest dates on its own page.
type planView struct {
	Risk, Word, Sentence string // Risk: "fine", "near" or "late"
	Steps                []planStep
	Usual                bool // nobody has set the lead times yet
	Verdict              string
}

type planStep struct{ Name, By, State string } // State: "done", "comes" (next), "missed" or ""

var riskClass = map[orders.Risk]string{orders.InTime: "fine", orders.ThisWeek: "near", orders.Late: "late", orders.DayPast: "late"}

// planOf shows a commission's latest dates; nil when it has none.
func planOf(p orders.Plan, c orders.Planned, v orders.Verdict) *planView {
	st := p.Standing(c)
	if st.Risk == orders.NoRisk {
		return nil
	}
	view := &planView{
		Risk: riskClass[st.Risk], Word: riskWord[st.Risk], Sentence: riskSentence(st), Usual: p.Pace.Version == 0, Verdict: benchVerdict(v),
	}
	state := "done"
	for _, m := range orders.Milestones {
		by := st.Latest.By(m)
		switch {
		case m == st.Next:
			state = "comes"
		case state == "comes" || state == "missed":
			state = ""
		}
		if (state == "comes" || state == "") && by.Before(p.Today) {
			state = "missed"
		}
		view.Steps = append(view.Steps, planStep{milestoneWords[m].name, written(by), state})
	}
	return view
}

func written(day time.Time) string { return day.Format("Mon 2 January 2006") }

// benchVerdict is the truth about an enquiry in the milliner's words; "" when there is time, or
// nothing to say.
func benchVerdict(v orders.Verdict) string {
	switch v {
	case orders.WeeksFull:
		return "The weeks before that day are full: the hours are taken by hats that are agreed. Say no, or ask for the rush fee."
	case orders.TimeShort:
		return "By your lead times it should have been agreed already. Say no, or ask for the rush fee."
	case orders.TooShort:
		return "Less time is left than the making takes, with the cloth at hand."
	}
	return ""
}

// herVerdict is the same truth in words for the client; empty when nothing needs to be said.
func herVerdict(v orders.Verdict, st orders.Standing, p orders.Pace) orders.Phrase {
	or := orders.Say("It may have to say no.")
	if p.RushFee > 0 {
		or = orders.Say("It can say yes with a rush fee of %s, or it has to say no.", p.Currency.Phrase(p.RushFee))
	}
	switch v {
	case orders.ThereIsTime:
		return orders.Say("There is time to make it: you and the studio should have agreed by %s.", orders.SayWeekday(st.Latest.By(orders.ToAgree)))
	case orders.WeeksFull:
		return orders.Say("The weeks before your day are full. %s The studio will write to you, so that you can decide.", or)
	case orders.TimeShort:
		return orders.Say("Your day is near. A hat for it is usually agreed by %s. %s The studio will write to you, so that you can decide.", orders.SayDay(st.Latest.By(orders.ToAgree)), or)
	case orders.TooShort:
		return orders.Say("Your day is very near: less time is left than a hat takes to make here. The studio will look at it and tell you soon and plainly, but please don’t count on it.")
	}
	return orders.Phrase{}
}

// planOn reads a commission's plan for its own page; nil when it has none.
func (s *Server) planOn(ctx context.Context, id string) (*planView, error) {
	p, c, v, err := s.judged(ctx, id)
	if err != nil {
		return nil, err
	}
	return planOf(p, c, v), nil
}

// truthFor says to the client whether there is time for her hat; "" when nothing needs to be said.
func (s *Server) truthFor(ctx context.Context, d door) (string, error) {
	p, c, v, err := s.judged(ctx, d.Commission.ID)
	if err != nil {
		return "", err
	}
	return d.Language.Put(herVerdict(v, p.Standing(c), p.Pace)), nil
}

// judged reads what is planned for a commission, and whether there is time for it.
func (s *Server) judged(ctx context.Context, id string) (p orders.Plan, c orders.Planned, v orders.Verdict, err error) {
	if p, err = s.Store.Plan(ctx); err == nil {
		c, err = s.Store.Planned(ctx, id)
	}
	if err == nil {
		v, err = s.Store.Verdict(ctx, p, c)
	}
	return p, c, v, err
}
