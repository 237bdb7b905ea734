package fitting

import (
	"fmt"
	"math"
)

// tapes are the measures after the door: each one checked, defaults in place, and
// the head that they make likeliest.
type tapes struct {
	girth, nape Length
	index       float64 // breadth over length
	guessedNape bool
	calipers    bool
	clues       []clue
	likeliest   likeliest
}

func readTapes(m Measures) (tapes, error) {
	t, err := singleTapes(m)
	if err != nil {
		return t, err
	}
	return t, t.weigh(m)
}

// singleTapes checks each tape by itself and against the girth.
func singleTapes(m Measures) (tapes, error) {
	t := tapes{index: usualIndex}
	if m.Girth == nil {
		return t, Refusal{"measures.girth_mm", "The tape round the head is missing, and nothing can be worked out without it."}
	}
	t.girth = *m.Girth
	if err := within("measures.girth_mm", "The tape round the head", t.girth, leastGirth, mostGirth); err != nil {
		return t, err
	}
	if err := within("measures.repeat_mm", "How far readings of one tape lie apart", given(m.Repeat, 0), 0, mostRepeat); err != nil {
		return t, err
	}
	for _, d := range m.Doubts.all() {
		if err := within("measures.doubts", "How far a tape may be off", given(d, 0), 0, mostRepeat); err != nil {
			return t, err
		}
	}
	if err := t.readCalipers(m); err != nil {
		return t, err
	}
	if err := t.readNape(m); err != nil {
		return t, err
	}
	return t, t.readChecks(m)
}

// readCalipers takes the index from length and breadth when both are there, as it
// is: what calipers and tape differ by is common to both and falls out. One alone
// is a clue like another.
func (t *tapes) readCalipers(m Measures) error {
	if m.HeadLength != nil {
		if err := within("measures.head_length_mm", "The head's length between calipers", *m.HeadLength, leastHeadLength, mostHeadLength); err != nil {
			return err
		}
	}
	if m.HeadBreadth != nil {
		if err := within("measures.head_breadth_mm", "The head's breadth between calipers", *m.HeadBreadth, leastHeadBreadth, mostHeadBreadth); err != nil {
			return err
		}
	}
	if m.HeadLength == nil || m.HeadBreadth == nil {
		return nil
	}
	t.index, t.calipers = float64(*m.HeadBreadth / *m.HeadLength), true
	around := Head{*m.HeadLength / 2, *m.HeadBreadth / 2, 1}.Girth()
	if k := float64(t.girth / around); !(k >= leastCaliperFactor && k <= mostCaliperFactor) {
		return Refusal{"measures.head_length_mm", fmt.Sprintf(
			"The calipers make a head of %s round, the tape one of %s. Take length and breadth again, and the tape round the head with them.",
			inCentimetres(around), inCentimetres(t.girth))}
	}
	return nil
}

func (t *tapes) readNape(m Measures) error {
	const field = "measures.nape_to_crown_mm"
	t.nape, t.guessedNape = usualNapeToCrown.of(t.girth), m.NapeToCrown == nil
	if m.NapeToCrown != nil {
		t.nape = *m.NapeToCrown
	}
	if err := within(field, "The tape from nape to crown on a head of this girth", t.nape,
		leastNapeToCrown.of(t.girth), mostNapeToCrown.of(t.girth)); err != nil {
		return err
	}
	if h := t.exact(); !(h.C >= leastHeight*h.A && h.C <= mostHeight*h.A) {
		return Refusal{field, "With this tape from nape to crown the head would be " +
			"flatter or taller than heads are. Take the tape from nape to crown again, and check the calipers."}
	}
	return nil
}

// readChecks looks at the tapes that are not always taken.
func (t *tapes) readChecks(m Measures) error {
	if m.EarToEar != nil {
		if err := within("measures.ear_to_ear_mm", "The tape from ear to ear over the crown of a head of this girth", *m.EarToEar,
			leastEarToEar.of(t.girth), mostEarToEar.of(t.girth)); err != nil {
			return err
		}
	}
	if m.BrowToNape != nil {
		return within("measures.brow_to_nape_mm", "The tape from brow to nape over the crown of a head of this girth", *m.BrowToNape,
			leastBrowToNape.of(t.girth), mostBrowToNape.of(t.girth))
	}
	return nil
}

