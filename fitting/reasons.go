package fitting

import (
	"fmt"
	"math"
)

// figure is one of those that reasons are given for.
type figure struct {
	field      string
	of         func(t *trial) float64
	noticed    float64 // the least difference worth a word
	more, less string
	say        func(x float64) string
}

var (
	theBase  = figure{"hat.base_mm", func(t *trial) float64 { return t.base }, 2, "larger", "smaller", asLength}
	thePlace = figure{"hat.forward_deg", func(t *trial) float64 { return t.forward }, 1.5, "farther forward", "farther back", asPlace}
	theTilt  = figure{"hat.sideways_deg", func(t *trial) float64 { return t.sideways }, 1.5, "more tilted", "less tilted", asAngle}
	theWidth = figure{"hat.brim_width_mm", func(t *trial) float64 { return t.width }, 3, "wider", "narrower", asLength}
	theSlope = figure{"hat.brim_slope_deg", func(t *trial) float64 { return math.Abs(t.slope) }, 2, "steeper", "flatter", asAngle}
	theSize  = figure{"wish.presence", func(t *trial) float64 { return t.across() }, 5, "larger", "smaller", asLength}
)

func asLength(mm float64) string { return inCentimetres(Length(mm)) }

func asAngle(deg float64) string { return fmt.Sprintf("%.0f degrees", math.Abs(deg)) }

func asPlace(deg float64) string {
	if deg <= -0.5 {
		return asAngle(deg) + " behind the crown"
	}
	return asAngle(deg) + " forward of the crown"
}

// reasons has one note for each figure that was advised, then one for each wish
// that the advice does not meet.
func (k task) reasons(chosen settled, other found) []Note {
	t, all := chosen.trial, k.movers(chosen.found)
	notes := []Note{}
	add := func(g figure, value float64, says string) {
		why, source := g.moved(t, all)
		notes = append(notes, Note{g.field, value, nil, source, says + why})
	}
	h := k.in.Hat
	switch {
	case h.Base != nil:
	case chosen.freehand > 0:
		notes = append(notes, Note{theBase.field, t.base, nil, "the workroom's own blocks",
			"The base is " + taped(t.base) + " across, on a block of the workroom's; freehand it would be " + asLength(chosen.freehand) + "."})
	default:
		add(theBase, t.base, "The base is "+taped(t.base)+" across"+k.freehandSays()+".")
	}
	if h.Forward == nil {
		add(thePlace, t.forward, "The base sits "+asPlace(t.forward)+".")
	}
	switch {
	case h.Sideways != nil:
	case k.side.sign == 0:
		notes = append(notes, Note{theTilt.field, 0, nil, "her wish", "The base is tilted " + k.side.says + "."})
	default:
		add(theTilt, k.side.sign*t.sideways, "The base is tilted "+asAngle(t.sideways)+" "+k.side.says+".")
	}
	if h.BrimWidth == nil {
		add(theWidth, t.width, "The brim is "+taped(t.width)+" wide along its slope.")
	}
	if h.BrimSlope == nil {
		add(theSlope, t.slope, k.slopeSays(chosen.found, other))
	}
	if !chosen.holds && chosen.exceeded == 0 {
		notes = append(notes, chosen.unheld())
	}
	return append(notes, k.presenceUnmet(t, all)...)
}

// taped is a length as it is read off a tape of either kind.
func taped(mm float64) string {
	return fmt.Sprintf("%s (%s)", inCentimetres(Length(mm)), inEighths(Length(mm)))
}

func inEighths(l Length) string {
	eighths := int(math.Round(8 * l.Inches()))
	whole, part := eighths/8, eighths%8
	fraction := [...]string{"", "1/8", "1/4", "3/8", "1/2", "5/8", "3/4", "7/8"}[part]
	switch {
	case part == 0:
		return fmt.Sprintf("%d in", whole)
	case whole == 0:
		return fraction + " in"
	}
	return fmt.Sprintf("%d %s in", whole, fraction)
}
