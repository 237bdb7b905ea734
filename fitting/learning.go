package fitting

import (
	"fmt"
	"math"
	"slices"
)

// Learned is what the workroom's fittings have given so far, and whether a
// proposal is to go by it.
type Learned struct {
	Off      bool          `json:"off,omitempty"`  // go by nothing of it
	Reel     string        `json:"reel,omitempty"` // that the elastic of this hat comes from, by the name in the notes
	Fittings []FittingNote `json:"fittings,omitempty"`
	Lessons  []Lesson      `json:"lessons,omitempty"` // what Learn has made of the fittings, in their place
}

// FittingNote is one fitting: what had been proposed, before anything was learned,
// and what was really cut and worn. What was not written down is nil.
type FittingNote struct {
	Reel     string `json:"reel,omitempty"` // that the elastic came from
	Proposed Made   `json:"proposed"`
	Real     Made   `json:"real"`
}

// Made are the figures of a hat that a fitting tells of.
type Made struct {
	ElasticCut *Length `json:"elastic_cut_mm,omitempty"`
	Base       *Length `json:"base_mm,omitempty"`
	Forward    *Angle  `json:"forward_deg,omitempty"`
	Sideways   *Angle  `json:"sideways_deg,omitempty"` // positive to the wearer's left
	Slope      *Angle  `json:"brim_slope_deg,omitempty"`
}

// Figure is one of them by its name in the contract, in its unit; nil when it was
// not written down or is not one that a fitting tells of.
func (m Made) Figure(field string) *float64 {
	switch field {
	case "elastic.cut_mm":
		return plainly(m.ElasticCut)
	case "hat.base_mm":
		return plainly(m.Base)
	case "hat.forward_deg":
		return plainly(m.Forward)
	case "hat.sideways_deg":
		return plainly(m.Sideways)
	case "hat.brim_slope_deg":
		return plainly(m.Slope)
	}
	return nil
}

// Set writes one of them down. A field that a fitting does not tell of is let be.
func (m *Made) Set(field string, x float64) {
	switch field {
	case "elastic.cut_mm":
		m.ElasticCut = new(Length(x))
	case "hat.base_mm":
		m.Base = new(Length(x))
	case "hat.forward_deg":
		m.Forward = new(Angle(x))
	case "hat.sideways_deg":
		m.Sideways = new(Angle(x))
	case "hat.brim_slope_deg":
		m.Slope = new(Angle(x))
	}
}

// Lesson is what the fittings have taught about one figure: by how much what is
// really made differs from what is proposed. For a tilt to the side and for a
// slope more means farther from upright, and steeper.
type Lesson struct {
	Field      string  `json:"field"`      // "elastic.cut_mm", "hat.base_mm" and so on
	Correction float64 `json:"correction"` // to what is proposed, in the field's unit
	Deviation  float64 `json:"deviation"`  // standard deviation of the correction
	Fittings   int     `json:"fittings"`   // that tell of it
	SetAside   int     `json:"set_aside"`  // of others, whose difference is more than any fitting gives: slips of the pen
	Says       string  `json:"says"`
}

// lesson is how one figure is learned. spread is the standard deviation of one
// fitting's difference that is assumed beforehand, farthest what a difference can
// be: modelling choices of ours.
type lesson struct {
	field            string
	spread, farthest float64
	folded           bool // more means farther from zero
	reeled           bool // each reel may differ
	more, less       string
	say              func(x float64) string
}

var lessons = [...]lesson{
	{"elastic.cut_mm", 10, 100, false, true, "cut %s longer", "cut %s shorter", asMillimetres},
	{"hat.base_mm", 4, 40, false, false, "made %s larger", "made %s smaller", asMillimetres},
	{"hat.forward_deg", 4, 30, false, false, "worn %s farther forward", "worn %s farther back", asDegrees},
	{"hat.sideways_deg", 4, 30, true, false, "tilted %s more", "tilted %s less", asDegrees},
	{"hat.brim_slope_deg", 5, 40, true, false, "sloped %s more steeply", "sloped %s less steeply", asDegrees},
}

func plainly[T ~float64](p *T) *float64 {
	if p == nil {
		return nil
	}
	return new(float64(*p))
}

func asMillimetres(mm float64) string { return fmt.Sprintf("%.0f mm", math.Abs(mm)) }
func asDegrees(deg float64) string    { return fmt.Sprintf("%.0f°", math.Abs(deg)) }

// What is assumed before any fitting, counted in fittings: our choices. A figure
// that does not depend on the reel is taken to need no correction as firmly as
// usualFittings would have shown it; one that does, the workroom's part and the
// reel's own part as firmly as theirs, which comes to the same for a workroom with
// one reel. The spread is believed as much as spreadFittings would have shown it.
const (
	usualFittings    = 3.0
	workroomFittings = 4.0
	reelFittings     = 12.0
	spreadFittings   = 4.0
)

