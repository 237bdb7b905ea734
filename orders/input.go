package orders

import (
	"math"
	"strconv"

	"perchbook/fitting"
)

// inputOf turns answers and tapes into what the engine is told.
func inputOf(a Answers, card MeasureCard, st Studio) fitting.Input {
	in := fitting.Input{
		Measures: measuresOf(card),
		Face:     faceOf(a),
		Hair: fitting.Hair{
			Thickness: hairThickness(a), Worn: hairWorn(a),
			Knot:    fitting.Knot(knotNames[a["knot"].Value]),
			Parting: fitting.Parting(a.oneOf("parting", "left", "middle", "right", "none")),
			Grip:    fitting.Grip(a.oneOf("grip", "fine", "usual", "textured")),
		},
		Wearer:   fitting.Wearer{Glasses: a["glasses"].Value == "yes", Height: lengthOf(a["height"].Value)},
		Occasion: fitting.Occasion{Kind: a["occasion"].Value, Outdoors: outdoors(a), LeastBase: leastBase[a["rule"].Value]},
		Wish: fitting.Wish{
			Side:     fitting.Side(a.oneOf("side", "left", "right")),
			Presence: fitting.Presence(a.oneOf("presence", "quiet", "balanced", "bold")),
			Brim:     fitting.Direction(a.oneOf("brim", "up", "down")),
		},
		Workroom: workroomOf(st),
	}
	in.Elastic.Colour = elasticFor[a["hair_colour"].Value]
	st.Materials.into(&in)
	return in
}

func workroomOf(st Studio) fitting.Workroom {
	w := fitting.Workroom{Side: fitting.Side(st.SideByTradition)}
	for _, mm := range st.Blocks {
		w.Blocks = append(w.Blocks, *millimetres(mm))
	}
	return w
}

// oneOf is an answer that the engine has the same word for, else "".
func (a Answers) oneOf(key string, words ...string) string {
	for _, w := range words {
		if a[key].Value == w {
			return w
		}
	}
	return ""
}

func measuresOf(c MeasureCard) fitting.Measures {
	m := fitting.Measures{
		Girth: mean(c.Girth), NapeToCrown: mean(c.NapeToCrown), EarToEar: mean(c.EarToEar), BrowToNape: mean(c.BrowToNape),
		TakenBy: fitting.Client, Readings: min(len(c.Girth), len(c.NapeToCrown)), Sex: fitting.SexUnknown,
	}
	if c.TakenBy == ByMaker {
		m.TakenBy = fitting.Maker
	}
	m.Repeat = repeatOf(c)
	for key, of := range map[string]**fitting.Length{
		"girth": &m.Doubts.Girth, "nape": &m.Doubts.NapeToCrown, "ear_to_ear": &m.Doubts.EarToEar, "brow_to_nape": &m.Doubts.BrowToNape,
	} {
		if d := c.Sources[key].Doubt; d > 0 {
			*of = millimetres(d)
		}
	}
	if c.HeadLength > 0 {
		m.HeadLength = millimetres(c.HeadLength)
	}
	if c.HeadBreadth > 0 {
		m.HeadBreadth = millimetres(c.HeadBreadth)
	}
	return m
}

// repeatOf is how far the readings of one tape lie apart, over all tapes of the card: the usual spread,
// counted as so many readings, corrected by these; nil with one reading of each. Modelling choices, as in the engine.
func repeatOf(c MeasureCard) *fitting.Length {
	const counted = 4
	usual := 3.0
	if c.TakenBy == ByMaker {
		usual = 1.5
	}
	squares, free := counted*usual*usual, float64(counted)
	for _, readings := range [][]float64{c.Girth, c.NapeToCrown, c.EarToEar, c.BrowToNape} {
		if m := mean(readings); m != nil {
			for _, mm := range readings {
				squares += (mm - m.Millimetres()) * (mm - m.Millimetres())
			}
			free += float64(len(readings) - 1)
		}
	}
	if free == counted {
		return nil // each tape was read once
	}
	return millimetres(math.Sqrt(squares / free))
}

// mean of readings, nil without any.
func mean(list []float64) *fitting.Length {
	if len(list) == 0 {
		return nil
	}
	sum := 0.0
	for _, mm := range list {
		sum += mm
	}
	return millimetres(sum / float64(len(list)))
}

func millimetres(mm float64) *fitting.Length {
	l := fitting.Length(mm) * fitting.Millimetre
	return &l
}

func lengthOf(value string) *fitting.Length {
	mm, err := strconv.ParseFloat(value, 64)
	if !(err == nil && mm > 0) {
		return nil
	}
	return millimetres(mm)
}

// What lies between the elastic, which runs under the hair, and the hair's surface. Modelling
// choices: nothing for hair short or put up, 3 mm down, 6 thick, 10 braided.
const (
	hairOff     fitting.Length = 0
	hairDown    fitting.Length = 3
	hairThick   fitting.Length = 6
	hairBraided fitting.Length = 10
)

var thicknesses = map[string]fitting.Length{"short": hairOff, "down": hairDown, "thick": hairThick, "braided": hairBraided}

// dressed is the thickness by how the hair is dressed, for who has not said how thick it is. A tail
// or half of it up still lies over the elastic.
var dressed = map[string]fitting.Length{
	"short": hairOff, "knot": hairOff, "loose": hairDown, "half_up": hairDown, "tail": hairDown, "plaits": hairBraided,
}

func hairThickness(a Answers) fitting.Length {
	if mm, said := thicknesses[a["thickness"].Value]; said {
		return mm
	}
	if mm, said := dressed[a["hair_worn"].Value]; said {
		return mm
	}
	if a["hair_day"].Value == "up" {
		return hairOff
	}
	return hairDown // also for who does not know yet: a little too long is easily shortened
}

func hairWorn(a Answers) fitting.Worn {
	switch {
	case a["hair_worn"].Value == "short":
		return fitting.HairShort
	case a["hair_day"].Value == "up":
		return fitting.HairUp
	case a["hair_day"].Value == "down":
		return fitting.HairDown
	}
	return ""
}

// knotNames are the engine's words; it has none for a knot at one side.
var knotNames = map[string]fitting.Knot{
	"none": fitting.NoKnot, "nape": fitting.KnotAtNape, "back": fitting.KnotAtBack, "crown": fitting.KnotOnTop,
}

// outdoors: races and garden parties are, unless she says otherwise. A modelling choice.
func outdoors(a Answers) bool {
	switch a["outdoors"].Value {
	case "outdoors", "both":
		return true
	case "indoors":
		return false
	}
	return a["occasion"].Value == "races" || a["occasion"].Value == "garden_party"
}

// leastBase is what the rules of events ask for: 10 cm, or 4 inches of 25.4 mm.
var leastBase = map[string]*fitting.Length{"ten_cm": millimetres(100), "four_in": millimetres(101.6)}
