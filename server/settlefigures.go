package server

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"perchbook/fitting"
	"perchbook/orders"
)

// A figure is one number of the hat that the milliner may set in place of the proposed one. It is
// kept under the contract's name, in the contract's unit.
type figure struct {
	Key, Name, Hint string
	Measure         measure
	Least, Most     float64                      // as typed; what lies within may still be refused by the engine
	Ways            [2]string                    // for a figure with a direction: the words for plus and minus
	Rare            bool                         // stands under "more figures"
	Advised         func(fitting.Result) float64 // nil for what the engine does not advise
	Usual           func(orders.Fitted) float64  // taken instead
	List            []onList                     // of a figure that is chosen
	Unsaid          string                       // when none is; "": as proposed
}

// A measure is how a figure is typed and said.
type measure int

const (
	inLength  measure = iota // kept in mm; typed as lengths are
	inDegrees                // kept as typed
	inPercent                // kept as a fraction
	inGrams                  // kept as typed
	inFolds                  // 4, 2 or 1
	inWords                  // a presence, kept by its place among orders.Presences
	inList                   // one of a list, kept by its number there
)

var figures = []figure{
	{Key: "hat.base_mm", Name: "Base across", Hint: "Rim to rim; best a block that you own.", Least: 30, Most: 250,
		Advised: func(r fitting.Result) float64 { return r.Base.Diameter.Millimetres() }},
	{Key: "hat.forward_deg", Name: "Tilt forward", Hint: "Of the base’s centre from the crown, in degrees.", Measure: inDegrees, Most: 80,
		Ways:    [2]string{"forward", "back"},
		Advised: func(r fitting.Result) float64 { return r.Placement.Forward.Degrees() }},
	{Key: "hat.sideways_deg", Name: "Tilt to the side", Hint: "In degrees; her own left or right.", Measure: inDegrees, Most: 80,
		Ways:    [2]string{"her left", "her right"},
		Advised: func(r fitting.Result) float64 { return r.Placement.Sideways.Degrees() }},
	{Key: "hat.brim_width_mm", Name: "Brim width", Hint: "Along the slope.", Least: 10, Most: 300,
		Advised: func(r fitting.Result) float64 { return r.Brim.Width.Millimetres() }},
	{Key: "hat.brim_slope_deg", Name: "Brim slope", Hint: "From the rim’s plane, in degrees: up lifts away from the head, down droops.", Measure: inDegrees, Most: 80,
		Ways:    [2]string{"up", "down"},
		Advised: func(r fitting.Result) float64 { return r.Brim.Slope.Degrees() }},
	{Key: "wish.presence", Name: "Proposal taken", Measure: inWords, Usual: func(f orders.Fitted) float64 { return presenceNumber(f.Input.Wish.Presence) }},
	{Key: "hat.folds", Name: "Layers of the strip", Hint: "4 for a large binding, 2 folded once, 1 with a bound edge.", Measure: inFolds, Rare: true,
		Usual: func(f orders.Fitted) float64 { return float64(*f.Input.Usual().Hat.Folds) }},
	{Key: "hat.lip_width_mm", Name: "Lip", Hint: "Turned up at the brim’s inner edge.", Most: 80, Rare: true,
		Usual: func(f orders.Fitted) float64 { return f.Input.Usual().Hat.LipWidth.Millimetres() }},
	{Key: "hat.lip_slope_deg", Name: "Slope of the lip", Hint: "From the rim’s plane, in degrees; 90 stands upright.", Measure: inDegrees, Most: 120, Rare: true,
		Usual: func(f orders.Fitted) float64 { return f.Input.Usual().Hat.LipSlope.Degrees() }},
	{Key: "hat.trim_g", Name: "Trimming", Hint: "Its weight in grams.", Measure: inGrams, Most: 300, Rare: true,
		Usual: func(f orders.Fitted) float64 { return f.Input.Usual().Hat.Trim.Grams() }},
	{Key: "hat.anchor_from_front", Name: "Elastic sewn on", Hint: "How far back from the base’s front, in per cent of the base. A third is usual.", Measure: inPercent, Most: 100, Rare: true,
		Usual: func(f orders.Fitted) float64 { return *f.Input.Usual().Hat.AnchorFromFront }},
	{Key: "hat.anchor", Name: "Place of the elastic", Hint: "By that part of the base, or found anew for this head and hat.", Measure: inList, Rare: true,
		List:  listed(orders.Anchorings, anchorWords),
		Usual: func(f orders.Fitted) float64 { return number(orders.Anchorings, f.Input.Usual().Hat.Anchor) }},
	{Key: "hat.layers", Name: "Layers of the base", Hint: "How they lie on each other. Makers differ.", Measure: inList, Rare: true,
		List:  listed(orders.LayerRules, layerWords),
		Usual: func(f orders.Fitted) float64 { return number(orders.LayerRules, f.Input.Usual().Hat.Layers) }},
	{Key: "hair.thickness_mm", Name: "Hair over the elastic", Hint: "How thick it lies there; the elastic runs beneath.", Most: 30, Rare: true,
		Usual: func(f orders.Fitted) float64 { return f.Input.Hair.Thickness.Millimetres() }},
	{Key: "elastic.working_stretch", Name: "Elastic stretched by", Hint: "At work, in per cent. 5 to 15 is usual; tighter gives a headache.", Measure: inPercent, Most: 60, Rare: true,
		Usual: stretchUsual},
	{Key: "elastic.knot_mm", Name: "For each knot", Hint: "Elastic left at either end.", Most: 100, Rare: true,
		Usual: func(f orders.Fitted) float64 { return f.Input.Usual().Elastic.Knot.Millimetres() }},
}

