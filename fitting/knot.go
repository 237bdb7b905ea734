package fitting

import (
	"fmt"
	"math"
)

// knot is a knot of hair: a ball on the middle of the head's back or top.
type knot struct {
	up     Angle  // of its middle, up the back from the tape line: the parameter of the ellipse
	radius Length // on the head
	place  string
}

// knots are modelling choices of ours: a knot at the nape is about as wide as a
// fist, one on top is pinned small. The middle is where such knots are pinned.
var knots = map[Knot]knot{
	KnotAtNape: {-30, 40, "at the nape"},
	KnotAtBack: {20, 40, "at the back"},
	KnotOnTop:  {75, 30, "on top"},
}

// at is the middle of the knot on the head.
func (k knot) at(h Head) Vec {
	sin, cos := math.Sincos(k.up.Radians())
	return Vec{-h.A.Millimetres() * cos, 0, h.C.Millimetres() * sin}
}

// away is how far in mm a place of the head is from the nearest point of the
// base's rim, negative under the base.
func (s Seat) away(p Vec) float64 {
	d := p.Minus(s.Rim)
	high := d.Dot(s.Normal)
	far := math.Hypot(d.Minus(s.Normal.Times(high)).Norm()-s.Radius, high)
	if high > 0 { // over the rim's plane is only what the base covers
		return -far
	}
	return far
}

// clearOf is how far in mm the base stays clear of a knot.
func (s Seat) clearOf(k knot, h Head) float64 { return s.away(k.at(h)) - k.radius.Millimetres() }

// spareKnot is far for who wears none.
func spareKnot(p *person, t *trial) float64 {
	if p.knot.radius == 0 {
		return 1
	}
	return t.seat.clearOf(p.knot, p.head) / 10
}

// aboutKnot warns of a base that lies on the knot.
func (s Solution) aboutKnot(worn Knot) []Note {
	k, there := knots[worn]
	if !there {
		return nil
	}
	away := s.Seat.away(k.at(s.Head))
	if away >= k.radius.Millimetres() {
		return nil
	}
	return []Note{{"hair.knot", away, limit(k.radius), "our choice of the place and size of a knot",
		fmt.Sprintf("The base lies on a knot of hair %s. Move the base, make it smaller, or have the knot pinned elsewhere.", k.place)}}
}
