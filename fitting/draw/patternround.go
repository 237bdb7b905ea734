package draw

import (
	"fmt"
	"math"
	"slices"

	"perchbook/fitting"
)

// turnedIn is how far a binding of 5 cm in four layers reaches over the base's
// edge, near enough to trim the lining to (our choice).
const turnedIn = 10 * fitting.Millimetre

// bias is the direction, from the front, in which the straight thread lies: so
// that the bias lies at front, back and sides (common practice).
const bias = math.Pi / 4

// baseCircle is one for all layers. For a layer that is turned, a second arrow shows how
// its thread lies: straight to the front.
func baseCircle(b fitting.Base, e fitting.ElasticCut, turned []bool) piece {
	radius := b.CutDiameter.Millimetres() / 2
	return piece{
		name: "Base circle",
		orders: []string{
			fmt.Sprintf("Cut %d in sinamay, %s across. %s", b.Layers, exact(b.CutDiameter), layered(turned)),
			fmt.Sprintf("Domed to %s across its rim, %s deep.", centimetres(b.Diameter), centimetres(b.Sag)),
			"One notch is the front, two are the back. This side is outside.",
		},
		size: disc(radius), covers: within(radius),
		draw: func(l leaf) { l.circle(cutting, radius) },
		detail: func(l leaf, number string) {
			l.roundPiece(radius, "Base circle", fmt.Sprintf("cut %d", b.Layers), number)
			if at := slices.Index(turned, true); at >= 0 {
				l.moved(point{0.32 * radius, -0.3 * radius}).grain(0, 0.35*radius, fmt.Sprintf("thread, circle %d", at+1))
			}
			l.sides(radius)
			l.anchor(radius, -1, e.LeftAnchor)
			l.anchor(radius, 1, e.RightAnchor)
		},
	}
}

// layered tells how the circles lie on each other.
func layered(turned []bool) string {
	if at := slices.Index(turned, true); at >= 0 {
		return fmt.Sprintf("Cut number %d with the thread along its own arrow, the others along the slanting one; lay them notch on notch.", at+1)
	}
	return "Lay all of them with the threads one way, notch on notch."
}

func lining(b fitting.Base) piece {
	radius := b.CutDiameter.Millimetres() / 2
	return piece{
		name: "Lining circle",
		orders: []string{
			fmt.Sprintf("Cut 1 in lining, %s across, as large as the base.", exact(b.CutDiameter)),
			"Try it in the bound base and trim it to what the binding leaves: the dashed line is near that.",
			"Set it with adhesive let down with as much water, front to front.",
		},
		size: disc(radius), covers: within(radius),
		draw: func(l leaf) { l.circle(cutting, radius) },
		detail: func(l leaf, number string) {
			l.roundPiece(radius, "Lining circle", "cut 1", number)
			if inner := radius - turnedIn.Millimetres(); inner > radius/2 {
				l.circle(dashed, inner)
			}
		},
	}
}

// disc is what a circle about nought takes of the paper, with its line.
func disc(radius float64) box { return box{}.grown(radius + cutting.width) }

func within(radius float64) func(point) bool {
	return func(p point) bool { return p.distance(point{}) <= radius+near }
}

// roundPiece writes into a circle what must stay with it when it is cut out.
func (l leaf) roundPiece(radius float64, name, count, number string) {
	size := min(4, radius/10)
	l.notches(radius, 0, size, 1)
	l.notches(radius, 2*quarter, size, 2)
	l.notches(radius, quarter, size, 1)
	l.notches(radius, 3*quarter, size, 1)
	l.cross(min(5, radius/8))
	l.moved(up(-bias).times(0.42*radius)).grain(bias, 0.5*radius, "straight thread")
	f := l.fitted(serif(13), 1.1*radius, name)
	y := 0.25*radius + f.high()/2
	l.centre(f, point{0, y}, name)
	small := sans(0.72 * f.size)
	l.centre(small, point{0, y + 1.2*f.high()}, count)
	l.centre(small, point{0, y + 2.2*f.high()}, number)
	edge := lettering{"Helvetica", "", min(8, radius/5)}
	l.centre(edge, point{0, -radius + size + 1.2*edge.high()}, "front")
	l.centre(edge, point{0, radius - size - 0.5*edge.high()}, "back")
}

// sides names the sides of a base that is seen from outside.
func (l leaf) sides(radius float64) {
	f := lettering{"Helvetica", "", min(7, radius/6)}
	in := radius - min(4, radius/10) - 0.8*f.high()
	l.turned(f, point{-in, 0}, -quarter, "her own left")
	l.turned(f, point{in, 0}, quarter, "her own right")
}

// anchor marks where the elastic is sewn to the rim on one side, a fraction q back
// from the front, 0 for no mark; the angle on the flat circle is that on the rim.
func (l leaf) anchor(radius, side, q float64) {
	if q == 0 {
		return
	}
	t := side * math.Acos(1-2*q)
	f := lettering{"Helvetica", "", min(7, radius/6)}
	const dot = 1.0
	at := l.moved(up(t).times(radius - 2.5))
	at.circle(nib{dot, nil, 0}, dot/2)
	l.turned(f, up(t).times(radius-2.5-2*dot-0.5*f.high()), t, "elastic")
}

// fraction says whether q is one of the base's depth.
func fraction(q float64) bool { return q >= 0 && q <= 1 }
