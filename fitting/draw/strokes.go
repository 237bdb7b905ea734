package draw

import (
	"errors"

	"perchbook/fitting"
)

// What View refuses.
var (
	ErrNotSolved = errors.New("draw: the hat has not been worked out") // no Solution of fitting.Solve
	ErrNoCamera  = errors.New("draw: nobody looks at the hat")         // a Camera that no function of this package made
)

// view is a drawing being put together.
type view struct {
	fitting.Solution
	Options
	from    Camera
	solids  solids
	paper   box     // round all that is drawn, before there are words
	frame   box     // the paper with them
	drawn   int     // strokes without those of sizes
	text    float64 // size of the letters, mm
	strokes []stroke
	dots    []dot
	labels  []label
}

// stroke is one part of the hat or the head, drawn with one pen.
type stroke struct {
	pen   pen
	part  string
	lines []line
}

// dot is a small disc.
type dot struct {
	pen    pen
	part   string
	at     point
	radius float64
}

func newView(s fitting.Solution, from Camera, o Options) (*view, error) {
	if !(s.Head.A > 0 && s.Head.B > 0 && s.Head.C > 0 && s.Seat.Radius > 0) {
		return nil, ErrNotSolved
	}
	if from.name == "" {
		return nil, ErrNoCamera
	}
	v := &view{Solution: s, Options: o, from: from, solids: newSolids(s, from)}
	v.paper = frame(s, from)
	v.drawHead()
	v.drawElastic()
	v.drawHat()
	v.drawTrimming()
	v.drawSight()
	v.drawn = len(v.strokes)
	v.writeSizes(0)
	return v, nil
}

// draw adds curves as they are, with one pen.
func (v *view) draw(p pen, part string, curves ...[]fitting.Vec) {
	s := stroke{pen: p, part: part}
	if n := len(v.strokes); n > 0 && v.strokes[n-1].pen == p && v.strokes[n-1].part == part {
		s, v.strokes = v.strokes[n-1], v.strokes[:n-1]
	}
	for _, c := range curves {
		if len(c) > 1 {
			s.lines = append(s.lines, v.from.project(c))
		}
	}
	if len(s.lines) > 0 {
		v.strokes = append(v.strokes, s)
	}
}

// drawSplit draws what is seen of the curves with one pen and what is hidden with
// another, or not at all when that is nothing.
func (v *view) drawSplit(seen, unseen pen, part string, hidden func(fitting.Vec) bool, curves ...[]fitting.Vec) {
	var all runs
	for _, c := range curves {
		if len(c) == 0 {
			continue
		}
		r := split(c, hidden)
		all.seen, all.hidden = append(all.seen, r.seen...), append(all.hidden, r.hidden...)
	}
	v.draw(seen, part, all.seen...)
	if unseen != none {
		v.draw(unseen, part, all.hidden...)
	}
}

func (v *view) dot(p pen, part string, at fitting.Vec, radius float64) {
	v.dots = append(v.dots, dot{p, part, v.from.onPaper(at), radius})
}
