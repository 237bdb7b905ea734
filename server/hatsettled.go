package server

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"perchbook/fitting"
	"perchbook/orders"
	"perchbook/templates"
)

// settledView is the hat that was signed off, in plain words.
type settledView struct {
	Signed string
	Number int // of the fit sheet
	Views  []view
	Lines  []heard
	Liking string // the letter in which she says yes, while that is what the studio waits for
}

// settledOf shows the newest fit sheet, or nothing before there is one.
func (d door) settledOf(at desk, sheets []orders.FitSheet) (*settledView, error) {
	if len(sheets) == 0 {
		return nil, nil
	}
	newest := slices.MaxFunc(sheets, func(a, b orders.FitSheet) int { return cmp.Compare(a.Number, b.Number) })
	in, settled, err := newest.Read()
	if err != nil {
		return nil, fmt.Errorf("fit sheet %s: %w", newest.ID, err)
	}
	return &settledView{Signed: d.day(at, newest.Signed), Number: newest.Number, Views: sheetViews(in, drawHers(d.Language)), Lines: inPlainWords(d.Language, settled)}, nil
}

// offerLiking lets her say yes to this design in one press, once.
func (v *settledView) offerLiking(d door, letters []clientLetter) {
	if v == nil || d.Commission.Stage != orders.Proposed {
		return
	}
	yes := d.say("I like the hat as it was settled on %s (sheet %d). Please go on.", v.Signed, v.Number)
	if !slices.ContainsFunc(letters, func(l clientLetter) bool { return l.Text == yes }) {
		v.Liking = yes
	}
}

// inPlainWords says a hat's figures to someone who does not make hats.
func inPlainWords(l templates.Language, r fitting.Result) []heard {
	slope := r.Brim.Slope.Degrees()
	way := orders.Say("nearly level")
	if slope >= 5 {
		way = orders.Say("turned up, away from the face")
	} else if slope <= -5 {
		way = orders.Say("turned down")
	}
	return []heard{
		{l.Say("The base"), l.Say("A shallow dome %s across, shaped to your head", orders.BothUnits(r.Base.Diameter.Millimetres()))},
		{l.Say("The brim"), l.Say("%s wide, %s", orders.BothUnits(r.Brim.Width.Millimetres()), way)},
		{l.Say("Where it sits"), l.Put(whereItSits(r.Placement))},
		{l.Say("What holds it"), l.Say("A fine elastic under your hair, round the nape of your neck")},
		{l.Say("What you see"), l.Put(whatYouSee(r.View))},
	}
}

// whereItSits says the place by a tape and by what lies beyond it.
func whereItSits(p fitting.Placement) orders.Phrase {
	from := p.CrownToCentre.Millimetres()
	if p.Clock == nil || from < 5 {
		return orders.Say("On the crown of your head")
	}
	way := lyingTowards(*p.Clock)
	switch p.Side {
	case fitting.Left:
		return orders.Say("On your own left, its middle %s from the crown, %s", orders.BothUnits(from), way)
	case fitting.Right:
		return orders.Say("On your own right, its middle %s from the crown, %s", orders.BothUnits(from), way)
	}
	return orders.Say("Its middle %s from the crown, %s", orders.BothUnits(from), way)
}

// lyingTowards says a direction from the crown, where 12 is the front and 3 her own right.
func lyingTowards(clock float64) orders.Phrase {
	hour := math.Mod(clock, 12)
	if hour > 6 {
		hour = 12 - hour
	}
	switch {
	case hour < 0.75:
		return orders.Say("towards the forehead")
	case hour < 2.25:
		return orders.Say("half-way between forehead and ear")
	case hour < 3.75:
		return orders.Say("towards the ear")
	case hour < 5.25:
		return orders.Say("towards the place behind the ear")
	}
	return orders.Say("towards the back of the head")
}

// whatYouSee says where the brim begins when she looks ahead, and to which side it hides most.
func whatYouSee(v fitting.View) orders.Phrase {
	const free = 60.0 // degrees above level; higher than this nobody looks without lifting the head
	ahead := v.Ahead.Degrees()
	said := []orders.Phrase{orders.Say("Nothing of the brim when you look straight ahead")}
	if ahead < free {
		said[0] = orders.Say("Straight ahead the brim begins %.0f° above your eyes", ahead)
	}
	if left := math.Min(v.Left30.Degrees(), v.Left60.Degrees()); left < ahead-3 && left < free {
		said = append(said, orders.Say("to your own left it begins %.0f° above your eyes", left))
	}
	if right := math.Min(v.Right30.Degrees(), v.Right60.Degrees()); right < ahead-3 && right < free {
		said = append(said, orders.Say("to your own right it begins %.0f° above your eyes", right))
	}
	return orders.Say("%s. Take it off to drive or to cycle", orders.Joined("; ", said))
}
