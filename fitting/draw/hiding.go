package draw

import (
	"math"

	"perchbook/fitting"
)

const (
	touching = 0.05  // mm: a surface nearer to a point than this is the one it lies on
	grazing  = 0.995 // of the head that hides: a base never follows the head to the hair
)

// solids are the things that hide what lies behind them.
type solids struct {
	head   fitting.Head
	seat   fitting.Seat
	dome   calotte
	cones  []cone
	toward fitting.Vec
}

func newSolids(s fitting.Solution, from Camera) solids {
	cones := []cone{newCone(s.Brim.Inner, s.Brim.Outer, s.Brim.Normal)}
	if hasLip(s) {
		rim := s.Brim.Inner
		rim.Centre, rim.Radius = s.Seat.Rim, s.Seat.Radius
		cones = append(cones, newCone(rim, s.Brim.Inner, s.Brim.Normal))
	}
	return solids{head: s.Head, seat: s.Seat, dome: newCalotte(s.Seat), cones: cones, toward: from.toward}
}

// behindHat says whether base, lip or brim hide p.
func (s solids) behindHat(p fitting.Vec) bool {
	if s.dome.hides(p, s.toward) {
		return true
	}
	for _, c := range s.cones {
		if c.hides(p, s.toward) {
			return true
		}
	}
	return false
}

// behind says whether the hat or the head hide p, a point of the hat or of the
// face. Where the hat cuts a little into the head, which in truth gives way, it
// counts as lying on it.
func (s solids) behind(p fitting.Vec) bool {
	return s.behindHat(p) || throughHead(s.head, p, s.toward, grazing)
}

// gives is how far the head may come through the hat before that is drawn: hair
// and brim give way so far.
const gives = 12.0 // mm

// covered says whether p, a point on or in the head, lies under the base, or
// under a part of the brim that cuts a little into the head.
func (s solids) covered(p fitting.Vec) bool {
	q := p.Minus(s.seat.Rim)
	z, r := q.Dot(s.seat.Normal), math.Hypot(q.Dot(s.seat.Forward), q.Dot(s.seat.Left))
	if r < s.seat.Radius-touching && z > -s.seat.Radius/2 {
		return true
	}
	for _, c := range s.cones {
		z := p.Minus(c.from.Centre).Dot(c.normal)
		if out := (r - c.from.Radius) / c.cos; out >= 0 && out < c.width && z > out*c.sin && z < out*c.sin+gives {
			return true
		}
	}
	return false
}

// sunk says whether the head hides p, a point of the brim's surface, or holds it
// near its own outline, where what gives way would stand out beyond it.
func (s solids) sunk(p fitting.Vec) bool {
	const deep, edge = 0.98, 0.35
	a, b, c := s.head.A.Millimetres(), s.head.B.Millimetres(), s.head.C.Millimetres()
	if (fitting.Vec{X: p.X / a, Y: p.Y / b, Z: p.Z / c}).Norm() > deep {
		return throughHead(s.head, p, s.toward, 1)
	}
	return s.head.Normal(p).Dot(s.toward) < edge
}

// throughHead says whether the ray from p towards the onlooker runs through the
// head, shrunk to the given part; p is brought out to the surface first.
func throughHead(h fitting.Head, p, toward fitting.Vec, part float64) bool {
	a, b, c := h.A.Millimetres(), h.B.Millimetres(), h.C.Millimetres()
	q := fitting.Vec{X: p.X / a, Y: p.Y / b, Z: p.Z / c}
	d := unit(fitting.Vec{X: toward.X / a, Y: toward.Y / b, Z: toward.Z / c})
	if r := q.Norm(); r < 1 {
		q = q.Times(1 / r)
	}
	along := q.Dot(d)
	return along < 0 && q.Minus(d.Times(along)).Norm() < part
}
