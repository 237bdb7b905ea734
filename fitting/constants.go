package fitting

// share is a part of the girth.
type share float64

func (s share) of(girth Length) Length { return Length(s) * girth }

// The head. Where no survey is named the figure is a modelling choice of ours.
const (
	usualIndex       = 0.78   // breadth / length; ANSUR II: women 0.779, men 0.774
	indexDeviation   = 0.0375 // its standard deviation; ANSUR II: 0.0367 and 0.0357, rounded up
	napeBelow        = Angle(50)
	earBack, earDown = 0.30, 0.40
	earOut           = 0.8660254037844386 // sqrt(1 - earBack² - earDown²): on the surface
	eyeForward       = 0.84
	eyeDown          = 0.29
	eyeAside         = 31 * Millimetre // half of 61.7 to 64 mm between the pupils; ANSUR II

	tragionBelowCrown share = 0.226 // ANSUR II: tragion to top of head, women 0.2255, men 0.2284
	usualNapeToCrown  share = 0.40  // chosen near the NIOSH 2003 ear-to-ear arc
	napeToCrownDoubt  share = 0.02  // standard deviation of that guess
)

// What a head can be.
const (
	leastGirth, mostGirth                       = 450 * Millimetre, 700 * Millimetre // adults seen: 500 to 635 mm, ANSUR II
	rareGirthBelow, rareGirthAbove              = 510 * Millimetre, 640 * Millimetre // hat makers' extremes, common practice
	leastNapeToCrown, mostNapeToCrown     share = 0.325, 0.502
	leastHeight, mostHeight                     = 0.55, 1.25                         // c over a
	leastHeadLength, mostHeadLength             = 140 * Millimetre, 250 * Millimetre // ANSUR II P1 to P99: 172 to 215; modelling choice
	leastHeadBreadth, mostHeadBreadth           = 110 * Millimetre, 210 * Millimetre // the same: 136 to 168
	leastCaliperFactor, mostCaliperFactor       = 0.99, 1.15                         // girth over the calipers' ellipse; ANSUR II and NIOSH 2003: P1 1.00, P99 1.14
)

// caliperFactor is how much more the tape goes round than the ellipse of the
// calipers: hair, and a head fuller than an ellipse. From the 10,065 heads of
// ANSUR II and NIOSH 2003.
func caliperFactor(s Sex) float64 {
	switch s {
	case Female:
		return 1.056
	case Male:
		return 1.034
	default:
		return 1.042
	}
}

// How well a tape is held: a mean of n readings is in doubt by
// sqrt(bias² + repeat²/n). Modelling choices near the 7 mm that follow for one
// reading from Sullivan et al., Molecular Autism 5:2, 2014.
const (
	clientBias, clientRepeat = 6 * Millimetre, 3 * Millimetre
	makerBias, makerRepeat   = 2 * Millimetre, 1.5 * Millimetre
	placingDoubt             = Angle(3) // of each tilt; modelling choice
)

// The base and the elastic.
const (
	baseLayers   = 4
	steepestBase = 0.85            // R over rho; beyond it the base is no longer a cap. Modelling choice
	usualAnchor  = 1.0 / 3         // fraction back from the base's front; common practice
	usualStretch = 0.10            // of elastic at work; common practice is 5 to 15 %
	usualKnot    = 15 * Millimetre // at each end; common practice is 10 mm and the thread's length
)

// The brim and its strip.
const (
	steepestSlope = Angle(80)
	stripLap      = 30 * Millimetre // of the ends of the shaped strip; common practice
	stripFullness = 1.0 / 3         // on the width, for what the pull takes; common practice
	usualFolds    = 4
	usualTrim     = Mass(20)
	usualLipSlope = Angle(90)
)

// The view.
const viewWindow = Angle(1) // either way: the figure for an azimuth is the least within it
