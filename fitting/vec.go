package fitting

import "math"

// Vec is a place in the head's frame, in millimetres, or a direction without
// unit: X forward, Y to the wearer's left, Z up.
type Vec struct{ X, Y, Z float64 }

// Plus returns v + w.
func (v Vec) Plus(w Vec) Vec { return Vec{v.X + w.X, v.Y + w.Y, v.Z + w.Z} }

// Minus returns v - w.
func (v Vec) Minus(w Vec) Vec { return Vec{v.X - w.X, v.Y - w.Y, v.Z - w.Z} }

// Times returns v scaled by k.
func (v Vec) Times(k float64) Vec { return Vec{k * v.X, k * v.Y, k * v.Z} }

// Dot returns the scalar product.
func (v Vec) Dot(w Vec) float64 { return v.X*w.X + v.Y*w.Y + v.Z*w.Z }

// Cross returns the vector product.
func (v Vec) Cross(w Vec) Vec {
	return Vec{v.Y*w.Z - v.Z*w.Y, v.Z*w.X - v.X*w.Z, v.X*w.Y - v.Y*w.X}
}

// Norm returns the length of v.
func (v Vec) Norm() float64 { return math.Sqrt(v.Dot(v)) }

// unit returns v at length one; v must not be zero.
func (v Vec) unit() Vec { return v.Times(1 / v.Norm()) }

// mirrored returns v seen in the plane that parts left from right.
func (v Vec) mirrored() Vec { return Vec{v.X, -v.Y, v.Z} }
