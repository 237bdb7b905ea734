package draw

import (
	"math"
	"strconv"

	"perchbook/fitting"
)

// drawSizes writes each size where it acts and is seen true to scale.
func (v *view) drawSizes() {
	v.nameSides()
	if v.Sizes {
		v.sizeBrim()
		v.sizeSight()
		v.sizeTilt()
		v.sizeBase()
		v.sizeTape()
	}
	v.nameElastic()
}

func centimetres(l fitting.Length) string {
	return strconv.FormatFloat(l.Centimetres(), 'f', 1, 64) + " cm"
}

func degrees(a fitting.Angle) string {
	return strconv.FormatFloat(math.Abs(a.Degrees()), 'f', 0, 64) + "°"
}

// sizeBrim marks the width on one of the seen lines of the brim that lie flattest
// to the paper.
func (v *view) sizeBrim() {
	brim := v.solids.cones[0]
	if brim.width == 0 {
		return
	}
	const fair = 0.9 // of the longest line: so many may be chosen from, for the sake of a free place
	var lines []line
	longest := 0.0
	for i := range 36 {
		g := brim.generator(2 * math.Pi * float64(i) / 36)
		if v.solids.behind(g[len(g)/2]) || v.solids.behind(g[len(g)-1]) {
			continue
		}
		l := line{v.from.onPaper(g[0]), v.from.onPaper(g[len(g)-1])}
		lines, longest = append(lines, l), max(longest, l.length())
	}
	l := label{lines: []string{"brim", centimetres(v.Brim.Width)}, part: "brim-width"}
	for _, g := range lines {
		if g.length() >= fair*longest {
			l.about, l.gauges = append(l.about, middle(g)), append(l.gauges, g)
		}
	}
	v.label(l)
}

// sizeBase marks the rim's diameter along the projected rim's longer axis, which
// is true to scale from wherever one looks.
func (v *view) sizeBase() {
	if v.from.isSide() { // the front has it
		return
	}
	across := v.from.toward.Cross(v.Seat.Normal)
	if across.Norm() < 1e-9 {
		across = v.Seat.Left
	}
	arm := unit(across).Times(v.Seat.Radius)
	ends := line{v.from.onPaper(v.Seat.Rim.Minus(arm)), v.from.onPaper(v.Seat.Rim.Plus(arm))}
	v.gauge("base-diameter", ends)
	v.say(ends.parts(), "base", centimetres(fitting.Length(2*v.Seat.Radius)))
}

// sizeTape marks the way from the tape line up to the rim, from where it is seen.
func (v *view) sizeTape() {
	way := tapeToRim(v.Head, v.Seat)
	for _, p := range way {
		if throughHead(v.Head, p, v.from.toward, grazing) || v.solids.behindHat(p) {
			return
		}
	}
	up := v.Result.Placement.TapeLineToRim
	where := "above tape"
	if up < 0 {
		up, where = -up, "below tape"
	}
	l := v.from.project(way)
	v.gauge("tape-to-rim", l)
	v.say(l.parts(), centimetres(up), where)
}

// sizeTilt marks the angle from the crown to the base's centre, which the front
// and the sides show flat.
func (v *view) sizeTilt() {
	angle, word := v.Result.Placement.Sideways, "to own left"
	if angle < 0 {
		word = "to own right"
	}
	if v.from.isSide() {
		angle, word = v.Result.Placement.Forward, "forward"
		if angle < 0 {
			word = "back"
		}
	} else if !v.from.isFront() {
		return
	}
	const least = 2 // degrees: what is less cannot be told from none
	if math.Abs(angle.Degrees()) < least {
		return
	}
	origin, crown, centre := v.from.onPaper(fitting.Vec{}), v.from.onPaper(v.Head.Crown()), v.from.onPaper(v.Seat.Centre)
	radius := 0.5 * v.Head.C.Millimetres()
	arc := arcFrom(origin, crown, centre, radius)
	v.plain("tilt", beyond(origin, crown, radius-8), beyond(origin, centre, radius-8))
	v.plain("tilt-angle", arc)
	v.say(arc.parts(), degrees(angle), word)
}

