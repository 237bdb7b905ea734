package draw

import (
	"math"
	"strconv"

	"perchbook/fitting"
)

// grain draws a grain arrow about nought, its shaft half long either way at t
// radians from straight up, and names it.
func (l leaf) grain(t, half float64, words string) {
	along := up(t)
	l.line(nib{0.35, nil, 0}, along.times(-half), along.times(half))
	for _, end := range [2]float64{1, -1} {
		l.arrowhead(along.times(end*half), t+(1-end)*math.Pi/2)
	}
	f := l.fitted(sans(8), 1.6*half, words)
	l.turned(f, up(t-math.Pi/2).times(0.9*f.high()), t-math.Pi/2, words)
}

// arrowhead is a filled one with its point at p, flying at t radians from up.
func (l leaf) arrowhead(p point, t float64) {
	const long, half = 3.2, 1.0
	back := p.minus(up(t).times(long))
	l.area(p, back.plus(up(t+math.Pi/2).times(half)), back.minus(up(t+math.Pi/2).times(half)))
}

// notch marks an edge at p with a small triangle that points inwards.
func (l leaf) notch(p, inwards point, size float64) {
	aside := point{-inwards.y, inwards.x}.times(0.4 * size)
	l.line(cutting, p.plus(aside), p.plus(inwards.times(size)), p.minus(aside))
}

// notches marks a circle about nought with as many notches side by side.
func (l leaf) notches(radius, t, size float64, count int) {
	for i := range count {
		shift := (float64(i) - float64(count-1)/2) * 1.3 * size / radius
		l.notch(up(t+shift).times(radius), up(t+shift).times(-1), size)
	}
}

// cross marks nought.
func (l leaf) cross(arm float64) {
	l.line(pencil, point{-arm, 0}, point{arm, 0})
	l.line(pencil, point{0, -arm}, point{0, arm})
}

// exact is a length as it is drawn, to a tenth of a millimetre, with inches beside
// it.
func exact(l fitting.Length) string {
	return strconv.FormatFloat(l.Centimetres(), 'f', 2, 64) + " cm (" + strconv.FormatFloat(l.Inches(), 'f', 2, 64) + " in)"
}

// near is how much farther than its edge a piece is taken to reach, so that no line
// of it is missed.
const near = 2.0

const quarter = math.Pi / 2
