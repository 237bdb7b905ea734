package draw

import "perchbook/fitting"

// runs are the stretches of a curve that the onlooker sees and those that she
// does not.
type runs struct{ seen, hidden [][]fitting.Vec }

// shortest is how long a stretch must be to be drawn on its own; a shorter one
// is a corner of no meaning and goes with the stretch before it.
const shortest = 0.8 // mm

// split cuts the curve where hidden changes, to a part of its spacing.
func split(curve []fitting.Vec, hidden func(fitting.Vec) bool) runs {
	var pieces []stretch
	at := stretch{hidden: hidden(curve[0]), points: curve[:1:1]}
	for i := 1; i < len(curve); i++ {
		if now := hidden(curve[i]); now != at.hidden {
			change := crossing(curve[i-1], curve[i], hidden)
			at.points = append(at.points, change)
			pieces = append(pieces, at)
			at = stretch{now, []fitting.Vec{change}}
		}
		at.points = append(at.points, curve[i])
	}
	return gather(append(pieces, at))
}

type stretch struct {
	hidden bool
	points []fitting.Vec
}

func (s stretch) length() float64 {
	sum := 0.0
	for i := 1; i < len(s.points); i++ {
		sum += s.points[i].Minus(s.points[i-1]).Norm()
	}
	return sum
}

// crossing finds where hidden changes between p and q.
func crossing(p, q fitting.Vec, hidden func(fitting.Vec) bool) fitting.Vec {
	start := hidden(p)
	for range 8 {
		middle := p.Plus(q).Times(0.5)
		if hidden(middle) == start {
			p = middle
		} else {
			q = middle
		}
	}
	return p.Plus(q).Times(0.5)
}

// gather sorts the stretches, joining those that follow one another once the
// short ones have gone with their neighbour.
func gather(pieces []stretch) runs {
	var joined []stretch
	for i, p := range pieces {
		last := len(joined) - 1
		if last >= 0 && (joined[last].hidden == p.hidden || p.length() < shortest && i < len(pieces)-1) {
			joined[last].points = append(joined[last].points, p.points[1:]...)
			continue
		}
		joined = append(joined, p)
	}
	var r runs
	for _, p := range joined {
		if p.hidden {
			r.hidden = append(r.hidden, p.points)
		} else {
			r.seen = append(r.seen, p.points)
		}
	}
	return r
}