// sizeSight marks the angle of the line of sight over the level, from the sides.
func (v *view) sizeSight() {
	eye, met, ok := fitting.Sight(v.Head, v.Brim, 0)
	if !ok || !v.from.isSide() {
		return
	}
	const long, radius = 34, 26
	from, to := v.from.onPaper(eye), v.from.onPaper(met)
	level := v.from.onPaper(eye.Plus(fitting.Vec{X: long}))
	arc := arcFrom(from, level, to, min(radius, from.distance(to)))
	v.plain("level", line{from, level})
	v.plain("sight-angle", arc)
	v.say(arc.parts(), "sees up", "to "+degrees(v.Result.View.Ahead))
}

// beyond is the line from p to q without its first part.
func beyond(p, q point, part float64) line {
	return line{p.plus(q.minus(p).times(min(1, part/p.distance(q)))), q}
}

// arcFrom is the arc about middle from the direction of p to that of q.
func arcFrom(middle, p, q point, radius float64) line {
	p, q = p.minus(middle), q.minus(middle)
	start, turn := math.Atan2(p.y, p.x), math.Atan2(p.x*q.y-p.y*q.x, p.x*q.x+p.y*q.y)
	const steps = 16
	l := make(line, steps+1)
	for i := range l {
		sin, cos := math.Sincos(start + turn*float64(i)/steps)
		l[i] = middle.plus(point{cos, sin}.times(radius))
	}
	return l
}

// gauge draws a line with ticks across its ends.
func (v *view) gauge(part string, l line) { v.plain(part, ticked(l)...) }

func ticked(l line) []line {
	const tick = 2.5
	lines := []line{l}
	n := len(l) - 1
	for _, end := range [2][2]point{{l[0], l[1]}, {l[n], l[n-1]}} {
		d := end[1].minus(end[0])
		length := math.Hypot(d.x, d.y)
		if length == 0 {
			continue
		}
		across := point{-d.y, d.x}.times(tick / length)
		lines = append(lines, line{end[0].minus(across), end[0].plus(across)})
	}
	return lines
}

func (v *view) plain(part string, lines ...line) {
	v.strokes = append(v.strokes, stroke{gauged, part, lines})
}

// nameSides says which side is which, under a face seen from the front.
func (v *view) nameSides() {
	if !v.from.isFront() {
		return
	}
	whose := "her own"
	if v.Yours {
		whose = "your own"
	}
	v.foot(whose+" right", whose+" left")
}

// nameElastic writes each seen side's length, or for the front that the elastic
// runs behind the head.
func (v *view) nameElastic() {
	named := false
	for _, s := range v.strokes {
		l := label{lines: []string{"elastic"}}
		switch {
		case named:
			return
		case v.from.isFront() && s.pen == under:
			l.lines = append(l.lines, "behind head")
		case v.from.isSide() && s.pen == corded && s.part == v.from.name && v.Sizes:
			l.lines = append(l.lines, centimetres(v.strand(s.part).Length))
		default:
			continue
		}
		l.about = longest(s.lines).parts()
		v.label(l)
		named = true
	}
}

func (v *view) strand(side string) fitting.Strand {
	if side == "left" {
		return v.Elastic.Left
	}
	return v.Elastic.Right
}

func middle(l line) point { return l[0].plus(l[len(l)-1]).times(0.5) }

// parts are the points that part a line in six.
func (l line) parts() []point {
	var points []point
	for i := 1; i < 6; i++ {
		at := float64(len(l)-1) * float64(i) / 6
		k := int(at)
		points = append(points, l[k].plus(l[k+1].minus(l[k]).times(at-float64(k))))
	}
	return points
}

func longest(lines []line) line {
	best := lines[0]
	for _, l := range lines[1:] {
		if l.length() > best.length() {
			best = l
		}
	}
	return best
}