// proposed is the figure without any of hers, NaN when there is none.
func (g figure) proposed(f orders.Fitted) float64 {
	if g.Advised == nil {
		return g.Usual(f)
	}
	return g.in(f.Proposal.Result)
}

func (g figure) in(r fitting.Result) float64 {
	if r.Base.Diameter == 0 {
		return math.NaN()
	}
	return g.Advised(r)
}

// moved says in words where an advised figure stands when those that she set have moved it from the
// proposed one, and "" when it stays.
func (g figure) moved(proposed, settled fitting.Result) string {
	if g.Advised == nil || settled.Base.Diameter == 0 {
		return ""
	}
	if now := g.say(g.in(settled)); now != g.say(g.in(proposed)) {
		return now
	}
	return ""
}

// stretchUsual is the stretch by her reel, where one was tried, or the usual one.
func stretchUsual(f orders.Fitted) float64 {
	if usual := f.Input.Usual().Elastic.WorkingStretch; usual != nil {
		return *usual
	}
	return f.Proposal.Result.Elastic.Stretch
}

// A figureRow is one figure on the form: what is proposed and what the milliner says instead.
type figureRow struct {
	field
	Proposed string
	Moved    string // where it stands when her other figures have moved it; "" otherwise
	Hers     bool
	Ways     []stageChoice // directions to choose from, for a figure that has one
	Slider   *slider       // nil for what is only typed
	Limits   []limitLine
	Choices  []stageChoice // of a figure that is chosen from a list
}

// row shows a figure with a kept value, or none.
func (g figure) row(f orders.Fitted, kept float64, hers bool) figureRow {
	way := g.proposed(f)
	r := figureRow{field: field{Key: g.Key, Label: g.Name, Hint: g.Hint}, Proposed: g.say(way), Hers: hers}
	if hers {
		r.Value, way = g.written(kept), kept
		r.Heard = g.heard(r.Value)
	} else if r.Moved = g.moved(f.Proposal.Result, f.Settled.Result); r.Moved != "" {
		way = g.in(f.Settled.Result)
	}
	r.ways(g, way)
	if g.Measure == inList {
		r.Choices = g.choices(r.Value)
	}
	return r
}

func (r *figureRow) ways(g figure, signed float64) {
	if g.Ways[0] == "" {
		return
	}
	r.Ways = []stageChoice{{"+", g.Ways[0], signed >= 0}, {"-", g.Ways[1], signed < 0}}
}

