package fitting

import "math"

// Length is a distance in millimetres.
type Length float64

// Units of length. One inch is 25.4 mm exactly (international yard, 1959).
const (
	Millimetre Length = 1
	Centimetre        = 10 * Millimetre
	Inch              = 25.4 * Millimetre
)

// Millimetres returns the length as a plain number of millimetres.
func (l Length) Millimetres() float64 { return float64(l) }

// Centimetres returns the length as a plain number of centimetres.
func (l Length) Centimetres() float64 { return float64(l / Centimetre) }

// Inches returns the length as a plain number of inches.
func (l Length) Inches() float64 { return float64(l / Inch) }

// Angle is an angle in degrees.
type Angle float64

// Degrees returns the angle as a plain number of degrees.
func (a Angle) Degrees() float64 { return float64(a) }

// Radians returns the angle as a plain number of radians.
func (a Angle) Radians() float64 { return float64(a) * math.Pi / 180 }

// degrees is the angle of a plain number of radians.
func degrees(radians float64) Angle { return Angle(radians * 180 / math.Pi) }

// Mass is a mass in grams.
type Mass float64

// Grams returns the mass as a plain number of grams.
func (m Mass) Grams() float64 { return float64(m) }
