package draw

import "perchbook/fitting"

// Camera is where the hat is looked at from: an orthographic projection, true to
// scale across the line of sight.
type Camera struct {
	name              string
	toward, right, up fitting.Vec // unit: to the onlooker, and the directions on the paper
}

// Front looks the wearer in the face: her own right is on the left of the paper.
func Front() Camera {
	return Camera{"front", fitting.Vec{X: 1}, fitting.Vec{Y: 1}, fitting.Vec{Z: 1}}
}

// FromRight looks from the wearer's own right; her face is on the right of the
// paper.
func FromRight() Camera {
	return Camera{"right", fitting.Vec{Y: -1}, fitting.Vec{X: 1}, fitting.Vec{Z: 1}}
}

// FromLeft looks from the wearer's own left; her face is on the left of the
// paper.
func FromLeft() Camera {
	return Camera{"left", fitting.Vec{Y: 1}, fitting.Vec{X: -1}, fitting.Vec{Z: 1}}
}

// isFront and isSide say which of a head's sizes lie flat on the paper.
func (c Camera) isFront() bool { return c.toward.X == 1 }
func (c Camera) isSide() bool  { return c.toward.Y*c.toward.Y == 1 }

// onPaper projects p: millimetres to the right and, as SVG has it, down.
func (c Camera) onPaper(p fitting.Vec) point {
	return point{c.right.Dot(p), -c.up.Dot(p)}
}

// project projects a curve.
func (c Camera) project(curve []fitting.Vec) line {
	l := make(line, len(curve))
	for i, p := range curve {
		l[i] = c.onPaper(p)
	}
	return l
}

func unit(v fitting.Vec) fitting.Vec { return v.Times(1 / v.Norm()) }
