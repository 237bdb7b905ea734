package bot

import (
	"fmt"
	"strings"

	"perchbook/orders"
)

// other deals with what is no words; nothing of it is kept.
func (t *talk) other() bool {
	switch {
	case t.heard.Edited:
		t.askAgain("I do not see what was changed in an older message. Please write it again, or \"change\" to pick an answer.")
	case t.heard.Other != "":
		text, known := others[t.heard.Other]
		if !known {
			text = others[Unknown]
		}
		t.askAgain(text)
	default:
		return false
	}
	return true
}

// letter passes words on to the milliner, once there is someone for her to answer.
func (t *talk) letter() bool {
	if !t.Sent || strings.TrimSpace(t.heard.Text) == "" {
		return false
	}
	t.change.Heard, t.change.Letter = t.heard.Text, true
	t.say(fmt.Sprintf("I have passed that on to %s. The answer comes here.", t.Studio), t.afterButtons()...)
	return true
}

func (t *talk) lost() bool {
	t.askAgain("I did not understand that.")
	return true
}

func (t *talk) help() {
	lines := []string{"You can write:"}
	for _, c := range commands() {
		if c.help != "" {
			lines = append(lines, c.name+" – "+c.help)
		}
	}
	lines = append(lines, "Lengths as you read them: 57, 57,5 cm, 22 1/2 in.",
		"Your own page, which has drawings of where the tape runs: {link}")
	t.askAgain(strings.Join(lines, "\n"))
}

func (t *talk) afterwards() string {
	return fmt.Sprintf("Whatever you write here now goes to %s, and the answer comes here.", t.Studio)
}

func (t *talk) afterButtons() []orders.Option {
	return []orders.Option{doButton("where is my hat"), doButton("fitting"), doButton("add more")}
}

// stages are told to the client in these words.
var stages = map[orders.Stage]string{
	orders.Enquiry:    "Your enquiry is with the studio and waits to be looked at.",
	orders.Measured:   "Your measurements are in order; the hat is being thought out.",
	orders.Proposed:   "The hat is drawn. Next it is agreed between you.",
	orders.Agreed:     "The hat is agreed and waits for its turn at the bench.",
	orders.InHand:     "Your hat is on the bench.",
	orders.InFitting:  "Your hat is ready to be tried on.",
	orders.Finishing:  "Your hat has been fitted and is being finished.",
	orders.Ready:      "Your hat is ready for you.",
	orders.HandedOver: "Your hat has been handed over. We hope that you enjoy it.",
	orders.Withdrawn:  "This commission was withdrawn.",
	orders.Lapsed:     "This commission has lapsed. Write here if you would like to take it up again.",
}

func (t *talk) whereabouts() {
	if !t.Sent {
		t.ask("Nothing has been sent to the studio yet, so there is no hat so far.")
		return
	}
	t.Asking = ""
	t.say(paragraphs(stages[t.Stage], t.coming(), "Your own page: {link}"), t.afterButtons()...)
}

func (t *talk) fitting() {
	if !t.Sent {
		t.ask("A fitting comes later; your enquiry has not been sent yet.")
		return
	}
	t.Asking = ""
	when := t.coming()
	if when == "" {
		when = "No date has been set yet. It will be told here."
	}
	t.say(paragraphs(when, "Your own page: {link}"), t.afterButtons()...)
}

// coming are the appointments still to come, a line each, in the studio's own time.
func (t *talk) coming() string {
	var lines []string
	for _, a := range t.Appointments {
		lines = append(lines, fmt.Sprintf("Your %s: %s, %s%s.", a.Kind,
			a.Start.In(t.Today.Location()).Format("Monday 2 January 2006 at 15:04"), a.Place, states[a.State]))
	}
	return strings.Join(lines, "\n")
}

var states = map[string]string{
	orders.Confirmed: ", confirmed by you",
	orders.MoveAsked: ", which you asked to move",
}
