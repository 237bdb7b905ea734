package fitting

import "math"

// burden is one part of a hat as its weight counts.
type burden struct {
	mass   Mass
	centre Vec
}

// burdens are what a hat weighs and where: base, strip of the brim, trimming, and
// what holds them together.
func burdens(s Seat, b Brim, strip Strip, f holdFactors) []burden {
	perArea := f.density * f.stiffener / 1e6 // g/mm²
	base := 2 * math.Pi * s.Rho * s.Sag * float64(f.layers)
	cloth := strip.FlatWidth.Millimetres() * strip.Length.Millimetres()
	atBase := s.Rim.Plus(s.Normal.Times(s.Sag / 2))
	return []burden{
		{Mass(base * perArea), atBase},
		{Mass(cloth * perArea), b.Inner.Centre.Plus(b.Outer.Centre).Times(0.5)},
		{f.extras, atBase},
		{f.trim, s.Centre.Plus(s.Normal.Times(f.trimHeight.Millimetres()))},
	}
}
