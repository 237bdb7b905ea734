package fitting

import "math"

// figures are what the advice chooses: mm along, degrees of tilt and slope. The
// search works on the wearer's left: sideways is how far, not to which side.
type figures struct{ base, forward, sideways, width, slope float64 }

// searchUnit makes a step of one in any figure about as noticeable: a
// centimetre, or ten degrees.
const searchUnit = 10

func (f figures) scaled() [unknowns]float64 {
	return [unknowns]float64{f.base / searchUnit, f.forward / searchUnit, f.sideways / searchUnit, f.width / searchUnit, f.slope / searchUnit}
}

func figuresFrom(x [unknowns]float64) figures {
	return figures{x[0] * searchUnit, x[1] * searchUnit, x[2] * searchUnit, x[3] * searchUnit, x[4] * searchUnit}
}

// trial is one hat on trial: what limits and terms look at.
type trial struct {
	figures
	seat         Seat
	brim         Brim
	pattern      BrimPattern
	low          Length   // tape line to rim
	ahead        [4]Angle // view, by eye and edge of the window
	gap          float64  // mm, outer edge to head
	height, span float64  // of the silhouette, mm
}

// try sets the figures on the head. Where the head curves too much for the base
// it is tried as a hemisphere, so that a search finds the way back.
func (p *person) try(f figures) trial {
	t := trial{figures: f, seat: seatAt(p.head, Length(f.base), Angle(f.forward), Angle(f.sideways))}
	if t.seat.Radius > t.seat.Rho {
		t.seat.Sag = t.seat.Rho
		t.seat.Rim = t.seat.Centre.Minus(t.seat.Normal.Times(t.seat.Sag))
	}
	rim := Circle{t.seat.Rim, t.seat.Forward, t.seat.Left, t.seat.Radius}
	inner := rim.offset(t.seat.Normal, p.lip, p.lipSlope)
	outer := inner.offset(t.seat.Normal, Length(f.width), Angle(f.slope))
	t.brim = Brim{inner, outer, t.seat.Normal, Length(f.width), Angle(f.slope)}
	t.pattern = t.brim.Pattern()
	t.low = p.head.tapeLineToRim(t.seat)
	t.ahead = p.viewAhead(t.brim)
	t.gap = wellClear
	if f.slope < flattest {
		t.gap = p.head.gap(t.brim)
	}
	t.height, t.span = p.silhouette(t.brim)
	return t
}

// farFromView is so far above the limit of view that its exact figure does not
// matter, and the edges of the window are enough.
const farFromView = clearView + 15

// viewAhead is the figure of [View] by eye and by edge of the window: the least of
// the four is the figure, and has kinks that none of them has. It is worked out
// in full where it is near the limit.
func (p *person) viewAhead(b Brim) [4]Angle {
	var ahead [4]Angle
	for i, eye := range p.head.Eyes() {
		o := outline{eye: eye, circles: [2]Circle{b.Inner, b.Outer}, lines: b.contour(eye)}
		left, right := o.lowestAlong(heading(viewWindow)), o.lowestAlong(heading(-viewWindow))
		if degrees(math.Atan(min(left, right))) <= farFromView {
			o.dipAhead()
			if between := o.lowest(0); between < min(left, right) {
				left, right = between, between
			}
		}
		ahead[2*i], ahead[2*i+1] = degrees(math.Atan(left)), degrees(math.Atan(right))
	}
	return ahead
}

// dipAhead finds the dips that count straight ahead: those of the lines, and of
// each circle between where it crosses one edge of the window and the other. Where
// it crosses only one of them the circle is gone round.
func (o *outline) dipAhead() {
	for _, l := range o.lines {
		if p, ok := l.dip(o.eye); ok {
			o.dips = append(o.dips, p)
		}
	}
	for _, c := range o.circles {
		from, to := c.crossings(o.eye, heading(-viewWindow)), c.crossings(o.eye, heading(viewWindow))
		if from[0].met != to[0].met || from[1].met != to[1].met {
			o.dips = append(o.dips, c.dips(o.eye)...)
			continue
		}
		r := c.seenFrom(o.eye)
		for i := range from {
			if from[i].met {
				o.dips = append(o.dips, r.dipBetween(from[i].at, to[i].at)...)
			}
		}
	}
}

// dipBetween is the dip of the shorter way between two directions, if there is
// one.
func (r ring) dipBetween(from, to turn) []Vec {
	if from.cos*to.sin-from.sin*to.cos < 0 {
		from, to = to, from
	}
	_, before := r.towards(from)
	_, after := r.towards(to)
	if !(before < 0 && after >= 0) {
		return nil
	}
	low := from.radians()
	return []Vec{r.dip(low, low+math.Remainder(to.radians()-low, 2*math.Pi), after-before)}
}

// lowestAlong is the least tangent of elevation of the outline straight ahead in
// a level direction.
func (o *outline) lowestAlong(ahead Vec) float64 {
	lowest := math.Inf(1)
	o.meetAlong(ahead, func(p Vec) { lowest = min(lowest, elevation(p)) })
	return lowest
}

// silhouette is the height and the width in mm, seen from the front, of face and
// hat together: chin to hairline and what the hat adds above the head, and the
// width of the outline of both.
func (p *person) silhouette(b Brim) (height, width float64) {
	half := p.face.width / 2
	left := larger(b.reach(Vec{0, 1, 0}), half)
	right := larger(b.reach(Vec{0, -1, 0}), half)
	return p.face.height + p.added(b), left + right
}

// added is the height in mm that the brim adds above the head.
func (p *person) added(b Brim) float64 {
	return larger(b.reach(Vec{0, 0, 1})-p.head.C.Millimetres(), 0)
}

// reach is how far the brim goes from the middle of the head in a direction.
func (b Brim) reach(d Vec) float64 { return larger(b.Inner.reach(d), b.Outer.reach(d)) }

func (c Circle) reach(d Vec) float64 {
	return c.Centre.Dot(d) + c.Radius*math.Hypot(c.Forward.Dot(d), c.Left.Dot(d))
}

// larger is the larger of two lengths in mm, smooth where they meet.
func larger(a, b float64) float64 {
	const rounded = 10
	return (a + b + math.Hypot(a-b, rounded)) / 2
}

// across is the brim's outer diameter, mm.
func (t *trial) across() float64 { return 2 * t.brim.Outer.Radius }

// sail is the brim's area, seen along the base's plane, over the square of the
// base's diameter.
func (t *trial) sail() float64 {
	high := t.brim.Outer.Centre.Minus(t.brim.Inner.Centre).Norm()
	return (t.brim.Inner.Radius + t.brim.Outer.Radius) * high / (t.base * t.base)
}
