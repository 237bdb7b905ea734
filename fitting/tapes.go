package fitting

import "fmt"

// tapes are the measures after the door: each one checked, defaults in place.
type tapes struct {
	girth, nape Length
	index       float64 // breadth over length
	guessedNape bool
	calipers    bool
}

func readTapes(m Measures) (tapes, error) {
	t := tapes{index: usualIndex}
	if m.Girth == nil {
		return t, Refusal{"measures.girth_mm", "The tape round the head is missing, and nothing can be worked out without it."}
	}
	t.girth = *m.Girth
	if err := within("measures.girth_mm", "The tape round the head", t.girth, leastGirth, mostGirth); err != nil {
		return t, err
	}
	if err := t.readCalipers(m); err != nil {
		return t, err
	}
	if err := t.readNape(m); err != nil {
		return t, err
	}
	return t, t.readChecks(m)
}

// readCalipers takes the index from length and breadth when both are there; one
// alone says nothing about it.
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
	if h := t.head(); !(h.C >= leastHeight*h.A && h.C <= mostHeight*h.A) {
		return Refusal{field, "With this tape from nape to crown the head would be " +
			"flatter or taller than heads are. Take the tape from nape to crown again, and check the calipers."}
	}
	return nil
}

// readChecks looks at the tapes that the head is compared with.
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

// head solves the tapes for the semi-axes. The perimeter grows with the size of
// the ellipse, so A needs one evaluation; the arc grows with C. C is NaN where
// the head would be much flatter or taller than heads are.
func (t tapes) head() Head {
	a := t.girth / Head{1, Length(t.index), 1}.Girth()
	c := rising(func(c float64) float64 {
		return float64(Head{1, 1, Length(c)}.NapeToCrown()) - float64(t.nape/a)
	}, leastHeight-0.1, mostHeight+0.1)
	return Head{a, Length(t.index) * a, Length(c) * a}
}
