package orders

// A spread is what nearly all grown heads lie within, in mm or as a share of another tape.
type spread struct{ lo, hi float64 }

// without answers NaN with true.
func (s spread) without(v float64) bool { return !(v >= s.lo && v <= s.hi) }

// usual holds the lengths, in mm, outside which an answer is questioned.
var usual = map[string]spread{
	// 1st percentile of women to 99th of men, NIOSH 2003 (RD-10130-2020-0); ANSUR II (2012) has 521 to 614.2.
	"girth": {515.5, 620},
	// 0.40 of the girth, s.d. 0.02 of it (fit model), from 2.33 s.d. below at the least girth above to 2.33
	// above at the greatest.
	"nape": {182, 277},
	// 1st percentile of women to 99th of men, bitragion coronal arc, NIOSH 2003.
	"ear_to_ear": {305, 384.6},
}

// Shares of the girth.
var (
	napeShare      = spread{0.40 - 2.33*0.02, 0.40 + 2.33*0.02} // fit model, 1st to 99th percentile
	napeWorkable   = spread{0.325, 0.502}                       // outside it package fitting refuses the head
	earToEarShare  = spread{0.546, 0.674}                       // NIOSH 2003, women, 1st to 99th percentile
	browCrownShare = spread{0.221, 0.316}                       // quarter ellipse (a, c) for c from 0.55 a to 1.25 a and index 0.78
)

// unlikely is the question put about a length that few heads have; empty for the others.
func (q Question) unlikely(mm float64) Phrase {
	s, known := usual[q.Key]
	if !known || !s.without(mm) {
		return Phrase{}
	}
	than := Say("less")
	if mm > s.hi {
		than = Say("more")
	}
	return Say("I understood %s. That is %s than on nearly all heads: there it is between %s and %s. "+
		"Please look at the tape once more. If it is right, keep it.", BothUnits(mm), than, BothUnits(s.lo), BothUnits(s.hi))
}

func (q Question) doubted(why Phrase) *Problem {
	p := why.beside(q.Key)
	p.Confirmable = true
	return p
}

// Unlikely questions tapes that do not go together, each beside the one to take again. An answer that
// was confirmed is not questioned again.
func Unlikely(a Answers) []Problem {
	girth, hasGirth := taped(a, "girth")
	if !hasGirth {
		return nil
	}
	var problems []Problem
	doubt := func(key string, why Phrase) {
		if q, _ := Questions.Find(key); !a[key].Confirmed {
			problems = append(problems, *q.doubted(why))
		}
	}
	nape, hasNape := taped(a, "nape")
	switch {
	case hasNape && napeWorkable.without(nape/girth):
		doubt("nape", Say("From nape to crown you gave %s, and round the head %s. No head has both, so no hat could be worked out from them. "+
			"Please take both tapes again, or ask to be measured at the studio.", BothUnits(nape), BothUnits(girth)))
	case hasNape && napeShare.without(nape/girth):
		doubt("nape", Say("From nape to crown you gave %s. For a head of %s round, nearly all lie between %s and %s. "+
			"Please look at both tapes once more. If they are right, keep them.",
			BothUnits(nape), BothUnits(girth), BothUnits(napeShare.lo*girth), BothUnits(napeShare.hi*girth)))
	}
	if ear, has := taped(a, "ear_to_ear"); has && earToEarShare.without(ear/girth) {
		doubt("ear_to_ear", Say("From ear to ear you gave %s. For a head of %s round, nearly all lie between %s and %s. "+
			"Please look at both tapes once more. If they are right, keep them.",
			BothUnits(ear), BothUnits(girth), BothUnits(earToEarShare.lo*girth), BothUnits(earToEarShare.hi*girth)))
	}
	if brow, has := taped(a, "brow_to_nape"); has && hasNape && browCrownShare.without((brow-nape)/girth) {
		doubt("brow_to_nape", Say("From the forehead over the crown to the nape you gave %s, and from nape to crown %s. These do not go together "+
			"with %s round the head. Please look at them once more. If they are right, keep them.",
			BothUnits(brow), BothUnits(nape), BothUnits(girth)))
	}
	return problems
}

// taped is the mean of a tape's readings, and whether it was taken.
func taped(a Answers, key string) (float64, bool) {
	readings := a[key].Millimetres()
	mean, _ := Doubt(readings, ByClient)
	return mean, len(readings) > 0
}
