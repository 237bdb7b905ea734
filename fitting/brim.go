package fitting

import "math"

// Circle is a circle in space about Centre, in the plane of the unit vectors
// Forward and Left, which are at right angles.
type Circle struct {
	Centre, Forward, Left Vec
	Radius                float64 // mm
}

// Point returns the circle's point at t radians from Forward towards Left.
func (c Circle) Point(t float64) Vec { return c.at(turned(t)) }

// turn is a direction round a circle, from Forward towards Left.
type turn struct{ cos, sin float64 }

func turned(radians float64) turn {
	sin, cos := math.Sincos(radians)
	return turn{cos, sin}
}

func (d turn) radians() float64 { return math.Atan2(d.sin, d.cos) }

func (c Circle) at(d turn) Vec {
	return c.Centre.Plus(c.Forward.Times(c.Radius * d.cos)).Plus(c.Left.Times(c.Radius * d.sin))
}

// twoTurns are the directions d with u·cos + v·sin = want, of which the second is
// as far one way from (u, v) as the first is the other. It reports false when
// there are none.
func twoTurns(u, v, want float64) (d [2]turn, ok bool) {
	reach := math.Sqrt(u*u + v*v)
	if !(math.Abs(want) <= reach) || reach == 0 {
		return d, false
	}
	u, v, want = u/reach, v/reach, want/reach
	aside := math.Sqrt(1 - want*want)
	return [2]turn{{u*want - v*aside, v*want + u*aside}, {u*want + v*aside, v*want - u*aside}}, true
}

// Brim is a cone frustum from its inner circle, on the rim or the lip, to its
// outer edge.
type Brim struct {
	Inner, Outer Circle
	Normal       Vec // of both circles' planes, unit, away from the head
	Width        Length
	Slope        Angle // from the rim's plane, positive away from the head
}

// NewBrim sets a brim of the given width along its slope on the seat's rim, with
// a lip, if lip is not zero, turned up between the two.
func NewBrim(s Seat, width Length, slope Angle, lip Length, lipSlope Angle) (Brim, error) {
	if err := within("hat.brim_width_mm", "The brim's width", width, 0, mostBrim); err != nil {
		return Brim{}, err
	}
	if err := between("hat.brim_slope_deg", "The brim's slope", slope.Degrees(), -steepestSlope.Degrees(), steepestSlope.Degrees(), " degrees"); err != nil {
		return Brim{}, err
	}
	if err := within("hat.lip_width_mm", "The lip's width", lip, 0, mostLip); err != nil {
		return Brim{}, err
	}
	if err := between("hat.lip_slope_deg", "The lip's slope", lipSlope.Degrees(), 0, 90, " degrees"); err != nil {
		return Brim{}, err
	}
	rim := Circle{s.Rim, s.Forward, s.Left, s.Radius}
	inner := rim.offset(s.Normal, lip, lipSlope)
	return Brim{inner, inner.offset(s.Normal, width, slope), s.Normal, width, slope}, nil
}

// offset is the far edge of a frustum of the given width and slope on c.
func (c Circle) offset(normal Vec, width Length, slope Angle) Circle {
	sin, cos := math.Sincos(slope.Radians())
	c.Centre = c.Centre.Plus(normal.Times(width.Millimetres() * sin))
	c.Radius += width.Millimetres() * cos
	return c
}

// Pattern develops the brim into the flat: a sector of a ring.
func (b Brim) Pattern() BrimPattern {
	cos := math.Cos(b.Slope.Radians())
	inner := Length(b.Inner.Radius / cos)
	outer := inner + b.Width
	lap := 360 * Angle(1-cos)
	ratio := float64(outer / inner)
	return BrimPattern{
		Width: b.Width, Slope: b.Slope,
		FlatInnerRadius: inner, FlatOuterRadius: outer,
		Sector:       360 * Angle(cos),
		RingLap:      lap,
		RingLapInner: inner * Length(lap.Radians()), RingLapOuter: outer * Length(lap.Radians()),
		EdgeRatio: ratio,
		Shear:     2*degrees(math.Atan(ratio)) - 90,
	}
}

// Strip is the straight bias strip that is curved to the pattern, its outer edge
// sheared as far as its inner edge is eased.
func (p BrimPattern) Strip(folds int) (Strip, error) {
	if folds != 1 && folds != 2 && folds != 4 {
		return Strip{}, Refusal{"hat.folds", "The strip has 4 folds (large binding), 2 (folded once) or 1 (single, with a bound edge)."}
	}
	middle := Length(math.Sqrt((square(p.FlatInnerRadius) + square(p.FlatOuterRadius)) / 2))
	flat := Length(folds) * p.Width * (1 + stripFullness)
	return Strip{
		Folds: folds, FlatWidth: flat, FromFold: flat / 2,
		LeastFlatWidth: Length(folds) * middle * Length(p.Shear.Radians()),
		Length:         Length(p.Sector.Radians())*middle + stripLap,
	}, nil
}

func square(l Length) float64 { return l.Millimetres() * l.Millimetres() }

// NetWidth is what a bias strip's width becomes, as a part of what it was, when
// the strip is stretched to the given multiple of its length: a net of threads
// that pivot and do not stretch. It is NaN past a stretch of sqrt 2.
func NetWidth(stretched float64) float64 { return math.Sqrt(2 - stretched*stretched) }

// NetShear is how far the threads have then turned towards each other.
func NetShear(stretched float64) Angle {
	return 90 - 2*degrees(math.Acos(stretched/math.Sqrt2))
}
