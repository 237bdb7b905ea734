package fitting

import (
	"math"

	"gonum.org/v1/gonum/mathext"
)

// Head is the ellipsoid with semi-axes A forward, B sideways and C upward about
// the origin. It stands for the head with its hair, or for what lies under the
// hair (see Under).
type Head struct {
	A Length `json:"a_mm"`
	B Length `json:"b_mm"`
	C Length `json:"c_mm"`
}

// NewHead returns the head that the tapes make likeliest, by least squares: each
// tape counts as far as it is trusted, and what is not taped is as in the surveys.
// With girth and nape to crown alone its ellipse (A, B) has the girth for its
// perimeter and its ellipse (A, C) the nape-to-crown tape for its arc, both to
// 1e-9 mm. With both calipers B/A is theirs. It refuses tapes that no head has,
// naming the one to take again.
func NewHead(m Measures) (Head, error) {
	t, err := readTapes(m)
	if err != nil {
		return Head{}, err
	}
	return t.head(), nil
}

// Under returns the ellipsoid that lies thickness below the ends of each axis:
// the surface that the elastic runs on.
func (h Head) Under(thickness Length) Head {
	return Head{h.A - thickness, h.B - thickness, h.C - thickness}
}

// Girth returns the perimeter of the ellipse (A, B).
func (h Head) Girth() Length {
	return Length(4 * ellipseArc(h.A.Millimetres(), h.B.Millimetres(), math.Pi/2))
}

// NapeToCrown returns the arc of the ellipse (A, C) from the crown over the back
// down to the nape.
func (h Head) NapeToCrown() Length {
	a, c := h.A.Millimetres(), h.C.Millimetres()
	return Length(ellipseArc(a, c, math.Pi/2) + ellipseArc(a, c, napeBelow.Radians()))
}

// BrowToNape returns the tape from the brow over the crown to the nape.
func (h Head) BrowToNape() Length {
	return h.NapeToCrown() + Length(ellipseArc(h.A.Millimetres(), h.C.Millimetres(), math.Pi/2))
}

// EarToEar returns the tape over the crown, in the plane x = 0, between the
// tragions of a head of this girth; on a very flat one they stay above its lower
// tenth.
func (h Head) EarToEar(s Sex) Length {
	b, c := h.B.Millimetres(), h.C.Millimetres()
	tragion := (h.C - tragionBelowCrown(s, h.Girth())).Millimetres()
	return 2 * Length(ellipseArc(b, c, math.Pi/2)-ellipseArc(b, c, math.Asin(max(-0.9, tragion/c))))
}

// Calipers returns what calipers would read on the head: they find less than the
// tape, since hair gives way and no head is quite an ellipse.
func (h Head) Calipers(s Sex) (length, breadth Length) {
	k := Length(caliperFactor(s, h.Girth()))
	return 2 * h.A / k, 2 * h.B / k
}

// Crown returns the top of the head.
func (h Head) Crown() Vec { return Vec{0, 0, h.C.Millimetres()} }

// Nape returns the hollow at the back of the head where the elastic ends.
func (h Head) Nape() Vec {
	sin, cos := math.Sincos(napeBelow.Radians())
	return Vec{-h.A.Millimetres() * cos, 0, -h.C.Millimetres() * sin}
}

// BehindEar returns the point of the surface behind the left or the right ear.
func (h Head) BehindEar(side Side) Vec {
	p := Vec{-earBack * h.A.Millimetres(), earOut * h.B.Millimetres(), -earDown * h.C.Millimetres()}
	if side == Right {
		return p.mirrored()
	}
	return p
}

// Eyes returns the left and the right eye.
func (h Head) Eyes() [2]Vec {
	left := Vec{eyeForward * h.A.Millimetres(), eyeAside.Millimetres(), -eyeDown * h.C.Millimetres()}
	return [2]Vec{left, left.mirrored()}
}

// OnSurface brings p radially, along the line to the origin, onto the surface.
// The origin itself has no such point.
func (h Head) OnSurface(p Vec) Vec {
	q := Vec{p.X / h.A.Millimetres(), p.Y / h.B.Millimetres(), p.Z / h.C.Millimetres()}
	return p.Times(1 / q.Norm())
}

// Normal returns the outward unit normal at a point of the surface.
func (h Head) Normal(p Vec) Vec { return h.gradient(p).unit() }

// gradient is half the gradient of (x/a)² + (y/b)² + (z/c)².
func (h Head) gradient(p Vec) Vec {
	a, b, c := h.A.Millimetres(), h.B.Millimetres(), h.C.Millimetres()
	return Vec{p.X / (a * a), p.Y / (b * b), p.Z / (c * c)}
}

// meanCurvature at a point of the surface, per millimetre, positive.
// (div of the unit normal)/2 for the implicit surface; e.g. Goldman, Curvature
// formulas for implicit curves and surfaces, 2005.
func (h Head) meanCurvature(p Vec) float64 {
	g := h.gradient(p)
	n := g.unit()
	trace := h.gradient(Vec{1, 0, 0}).X + h.gradient(Vec{0, 1, 0}).Y + h.gradient(Vec{0, 0, 1}).Z
	return (trace - n.Dot(h.gradient(n))) / (2 * g.Norm())
}

// ellipseArc is the arc of the ellipse with semi-axes p and q from the end of p
// to the point (p cos t, q sin t), |t| <= π/2, negative for negative t. Carlson's
// form behind it is good to about 1e-15 of the arc, for p > q and p < q alike.
func ellipseArc(p, q, t float64) float64 {
	return q * mathext.EllipticE(t, 1-(p/q)*(p/q))
}