// weigh solves the tapes for the head. It refuses tapes that contradict each
// other, by the one that fits the others least.
func (t *tapes) weigh(m Measures) error {
	found := t.solve(m)
	if w, off := t.worst(); !found || off > mostOff {
		return Refusal{w.field, w.says() + " No head has both. Please take it again, and the others with it."}
	}
	return nil
}

// solve finds the likeliest head, if there is one.
func (t *tapes) solve(m Measures) (found bool) {
	t.clues = t.cluesOf(m)
	start, free := t.exact(), 3
	if t.calipers {
		free = 2
	}
	t.likeliest, found = likeliestHead(t.clues, build{float64(start.A), float64(start.C), t.index}, free)
	return found
}

// cluesOf are the tapes, each as far as it is trusted, and for what is not taped
// what is known of all heads.
func (t *tapes) cluesOf(m Measures) []clue {
	var clues []clue
	add := func(field, what string, tape, doubt *Length, model func(Head) Length, own Length) {
		if tape != nil {
			sd := max(m.TapeDoubt(), given(doubt, 0)).Millimetres()
			clues = append(clues, clue{field, what, func(h Head) float64 { return model(h).Millimetres() }, tape.Millimetres(), math.Hypot(sd, own.Millimetres())})
		}
	}
	add("measures.girth_mm", "The tape round the head", &t.girth, m.Doubts.Girth, Head.Girth, 0)
	add("measures.nape_to_crown_mm", "The tape from nape to crown", m.NapeToCrown, m.Doubts.NapeToCrown, Head.NapeToCrown, 0)
	if t.guessedNape {
		clues = append(clues, clue{model: func(h Head) float64 { return (h.NapeToCrown() - usualNapeToCrown.of(h.Girth())).Millimetres() },
			sd: napeToCrownDoubt.of(t.girth).Millimetres()})
	}
	if !t.calipers {
		clues = append(clues, clue{model: func(h Head) float64 { return float64(h.B / h.A) }, taken: usualIndex, sd: indexDeviation})
	}
	ears := func(h Head) Length { return h.EarToEar(m.Sex) }
	length := func(h Head) Length { l, _ := h.Calipers(m.Sex); return l }
	breadth := func(h Head) Length { _, b := h.Calipers(m.Sex); return b }
	add("measures.ear_to_ear_mm", "Ear to ear over the crown", m.EarToEar, m.Doubts.EarToEar, ears, earToEarDoubt(m.Sex))
	add("measures.brow_to_nape_mm", "Brow to nape over the crown", m.BrowToNape, m.Doubts.BrowToNape, Head.BrowToNape, 0)
	if !t.calipers {
		ownLength, ownBreadth := caliperDoubt(m.Sex)
		add("measures.head_length_mm", "The head's length between calipers", m.HeadLength, nil, length, ownLength)
		add("measures.head_breadth_mm", "The head's breadth between calipers", m.HeadBreadth, nil, breadth, ownBreadth)
	}
	return clues
}

func (d Doubts) all() []*Length { return []*Length{d.Girth, d.NapeToCrown, d.EarToEar, d.BrowToNape} }

// disagreement is a tape against what the others make of it.
type disagreement struct {
	clue
	other Length
}

// worst finds the tape that fits the others least, and by how many standard
// deviations. Where two can't be told apart it is the one that is not always
// taken.
func (t tapes) worst() (w disagreement, off float64) {
	for k, c := range t.clues {
		if o := math.Abs(t.likeliest.off[k]); c.field != "" && o > 0 && o >= off*(1-1e-6) {
			w, off = disagreement{c, Length(t.likeliest.other[k])}, max(o, off)
		}
	}
	return w, off
}

func (d disagreement) says() string {
	return fmt.Sprintf("%s was %s, where the other tapes make it %s.", d.what, inCentimetres(Length(d.taken)), inCentimetres(d.other))
}

// head is the likeliest one.
func (t tapes) head() Head { return t.likeliest.head }

// exact is the head that meets girth, nape to crown and index alone. The
// perimeter grows with the size of the ellipse, so A needs one evaluation; the arc
// grows with C. C is NaN where the head would be much flatter or taller than heads
// are.
func (t tapes) exact() Head {
	a := t.girth / Head{1, Length(t.index), 1}.Girth()
	c := rising(func(c float64) float64 {
		return float64(Head{1, 1, Length(c)}.NapeToCrown()) - float64(t.nape/a)
	}, leastHeight-0.1, mostHeight+0.1)
	return Head{a, Length(t.index) * a, Length(c) * a}
}
