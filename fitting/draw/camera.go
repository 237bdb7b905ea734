package draw

import (
	"math"

	"perchbook/fitting"
)

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

// Back looks at her from behind: her own right is on the right of the paper.
func Back() Camera {
	return Camera{"back", fitting.Vec{X: -1}, fitting.Vec{Y: -1}, fitting.Vec{Z: 1}}
}

// Above looks down on the crown, her face towards the top of the paper: her own
// right is on its right.
func Above() Camera {
	return Camera{"above", fitting.Vec{Z: 1}, fitting.Vec{Y: -1}, fitting.Vec{X: 1}}
}

// Cameras are all views of a hat that sits on that side, by their names.
func Cameras(side fitting.Side) map[string]Camera {
	return map[string]Camera{
		"front": Front(), "right": FromRight(), "left": FromLeft(), "back": Back(), "above": Above(), "three-quarter": ThreeQuarter(side),
	}
}

// askew is how far to the side a three-quarter view is turned: our choice.
const askew = fitting.Angle(40)

// ThreeQuarter looks at her face, turned a little to the side that is seen: level
// with it, 40 degrees from the front. For the middle it is her own right.
func ThreeQuarter(side fitting.Side) Camera {
	sin, cos := math.Sincos(askew.Radians())
	c := Camera{"three-quarter-right", fitting.Vec{X: cos, Y: -sin}, fitting.Vec{X: sin, Y: cos}, fitting.Vec{Z: 1}}
	if side == fitting.Left {
		c.name, c.toward.Y, c.right.X = "three-quarter-left", sin, -sin
	}
	return c
}

// isFront and so on say which of a head's sizes lie flat on the paper.
func (c Camera) isFront() bool { return c.toward.X == 1 }
func (c Camera) isBack() bool  { return c.toward.X == -1 }
func (c Camera) isSide() bool  { return c.toward.Y*c.toward.Y == 1 }
func (c Camera) isAbove() bool { return c.toward.Z == 1 }

// isAskew says whether it is a three-quarter view.
func (c Camera) isAskew() bool { return !c.isFront() && !c.isBack() && !c.isSide() && !c.isAbove() }

// side is the wearer's own side that a camera to a side of her looks at.
func (c Camera) side() fitting.Side {
	if c.toward.Y > 0 {
		return fitting.Left
	}
	return fitting.Right
}

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
