package fitting

// The hold: what is pressed, pulled and blown at. Masses, frictions and factors
// are estimates, modelling choices of ours where nothing else is named, and each
// of them is a setting: see [HoldSettings].
const (
	gravity        = 9.80665 // m/s², standard
	halfAirDensity = 0.6125  // kg/m³, half of 1.225: the standard atmosphere at 15 °C

	usualLayers     = 4               // of the base
	usualDensity    = 100.0           // g/m² of the cloth, where the maker's swatch was not weighed
	usualStiffener  = 1.15            // mass of stiffened cloth over that of the cloth
	usualExtras     = Mass(8)         // thread, binding and lining
	usualTrimHeight = 20 * Millimetre // of the trimming's centre over the base

	usualReserve = 1.5 // friction over what still air may need of it
	mostReserve  = 5.0
	usualPress   = 2.0 // sum of the normal forces over weight and tensions, at most
	usualDrag    = 1.0 // drag coefficient of the silhouette

	lightTension   = 0.2             // N: with less an elastic hangs slack
	usualMost      = 1.0             // N: the comfort limit, 3.7 kPa under the usual cord
	usualCordWidth = 3 * Millimetre  // common practice: fine round elastic, 1 to 3 mm
	usualCordBend  = 90 * Millimetre // radius that it runs round the head with
)

// leastFriction is what the balance is worked out with at least: with next to
// none, but some, the sides of a cone are not told apart.
const leastFriction = 0.01

// friction on the hair, static. No figure for millinery on hair was found; skin
// on cotton has 0.31 to 0.90 (Temel, Tribol Lett 70, 2022).
func friction(g Grip) float64 {
	switch g {
	case FineHair:
		return 0.3
	case TexturedHair:
		return 0.5
	default:
		return 0.4
	}
}

// Winds outdoors, as forces of the Beaufort scale: our choice.
const (
	pinsBelow = 3 // a gentle breeze; a hat that does not bear it needs comb and pins
	combBelow = 4 // a moderate breeze, from 5.5 m/s, which raises dust and loose paper
)

// beaufortFrom are the lower bounds of forces 1 to 12, m/s: WMO-No. 306, code
// table 1100.
var beaufortFrom = [...]float64{0.3, 1.6, 3.4, 5.5, 8.0, 10.8, 13.9, 17.2, 20.8, 24.5, 28.5, 32.7}
