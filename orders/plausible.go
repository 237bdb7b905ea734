package orders

import "perchbook/fitting"

// look says what to look at again when a tape is shorter or longer than on nearly all heads (common
// practice), and what the tape is called within a sentence. In the order of tapes.
var look = []struct{ name, short, long Phrase }{
	{Say("round the head"), Say("does the tape go over the part at the back that stands out most, and is it not pulled tight?"),
		Say("does the tape lie level and snug, with no knot or clip of hair under it?")},
	{Say("from nape to crown"), Say("does the tape begin in the hollow under the edge of the skull, and end where the ruler touches?"),
		Say("does the tape begin at the bone and not farther down the neck, and end at the crown and not in front of it?")},
	{Say("from ear to ear"), Say("does the tape go over the very top of the head, from notch to notch?"),
		Say("does the tape end at the notches and not at the lobes of the ears, with no knot of hair under it?")},
	{Say("from the forehead to the nape"), Say("does the tape begin where the one round your head lay, and end in the hollow at the nape?"),
		Say("does the tape begin on the forehead and not at the eyebrows, and end at the bone and not farther down the neck?")},
}

// tapeNumber is the engine's tape that a question asks for, and whether it asks for one.
func tapeNumber(key string) (fitting.Tape, bool) {
	for i, t := range tapes {
		if t.question == key {
			return fitting.Tape(i), true
		}
	}
	return 0, false
}

// lookAgain is what to look at when a tape is not among what is usual.
func lookAgain(t fitting.Tape, mm float64, usual fitting.Between) Phrase {
	if mm < usual.Least.Millimetres() {
		return look[t].short
	}
	return look[t].long
}

// unlikely is the question put about a tape that few heads have; empty for the others.
func (q Question) unlikely(mm, doubt float64) Phrase {
	t, is := tapeNumber(q.Key)
	if !is {
		return Phrase{}
	}
	usual := t.Usual(fitting.Length(doubt))
	if usual.Holds(fitting.Length(mm)) {
		return Phrase{}
	}
	return Say("I understood %s. On nearly all heads it is between %s and %s. Please look once more: %s If it is right, keep it; heads differ.",
		BothUnits(mm), BothUnits(usual.Least.Millimetres()), BothUnits(usual.Most.Millimetres()), lookAgain(t, mm, usual))
}

func (q Question) doubted(why Phrase) *Problem {
	p := why.beside(q.Key)
	p.Confirmable = true
	return p
}

// Unlikely questions tapes that do not go together: each pair, beside the one that is asked for later. An
// answer that was confirmed is not questioned again.
func Unlikely(a Answers) []Problem {
	var problems []Problem
	for i, t := range tapes {
		if a[t.question].Confirmed {
			continue
		}
		why := impossibleWithGirth(a, fitting.Tape(i))
		if why.Empty() {
			why = unlikelyPair(a, fitting.Tape(i))
		}
		if q, _ := Questions.Find(t.question); !why.Empty() {
			problems = append(problems, *q.doubted(why))
		}
	}
	return problems
}

// impossibleWithGirth asks for both again where the engine refuses a head with that girth and that tape;
// empty elsewhere.
func impossibleWithGirth(a Answers, t fitting.Tape) Phrase {
	girth, _, hasGirth := taped(a, fitting.GirthTape)
	mm, _, has := taped(a, t)
	if t == fitting.GirthTape || !hasGirth || !has {
		return Phrase{}
	}
	card := MeasureCard{TakenBy: ByClient, Girth: []float64{girth}}
	*tapes[t].of(&card) = []float64{mm}
	if _, err := fitting.CheckTapes(measuresOf(card)); err == nil {
		return Phrase{}
	}
	return Say("You gave %s %s, and %s round the head. No head has both, so no hat could be worked out from them. "+
		"Please take both tapes again, or ask to be measured at the studio.", BothUnits(mm), look[t].name, BothUnits(girth))
}

// unlikelyPair questions a tape by the one asked for before it that it goes with least; empty when it goes
// with all.
func unlikelyPair(a Answers, t fitting.Tape) (why Phrase) {
	mm, doubt, has := taped(a, t)
	farthest := 1.0 // from the middle of what is usual, the ends of which are 1
	for other := range t {
		with, otherDoubt, both := taped(a, other)
		if !has || !both {
			continue
		}
		usual := t.UsualWith(other, fitting.Length(with), fitting.Length(doubt), fitting.Length(otherDoubt))
		if far := usual.Far(fitting.Length(mm)); far > farthest {
			farthest = far
			why = Say("You gave %s %s, and %s %s. On nearly all heads like that the first is between %s and %s. Please look once more: %s "+
				"If both are right, keep them; heads differ.", BothUnits(mm), look[t].name, BothUnits(with), look[other].name,
				BothUnits(usual.Least.Millimetres()), BothUnits(usual.Most.Millimetres()), lookAgain(t, mm, usual))
		}
	}
	return why
}

// taped is the mean of a tape's readings in mm, the standard deviation of its error, and whether it was
// taken.
func taped(a Answers, t fitting.Tape) (mean, doubt float64, has bool) {
	answer := a[tapes[t].question]
	mean, doubt = answer.Doubt()
	return mean, doubt, len(answer.Millimetres()) > 0
}
