package fitting

import "math"

// Seat is where the base's rim lies on the head: a circle of radius Radius about
// Rim, in the plane across Normal.
type Seat struct {
	Centre  Vec     // of the base, on the head's surface
	Normal  Vec     // outward at Centre, unit
	Forward Vec     // unit, in the rim's plane, to the base's front
	Left    Vec     // unit, in the rim's plane
	Rim     Vec     // the rim circle's centre
	Radius  float64 // of the rim, mm
	Rho     float64 // radius of the sphere that the base is domed to, mm
	Sag     float64 // from the rim's plane to Centre, mm
}

// NewSeat sets a base of the given rim diameter on the head, its centre tilted
// forward and sideways (positive to the wearer's left) from the crown. It refuses
// angles and diameters out of bounds, and a base too large for the head's curve
// there, by their field in the contract.
func NewSeat(h Head, diameter Length, forward, sideways Angle) (Seat, error) {
	if err := between("hat.forward_deg", "The tilt forward", forward.Degrees(), -steepestTilt.Degrees(), steepestTilt.Degrees(), " degrees"); err != nil {
		return Seat{}, err
	}
	if err := between("hat.sideways_deg", "The tilt sideways", sideways.Degrees(), -steepestTilt.Degrees(), steepestTilt.Degrees(), " degrees"); err != nil {
		return Seat{}, err
	}
	if err := within("hat.base_mm", "The base's diameter", diameter, leastBase, mostBase); err != nil {
		return Seat{}, err
	}
	s := seatAt(h, diameter, forward, sideways)
	if !(s.Radius <= steepestBase*s.Rho) {
		return Seat{}, Refusal{"hat.base_mm", "The base is too large for this place on this head, which curves more than the base can follow: at most " +
			inCentimetres(Length(2*steepestBase*s.Rho)) + " across. Take a smaller base or tilt it less."}
	}
	return s, nil
}

// seatAt does the geometry without the bounds.
func seatAt(h Head, diameter Length, forward, sideways Angle) Seat {
	s := Seat{Radius: diameter.Millimetres() / 2}
	s.Centre = h.OnSurface(Vec{math.Tan(forward.Radians()), math.Tan(sideways.Radians()), 1})
	s.Normal = h.Normal(s.Centre)
	ahead := Vec{1, 0, 0}
	s.Forward = ahead.Minus(s.Normal.Times(ahead.Dot(s.Normal))).unit()
	s.Left = s.Normal.Cross(s.Forward)
	s.Rho = 1 / h.meanCurvature(s.Centre)
	s.Sag = s.Rho - math.Sqrt(s.Rho*s.Rho-s.Radius*s.Radius)
	s.Rim = s.Centre.Minus(s.Normal.Times(s.Sag))
	return s
}

// RimPoint returns the rim point at t radians from the front towards the left.
func (s Seat) RimPoint(t float64) Vec {
	sin, cos := math.Sincos(t)
	return s.Rim.Plus(s.Forward.Times(s.Radius * cos)).Plus(s.Left.Times(s.Radius * sin))
}

// Anchor returns the rim point on the left or the right, a fraction q back from
// the base's front, where the elastic is sewn on. 0 <= q <= 1.
func (s Seat) Anchor(q float64, side Side) Vec {
	return s.anchorAt(math.Acos(1-2*q), side)
}

// anchorAt is the rim point t radians from the front on the left or the right.
func (s Seat) anchorAt(t float64, side Side) Vec {
	if side == Right {
		t = -t
	}
	return s.RimPoint(t)
}

// Lowest returns the rim point of least z; the front one when the rim is level.
func (s Seat) Lowest() Vec {
	if math.Hypot(s.Forward.Z, s.Left.Z) < 1e-12 {
		return s.RimPoint(0)
	}
	return s.RimPoint(math.Atan2(-s.Left.Z, -s.Forward.Z))
}

// CutDiameter is of the flat circle that domes to the base.
func (s Seat) CutDiameter() Length { return Length(2 * s.Rho * math.Asin(s.Radius/s.Rho)) }

// Doming is how far the weave must shear for that.
func (s Seat) Doming() Angle {
	half := math.Asin(s.Radius / s.Rho)
	return degrees(half * half / 2)
}

// clock is the base's centre as an hour: 12 in front, 3 on the wearer's right;
// nil at the crown.
func (s Seat) clock() *float64 {
	if s.Centre.X == 0 && s.Centre.Y == 0 {
		return nil
	}
	hour := math.Mod(12+math.Atan2(-s.Centre.Y, s.Centre.X)*6/math.Pi, 12)
	if hour == 0 {
		hour = 12
	}
	return &hour
}

// tapeLineToRim is the arc from the tape line, up the ellipsoid in the plane of
// the z-axis, to the rim's lowest point brought onto the surface.
func (h Head) tapeLineToRim(s Seat) Length {
	p := h.OnSurface(s.Lowest())
	a, b, c := h.A.Millimetres(), h.B.Millimetres(), h.C.Millimetres()
	sin, cos := math.Sincos(math.Atan2(p.Y, p.X))
	out := 1 / math.Hypot(cos/a, sin/b)
	return Length(ellipseArc(out, c, math.Asin(p.Z/c)))
}
