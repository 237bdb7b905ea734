package fitting

import "fmt"

// cautions says what a maker should know about this hat on this head before she
// cuts: what was guessed, which tape to take again, and which limits it passes.
func cautions(in Input, t tapes, r Result) []Note {
	notes := aboutHead(in.Measures, t, r.Head)
	notes = append(notes, aboutBase(in.Occasion, r)...)
	notes = append(notes, aboutBrim(in.Cloth, r)...)
	return append(notes, aboutElastic(r.Elastic)...)
}

func aboutHead(m Measures, t tapes, h Head) []Note {
	notes := []Note{}
	if t.girth < rareBelow || t.girth > rareAbove {
		notes = append(notes, Note{"measures.girth_mm", float64(t.girth), nil, "common practice: adults of 51 to 64 cm are met",
			fmt.Sprintf("Round the head is %s, which is rare for an adult: have it taken once more.", inCentimetres(t.girth))})
	}
	if t.guessedNape {
		nape, from := h.NapeToCrown(), "the girth"
		if m.EarToEar != nil || m.BrowToNape != nil {
			from = "the other tapes"
		}
		notes = append(notes, Note{"measures.nape_to_crown_mm", float64(nape), nil, "our choice, near the ear-to-ear arc of NIOSH 2003",
			fmt.Sprintf("The tape from nape to crown is missing and was guessed at %s from %s: measure before the elastic is cut.", inCentimetres(nape), from)})
	}
	if w, off := t.worst(); off > noticedOff {
		notes = append(notes, Note{w.field, w.taken, limit(w.other), "the likeliest head of the other tapes, and how far each tape is trusted",
			w.says() + " Both were weighed; take this one again before cutting."})
	}
	return notes
}

func aboutBase(o Occasion, r Result) []Note {
	var notes []Note
	base := r.Base.Diameter
	if o.LeastBase != nil {
		least := *o.LeastBase
		switch {
		case least >= metricRule && least <= inchRule && base >= metricRule && base < inchRule:
			notes = append(notes, Note{"hat.base_mm", float64(base), limit(inchRule), "a racecourse's rule, printed as 4 in (10 cm)",
				fmt.Sprintf("The base of %s meets a rule of 10 cm, but not of 4 in (10.16 cm).", inCentimetres(base))})
		case base < least:
			notes = append(notes, Note{"hat.base_mm", float64(base), limit(least), "the event's rule, as given",
				fmt.Sprintf("The base of %s is smaller than the event demands (%s).", inCentimetres(base), inCentimetres(least))})
		}
	}
	if low := r.Placement.TapeLineToRim; low < clearBrow {
		notes = append(notes, Note{"placement.tape_line_to_rim_mm", float64(low), limit(clearBrow), "common practice: 1 in above the brows",
			fmt.Sprintf("The base comes down to %s from the tape line, nearer than %s: see that it clears brow and ear.", inCentimetres(low), inCentimetres(clearBrow))})
	}
	return notes
}

func aboutBrim(c Cloth, r Result) []Note {
	var notes []Note
	switch shear := r.Brim.Shear; {
	case shear > c.locksAt():
		notes = append(notes, Note{"brim.shear_deg", float64(shear), limit(c.locksAt()), c.locksBy(),
			fmt.Sprintf("The weave of the strip must be pulled %.0f degrees out of square, past the %.0f at which it locks: take a steeper slope, a narrower brim, or a pieced or blocked one.", shear, c.locksAt())})
	case shear > easyShear:
		notes = append(notes, Note{"brim.shear_deg", float64(shear), limit(easyShear), "our choice",
			fmt.Sprintf("The weave of the strip must be pulled %.0f degrees out of square: it will curve, with work and steam. Keep hands and face out of the steam.", shear)})
	}
	if ahead := r.View.Ahead; ahead < clearView {
		notes = append(notes, Note{"view.ahead_deg", float64(ahead), limit(clearView), "upper visual field, 38 CFR 4.76a, Table III",
			fmt.Sprintf("The brim hides what lies ahead above %.0f degrees, where the eye sees up to %.0f: mind traffic and low beams, and take the hat off to drive.", ahead, clearView)})
	}
	return notes
}

func aboutElastic(e ElasticCut) []Note {
	notes := []Note{{"elastic.cut_mm", float64(e.Cut), nil, "19 times in 20, from the tapes and the placing",
		fmt.Sprintf("The elastic is right to about %s either way, and reels differ: try it on before the ends are finished.", inCentimetres(e.PlusMinus))}}
	if s := e.Stretch; s > firmStretch {
		notes = append(notes, Note{"elastic.working_stretch", s, limit(firmStretch), "common practice: 5 to 15 %",
			fmt.Sprintf("A stretch of %.0f %% is firm: elastic that is too tight dents the base and makes the head ache.", 100*s)})
	}
	return notes
}

// limit is a note's limit from any of the units.
func limit[T ~float64](x T) *float64 {
	l := float64(x)
	return &l
}
