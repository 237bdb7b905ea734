package fitting

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// mover is a pull or a limit, with the hat that it would be without.
type mover struct {
	who, source string
	limit       bool
	without     trial
}

// movers finds what moved a hat by looking for it anew without each pull, and
// without each limit that holds it back.
func (k task) movers(f found) []mover {
	s := k.going(directionOf(f.trial.slope))
	s.person = f.person
	again := func(without string) trial {
		there := s
		there.without = without
		return there.from(f.trial.figures, f.held, roughly).trial
	}
	var all []mover
	for _, m := range terms {
		if m.pull(f.person, &f.trial) != 0 {
			all = append(all, mover{m.who(f.person), m.source, false, again(m.key)})
		}
	}
	for i, b := range bounds {
		if f.held[i] > 0 && !slices.ContainsFunc(all, func(m mover) bool { return m.who == b.who }) {
			all = append(all, mover{b.who, b.source, true, again(b.key)})
		}
	}
	if rule := k.leastBase(); rule > smallestBase && f.trial.base == rule && k.in.Hat.Base == nil {
		s.low.base = smallestBase
		all = append(all, mover{"The event's rule, a base of " + taped(rule) + " or more,", "the event's rule, as given", true, s.from(f.trial.figures, f.held, roughly).trial})
	}
	return all
}

// Two movers of one figure are worth reading, and a third that moves it by so many
// times what is noticed.
const (
	mostMovers = 2
	farMoved   = 4
)

// moved puts what moved a figure into sentences, the greatest first.
func (g figure) moved(t trial, all []mover) (says, source string) {
	now := g.of(&t)
	by := func(m mover) float64 { return math.Abs(g.of(&m.without) - now) }
	felt := slices.DeleteFunc(slices.Clone(all), func(m mover) bool { return !(by(m) >= g.noticed) })
	slices.SortStableFunc(felt, func(m, n mover) int { return cmp.Compare(by(n), by(m)) })
	if len(felt) == 0 {
		return " No one reason moves it by much.", "our choice: several small preferences together"
	}
	for i, m := range felt[:min(len(felt), mostMovers+1)] {
		if i == mostMovers && !(by(m) >= farMoved*g.noticed) {
			break
		}
		verb, way := "makes", g.more
		if m.limit {
			verb = "keeps"
		}
		otherwise := g.of(&m.without)
		if otherwise > now {
			way = g.less
		}
		says += fmt.Sprintf(" %s %s it %s (%s otherwise).", m.who, verb, way, g.say(otherwise))
	}
	return says, felt[0].source
}
