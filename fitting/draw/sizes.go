package draw

import (
	"math"
	"strconv"

	"perchbook/fitting"
)

// drawSizes writes each size where it acts and is seen true to scale.
func (v *view) drawSizes() {
	v.nameSides()
	if v.Small {
		return
	}
	if v.Sizes {
		v.sizeBrim()
		v.sizeSight()
		v.sizeTilt()
		v.sizeBase()
		v.sizeTape()
		v.sizePlace()
	}
	v.nameElastic()
	v.nameTrimming()
}

func centimetres(l fitting.Length) string {
	return strconv.FormatFloat(math.Round(l.Millimetres())/10, 'f', 1, 64) + " cm"
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
	} else if !v.from.isFront() && !v.from.isBack() {
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

// sizePlace marks, from above, the way from the crown to the base's centre and the
// clock by which its direction is told.
func (v *view) sizePlace() {
	if !v.from.isAbove() {
		return
	}
	v.drawClock()
	way := line{v.from.onPaper(v.Head.Crown()), v.from.onPaper(v.Seat.Centre)}
	if way.length() < 5 { // mm: on the crown
		return
	}
	v.gauge("place", way)
	v.say(way.parts(), "from crown", centimetres(v.Result.Placement.CrownToCentre))
}

// drawClock marks the hours round the head: 12 in front, 3 on the wearer's right.
func (v *view) drawClock() {
	const hours, out, in = 12, 1.06, 1.01
	for hour := range hours {
		sin, cos := math.Sincos(2 * math.Pi * float64(hour) / hours)
		p := v.Head.OnSurface(fitting.Vec{X: cos, Y: -sin})
		v.plain("clock", line{v.from.onPaper(p.Times(in)), v.from.onPaper(p.Times(out))})
		if hour%3 == 0 {
			v.say([]point{v.from.onPaper(p.Times(out))}, strconv.Itoa((hour+hours-1)%hours+1))
		}
	}
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