// Learn tells what the fittings have taught, one lesson for each figure that any of
// them tells of; none with the switch off. It is the closed form of a normal model
// with its conjugate prior (Gelman et al., Bayesian Data Analysis, 3rd ed. 2013,
// 3.3 and 5.4): the difference between made and proposed is the workroom's, plus the
// reel's for the elastic, plus chance. The order of the fittings does not matter.
// The error is a [Refusal] of a number that no hat has.
func Learn(l Learned) ([]Lesson, error) {
	if err := l.check(); err != nil {
		return nil, err
	}
	if l.Off {
		return nil, nil
	}
	all := slices.Clone(l.Lessons)
	for _, k := range lessons {
		if t := k.taught(l); t.Fittings+t.SetAside > 0 {
			all = append(all, t)
		}
	}
	return all, nil
}

func (l Learned) check() error {
	for i, t := range l.Lessons {
		if !(math.Abs(t.Correction) <= 100 && t.Deviation >= 0 && t.Deviation <= 100) {
			return Refusal{fmt.Sprintf("learned.lessons.%d", i), "No fittings teach so much."}
		}
	}
	for i, n := range l.Fittings {
		for _, made := range []Made{n.Proposed, n.Real} {
			for _, k := range lessons {
				if x := made.Figure(k.field); x != nil && !(math.Abs(*x) <= 2000) {
					return Refusal{fmt.Sprintf("learned.fittings.%d.%s", i, k.field), "No hat has such a figure. Look at this fitting note once more."}
				}
			}
		}
	}
	return nil
}

// difference is real less proposed, and false where one of them is missing.
func (k lesson) difference(n FittingNote) (float64, bool) {
	proposed, real := n.Proposed.Figure(k.field), n.Real.Figure(k.field)
	if proposed == nil || real == nil {
		return 0, false
	}
	if k.folded {
		return math.Copysign(1, *proposed) * (*real - *proposed), *proposed != 0
	}
	return *real - *proposed, true
}

// heap is what the fittings with one reel come to.
type heap struct {
	n, sum float64
}

func (k lesson) taught(l Learned) Lesson {
	t := Lesson{Field: k.field}
	heaps, squares := map[string]heap{}, 0.0
	for _, n := range l.Fittings {
		d, there := k.difference(n)
		switch {
		case !there:
			continue
		case math.Abs(d) > k.farthest:
			t.SetAside++
			continue
		}
		reel := ""
		if k.reeled {
			reel = n.Reel
		}
		h := heaps[reel]
		heaps[reel] = heap{h.n + 1, h.sum + d}
		squares += d * d
		t.Fittings++
	}
	t.Correction, t.Deviation = k.corrected(heaps, squares, l.Reel)
	t.Says = k.says(t)
	return t
}

// corrected is the mean and the standard deviation of what the model then holds of
// the reel's difference.
func (k lesson) corrected(heaps map[string]heap, squares float64, reel string) (mean, deviation float64) {
	firm, own := usualFittings, math.Inf(1) // own: how firmly a reel is taken to be like the others
	if k.reeled {
		firm, own = workroomFittings, reelFittings
	} else {
		reel = ""
	}
	weight, pull, all := firm, 0.0, 0.0
	for _, name := range sortedReels(heaps) { // sums in one order
		h := heaps[name]
		part := 1 / (1 + h.n/own)
		weight, pull, all = weight+h.n*part, pull+h.sum*part, all+h.n
	}
	workroom := pull / weight
	explained := 0.0
	for _, name := range sortedReels(heaps) {
		h := heaps[name]
		explained += workroom*h.sum + (h.sum-h.n*workroom)/(own+h.n)*h.sum
	}
	h := heaps[reel]
	share := h.n / (own + h.n)
	mean = workroom + (h.sum-h.n*workroom)/(own+h.n)
	spread := (spreadFittings*k.spread*k.spread + squares - explained) / (spreadFittings + all - 2)
	return mean, math.Sqrt(spread * ((1-share)*(1-share)/weight + 1/(own+h.n)))
}

func sortedReels(heaps map[string]heap) []string {
	names := make([]string, 0, len(heaps))
	for name := range heaps {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}

// says is the lesson with its evidence: "9 fittings: cut 6 mm shorter, ± 3 mm".
func (k lesson) says(t Lesson) string {
	fittings := fmt.Sprintf("%d fittings", t.Fittings)
	if t.Fittings == 1 {
		fittings = "1 fitting"
	}
	way := k.more
	if t.Correction < 0 {
		way = k.less
	}
	said := fmt.Sprintf(way, k.say(t.Correction))
	if k.say(t.Correction) == k.say(0) {
		said = "as proposed"
	}
	said = fmt.Sprintf("%s: %s, ± %s", fittings, said, k.say(2*t.Deviation))
	if t.SetAside > 0 {
		said += fmt.Sprintf("; %d set aside, since no hat differs so much", t.SetAside)
	}
	return said
}
