package server

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"perchbook/fitting"
	"perchbook/orders"
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
func settledOf(d desk, sheets []orders.FitSheet) (*settledView, error) {
	if len(sheets) == 0 {
		return nil, nil
	}
	newest := slices.MaxFunc(sheets, func(a, b orders.FitSheet) int { return cmp.Compare(a.Number, b.Number) })
	in, settled, err := newest.Read()
	if err != nil {
		return nil, fmt.Errorf("fit sheet %s: %w", newest.ID, err)
	}
	return &settledView{Signed: d.date(newest.Signed), Number: newest.Number, Views: sheetViews(in, drawHers), Lines: inPlainWords(settled)}, nil
}

// offerLiking lets her say yes to this design in one press, once.
func (v *settledView) offerLiking(now orders.Stage, letters []clientLetter) {
	if v == nil || now != orders.Proposed {
		return
	}
	yes := fmt.Sprintf("I like the hat as it was settled on %s (sheet %d). Please go on.", v.Signed, v.Number)
	if !slices.ContainsFunc(letters, func(l clientLetter) bool { return l.Text == yes }) {
		v.Liking = yes
	}
}

// inPlainWords says a hat's figures to someone who does not make hats.
func inPlainWords(r fitting.Result) []heard {
	width, slope := tape(r.Brim.Width.Millimetres()), r.Brim.Slope.Degrees()
	way := "nearly level"
	if slope >= 5 {
		way = "turned up, away from the face"
	} else if slope <= -5 {
		way = "turned down"
	}
	lines := []heard{
		{"The base", "A shallow dome " + tape(r.Base.Diameter.Millimetres()).String() + " across, shaped to your head"},
		{"The brim", width.String() + " wide, " + way},
		{"Where it sits", whereItSits(r.Placement)},
		{"What holds it", "A fine elastic under your hair, round the nape of your neck"},
		{"What you see", whatYouSee(r.View)},
	}
	return lines
}

// whereItSits says the place by a tape and by what lies beyond it.
func whereItSits(p fitting.Placement) string {
	from := tape(p.CrownToCentre.Millimetres())
	if p.Clock == nil || p.CrownToCentre.Millimetres() < 5 {
		return "On the crown of your head"
	}
	side := "Its"
	if p.Side == fitting.Left || p.Side == fitting.Right {
		side = "On your own " + string(p.Side) + ", its"
	}
	return fmt.Sprintf("%s middle %s from the crown, %s", side, from, lyingTowards(*p.Clock))
}

// lyingTowards says a direction from the crown, where 12 is the front and 3 her own right.
func lyingTowards(clock float64) string {
	hour := math.Mod(clock, 12)
	if hour > 6 {
		hour = 12 - hour
	}
	switch {
	case hour < 0.75:
		return "towards the forehead"
	case hour < 2.25:
		return "half-way between forehead and ear"
	case hour < 3.75:
		return "towards the ear"
	case hour < 5.25:
		return "towards the place behind the ear"
	}
	return "towards the back of the head"
}

// whatYouSee says where the brim begins when she looks ahead, and to which side it hides most.
func whatYouSee(v fitting.View) string {
	const free = 60.0 // degrees above level; higher than this nobody looks without lifting the head
	ahead := v.Ahead.Degrees()
	var said []string
	if !(ahead < free) {
		said = append(said, "Nothing of the brim when you look straight ahead")
	} else {
		said = append(said, fmt.Sprintf("Straight ahead the brim begins %.0f° above your eyes", ahead))
	}
	sides := map[string]float64{
		"left":  math.Min(v.Left30.Degrees(), v.Left60.Degrees()),
		"right": math.Min(v.Right30.Degrees(), v.Right60.Degrees()),
	}
	for _, side := range []string{"left", "right"} {
		if sides[side] < ahead-3 && sides[side] < free {
			said = append(said, fmt.Sprintf("to your own %s it begins %.0f° above your eyes", side, sides[side]))
		}
	}
	return strings.Join(said, "; ") + ". Take it off to drive or to cycle"
}
