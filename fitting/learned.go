package fitting

import (
	"fmt"
	"math"
)

// lessonOf is the lesson on a field, nil without one.
func lessonOf(all []Lesson, field string) *Lesson {
	for i := range all {
		if all[i].Field == field && all[i].Fittings > 0 {
			return &all[i]
		}
	}
	return nil
}

// corrected is the elastic as the fittings have taught to cut it.
func (e ElasticCut) corrected(all []Lesson) ElasticCut {
	l := lessonOf(all, "elastic.cut_mm")
	if l == nil {
		return e
	}
	e.Learned = Length(l.Correction)
	e.Cut += e.Learned
	e.Relaxed += e.Learned
	e.PlusMinus = Length(math.Hypot(float64(e.PlusMinus), 2*l.Deviation))
	return e
}

// elasticSays is the reason why the elastic is cut otherwise than its path alone
// would have it.
func elasticSays(all []Lesson) []Note {
	l := lessonOf(all, "elastic.cut_mm")
	if l == nil {
		return []Note{}
	}
	return []Note{{l.Field, l.Correction, nil, "the workroom's own fittings", "The elastic is cut as your own fittings have taught: " + l.Says + "."}}
}

// taught are the figures of a hat moved as the fittings have taught, and whether
// they move at all.
func (f figures) taught(all []Lesson) (figures, bool) {
	moved := f
	for _, c := range []struct {
		figure figure
		into   *float64
	}{{theBase, &moved.base}, {thePlace, &moved.forward}, {theTilt, &moved.sideways}, {theSlope, &moved.slope}} {
		l := lessonOf(all, c.figure.field)
		switch {
		case l == nil:
		case c.figure.field == theSlope.field && f.slope < 0:
			*c.into -= l.Correction
		default:
			*c.into += l.Correction
		}
	}
	return moved, moved != f
}

// taughtTo is the hat nearest to where the fittings move the one that was chosen:
// inside the limits, held and on a block as far as that one is. It reports false
// where there is nothing to learn, or no such hat.
func (k task) taughtTo(chosen settled) (settled, bool) {
	target, moves := chosen.trial.figures.taught(k.lessons)
	if !moves || chosen.exceeded > 0 {
		return settled{}, false
	}
	if chosen.freehand > 0 { // it has landed on a block; what is learned counts from where it would be without
		target.base += chosen.freehand - chosen.trial.base
	}
	s := k.going(directionOf(chosen.trial.slope))
	s.person, s.toward = k.search.person, &target
	f := s.ownSides(s.from(target, [len(bounds)]float64{}, exactly))
	if f.exceeded > 0 {
		return settled{}, false
	}
	there := s.steadied(f)
	if k.in.Hat.Base == nil {
		there = k.landed(s, there)
	}
	return there, there.holds || !chosen.holds
}

// learnedSays adds to the reasons what the fittings have moved.
func (k task) learnedSays(notes []Note, from, to trial) []Note {
	for i, n := range notes {
		for _, g := range []figure{theBase, thePlace, theTilt, theSlope} {
			l := lessonOf(k.lessons, g.field)
			if l == nil || n.Field != g.field || g.say(g.of(&from)) == g.say(g.of(&to)) {
				continue
			}
			notes[i].Value = g.of(&to)
			if g.field == theTilt.field {
				notes[i].Value *= k.side.sign
			}
			notes[i].Says += fmt.Sprintf(" Your own fittings move it to %s (%s).", g.say(g.of(&to)), l.Says)
		}
	}
	return notes
}
