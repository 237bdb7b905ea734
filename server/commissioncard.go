package server

import (
	"slices"

	"perchbook/fitting"
	"perchbook/orders"
)

// cardView is one measure card, newest first.
type cardView struct {
	ID, Heading, Note string
	Tapes             []tapeView
}

// A tapeView is one tape of a card: its readings, their mean and how far that may be out.
type tapeView struct {
	Name, Mean, Inches, Doubt string
	Apart                     string // said when the readings disagree
	From                      string // said when they were not read off a tape for this hat
	Readings                  []string
	Kept                      bool   // she was asked about it, and kept it
	Scale                     *scale // nil for a single calliper figure
}

// A scale draws the readings on a piece of tape, so that one far from the others is seen. It is 240
// units wide and shows 20 mm to either side of the mean.
type scale struct {
	Ticks           []tick
	Marks           []int // where the readings lie
	From, To, Width int   // the mean give or take its doubt
}

type tick struct {
	X, Height int
	Words     string
}

func cardsOf(f file) []cardView {
	var views []cardView
	for _, card := range slices.Backward(f.Cards) {
		by := "the client"
		if card.TakenBy == orders.ByMaker {
			by = "the workroom"
		}
		views = append(views, cardView{
			ID: "card-" + card.ID, Heading: "Taken by " + by + " on " + f.date(card.Taken), Note: card.Note, Tapes: tapesOf(card),
		})
	}
	return views
}

func tapesOf(card orders.MeasureCard) []tapeView {
	var rows []tapeView
	for _, t := range []struct {
		key      string
		readings []float64
	}{{"girth", card.Girth}, {"nape", card.NapeToCrown}, {"ear_to_ear", card.EarToEar}, {"brow_to_nape", card.BrowToNape}} {
		if len(t.readings) == 0 {
			continue
		}
		mean, sd := card.Doubt(t.key)
		view := tapeView{
			Name: short(t.key), Mean: tape(mean).Figure, Inches: tape(mean).Inches,
			Doubt: "± " + decimal(2*sd/10, 1) + " cm", Scale: scaleOf(t.readings, mean, 2*sd),
			Apart: apartWords(t.readings), From: fromWords(card.Sources[t.key]), Kept: card.Sources[t.key].Questioned,
		}
		for _, r := range t.readings {
			view.Readings = append(view.Readings, tape(r).String())
		}
		rows = append(rows, view)
	}
	for _, c := range []struct {
		name string
		mm   float64
	}{{"Head length, callipers", card.HeadLength}, {"Head breadth, callipers", card.HeadBreadth}} {
		if c.mm > 0 {
			rows = append(rows, tapeView{Name: c.name, Mean: tape(c.mm).Figure, Inches: tape(c.mm).Inches})
		}
	}
	return rows
}

// keptNotes name the tapes of a card that the client was asked about and kept.
func keptNotes(card orders.MeasureCard) []fitting.Note {
	var notes []fitting.Note
	for _, q := range tapeQuestions() {
		if card.Sources[q.Key].Questioned {
			notes = append(notes, fitting.Note{Says: q.Short + ": the client was asked about this tape, which few heads have or which does not go with the others, and kept it. Take it again when you see her."})
		}
	}
	return notes
}

// fromWords say where the readings of a tape come from, "" for a tape laid for this hat.
func fromWords(s orders.Source) string {
	if s.HatSize {
		return "Not a tape: the middle of a hat size."
	}
	return ""
}

const farApart = 10 // mm between readings of one tape, from where one more is asked for

// apartWords says that readings of one tape disagree, "" when they do not.
func apartWords(readings []float64) string {
	if len(readings) == 0 {
		return ""
	}
	spread := slices.Max(readings) - slices.Min(readings)
	if spread < farApart {
		return ""
	}
	return "The readings lie " + decimal(spread/10, 1) + " cm apart: take one more."
}

const scaleWidth, scaleReach = 240, 20 // drawing units; mm shown to either side of the mean

func scaleOf(readings []float64, mean, doubt float64) *scale {
	at := func(mm float64) int {
		x := scaleWidth/2 + (mm-mean)*scaleWidth/(2*scaleReach)
		return int(min(max(x, 0), scaleWidth))
	}
	s := &scale{From: at(mean - doubt), To: at(mean + doubt)}
	s.Width = s.To - s.From
	for _, r := range readings {
		s.Marks = append(s.Marks, at(r))
	}
	for mm := int(mean-scaleReach)/5*5 + 5; float64(mm) < mean+scaleReach; mm += 5 {
		t := tick{X: at(float64(mm)), Height: 6}
		if mm%10 == 0 {
			t.Height, t.Words = 10, decimal(float64(mm)/10, 0)
		}
		s.Ticks = append(s.Ticks, t)
	}
	return s
}