// read takes what was typed for a figure: a value in the contract's unit, or a problem in the row.
func (g figure) read(f orders.Fitted, typed, way string, today time.Time) (r figureRow, value float64) {
	r = g.row(f, 0, false)
	r.Value = typed
	if way == "+" || way == "-" {
		r.ways(g, map[string]float64{"+": 1, "-": -1}[way])
	}
	if strings.TrimSpace(typed) == "" {
		return r, 0
	}
	if g.Measure == inList {
		r.Choices = g.choices(typed)
	}
	r.Hers, r.Moved = true, ""
	value, r.Problem = g.parse(typed, today)
	r.Heard = g.heard(typed)
	if g.Ways[0] != "" && r.Ways[1].Chosen {
		value = -value
	}
	return r, value
}

func (g figure) parse(typed string, today time.Time) (value float64, problem string) {
	if g.Measure == inLength {
		f, mm := readLength(g.question(), typed, today)
		return mm, f.Problem
	}
	if g.Measure == inWords {
		if n := presenceNumber(fitting.Presence(typed)); !math.IsNaN(n) {
			return n, ""
		}
		return 0, "Choose one of the proposals."
	}
	if g.Measure == inList {
		return g.pick(typed)
	}
	x, ok := plainNumber(strings.TrimRight(typed, "°%g "))
	switch {
	case !ok:
		return 0, fmt.Sprintf("%s: write a plain number, such as %s.", g.Name, g.example())
	case g.Measure == inFolds && !slices.Contains([]float64{1, 2, 4}, x):
		return 0, "Layers of the strip: write 4, 2 or 1."
	case g.Measure != inFolds && !(x >= g.Least && x <= g.Most):
		return 0, fmt.Sprintf("%s lies between %s and %s here. %s", g.Name, shortest(g.Least, 1), shortest(g.Most, 1), g.wayHint())
	case g.Measure == inPercent:
		return x / 100, ""
	}
	return x, ""
}

func (g figure) question() orders.Question {
	return orders.Question{Key: g.Key, Short: g.Name, Kind: orders.Length, Min: g.Least, Max: g.Most}
}

// heard is a length as it was understood, "" for other figures.
func (g figure) heard(typed string) string {
	if g.Measure != inLength {
		return ""
	}
	return g.question().Echo(typed).String()
}

func (g figure) wayHint() string {
	if g.Ways[0] == "" {
		return "Look at it once more."
	}
	return "Write it without a sign and choose the direction beside it."
}

func (g figure) example() string {
	return map[measure]string{inDegrees: "25", inPercent: "33", inGrams: "20", inFolds: "4"}[g.Measure]
}

// say is a kept value in people's words.
func (g figure) say(kept float64) string {
	switch {
	case math.IsNaN(kept):
		return "none"
	case g.Measure == inWords:
		return presenceName(kept)
	case g.Measure == inList:
		return cmp.Or(g.words(kept), g.Unsaid, "the usual")
	case g.Measure == inLength:
		return tape(kept).String()
	case g.Ways[0] != "" && decimal(kept, 0) != "0":
		way := g.Ways[0]
		if kept < 0 {
			way = g.Ways[1]
		}
		return decimal(math.Abs(kept), 0) + "° " + way
	case g.Measure == inDegrees:
		return decimal(kept, 0) + "°"
	case g.Measure == inPercent:
		return decimal(kept*100, 0) + " %"
	case g.Measure == inGrams:
		return decimal(kept, 0) + " g"
	}
	return shortest(kept, 0)
}

// written is a kept value as it would be typed.
func (g figure) written(kept float64) string {
	switch g.Measure {
	case inWords:
		return presenceName(kept)
	case inList:
		return shortest(kept, 0)
	case inLength:
		return shortest(kept/10, 2) + " cm"
	case inPercent:
		return shortest(kept*100, 2)
	}
	return shortest(math.Abs(kept), 2)
}

// presenceNumber is how a presence is kept among the figures; NaN for none.
func presenceNumber(p fitting.Presence) float64 {
	if i := slices.Index(orders.Presences, p); i >= 0 {
		return float64(i + 1)
	}
	return math.NaN()
}

func presenceName(kept float64) string { return string(orders.Presences[int(kept)-1]) }
