package fitting

// Each constant with its unit and its source. Where no survey or custom is
// named the figure is a modelling choice of ours.

// share is a part of the girth.
type share float64

func (s share) of(girth Length) Length { return Length(s) * girth }

// The head.
const (
	usualIndex       = 0.78   // breadth over length; ANSUR II: women 0.779, men 0.774
	indexDeviation   = 0.0375 // its standard deviation; ANSUR II: 0.0367 and 0.0357
	napeBelow        = Angle(50)
	earBack, earDown = 0.30, 0.40
	earOut           = 0.8660254037844386 // sqrt(1 - earBack² - earDown²): on the surface
	eyeForward       = 0.84
	eyeDown          = 0.29
	eyeAside         = 31 * Millimetre // half of 61.7 to 65.1 mm between the pupils; ANSUR II, NIOSH 2003

	usualNapeToCrown share = 0.40 // chosen near the ear-to-ear arc of NIOSH 2003
	napeToCrownDoubt share = 0.02 // standard deviation of that guess
)

// What a head can be.
const (
	leastGirth, mostGirth                       = 450 * Millimetre, 700 * Millimetre // adults seen: 500 to 635 mm, ANSUR II
	rareBelow, rareAbove                        = 510 * Millimetre, 640 * Millimetre // extremes met by hat makers, common practice
	leastNapeToCrown, mostNapeToCrown     share = 0.325, 0.502
	leastHeight, mostHeight                     = 0.55, 1.25                         // C over A
	leastIndex, mostIndex                       = 0.45, 1.2                          // B over A; ANSUR II, 1st to 99th percentile: 0.70 to 0.89
	leastHeadLength, mostHeadLength             = 130 * Millimetre, 270 * Millimetre // ANSUR II, 1st to 99th percentile: 172 to 215
	leastHeadBreadth, mostHeadBreadth           = 100 * Millimetre, 220 * Millimetre // the same: 136 to 168
	leastCaliperFactor, mostCaliperFactor       = 0.99, 1.15                         // ANSUR II, NIOSH 2003, the same: 1.00 to 1.14
)

// caliperFactor is how much longer the tape is than the way round the ellipse of
// the calipers: hair, and a head fuller than an ellipse. Regressions on the girth
// over the 10,064 heads of ANSUR II and NIOSH 2003: a woman's large girth is in
// part her hair.
func caliperFactor(s Sex, girth Length) float64 {
	switch s {
	case Female:
		return 1.056 + 0.00060*(girth-560).Millimetres()
	case Male:
		return 1.034 + 0.00023*(girth-575).Millimetres()
	default:
		return 1.042 + 0.00014*(girth-570).Millimetres()
	}
}

// caliperDoubt is the standard deviation of one head's length and breadth about
// the model's that the spread of the index does not explain: in the same surveys
// all of it is 5.4 and 5.0 mm for women, 4.6 and 4.9 for men, 5.4 and 5.3 for both.
func caliperDoubt(s Sex) (length, breadth Length) {
	switch s {
	case Female:
		return 3.6, 2.9
	case Male:
		return 1.9, 2.7
	default:
		return 3.6, 3.4
	}
}

// earToEarDoubt is the standard deviation of one head's ear-to-ear arc about the
// model's, as about NIOSH 2003's own regression on the girth.
func earToEarDoubt(s Sex) Length {
	switch s {
	case Female:
		return 14
	case Male:
		return 12.2
	default:
		return 13
	}
}

// tragionBelowCrown is so set that the ear-to-ear arcs of heads worked out from
// the girth follow those of NIOSH 2003, within a standard error. Measured upright, in ANSUR II, it is
// 127.6 mm at a girth of 570 for women and 130.5 for men, and grows by 0.127 and
// 0.149 of the girth.
func tragionBelowCrown(s Sex, girth Length) Length {
	return bySex(s, 127.5+0.105*(girth-570), 129.1+0.132*(girth-570))
}

// bySex is the women's figure or the men's, and the middle of both where the sex is
// not known.
func bySex(s Sex, women, men Length) Length {
	switch s {
	case Female:
		return women
	case Male:
		return men
	default:
		return (women + men) / 2
	}
}

// What the tapes that are not always taken can be, as parts of the girth. NIOSH
// 2003, 1st to 99th percentile, ear to ear: 0.546 to 0.674.
const (
	leastEarToEar, mostEarToEar     share = 0.45, 0.80
	leastBrowToNape, mostBrowToNape share = 0.50, 0.90
)

// How well a tape is held: the mean of n readings is in doubt by
// sqrt(bias² + repeat²/n), chosen near the 7 mm that follow for one reading from
// Sullivan et al., Molecular Autism 5:2, 2014.
const (
	clientBias, clientRepeat = 6 * Millimetre, 3 * Millimetre
	makerBias, makerRepeat   = 2 * Millimetre, 1.5 * Millimetre
	placingDoubt             = Angle(3) // of each tilt
	mostRepeat               = 30 * Millimetre
)

// Tapes that fit the others worse than this, in standard deviations, are spoken
// of, and refused.
const noticedOff, mostOff = 2, 5

// The base.
const (
	leastBase, mostBase = 30 * Millimetre, 250 * Millimetre
	steepestBase        = 0.85      // radius over rho; beyond it the base is no cap any more
	steepestTilt        = Angle(75) // beyond it the base lies on the face or an ear
)

// The elastic.
const (
	usualAnchor         = 1.0 / 3 // fraction back from the base's front; common practice
	usualStretch        = 0.10    // common practice: cut 5 to 15 % under the tape
	mostStretch         = 1.0
	usualKnot, mostKnot = 15 * Millimetre, 100 * Millimetre // common practice: tied 10 mm from the end
	mostHair            = 30 * Millimetre
)

// The brim and its strip.
const (
	mostBrim      = 400 * Millimetre
	steepestSlope = Angle(80)
	mostLip       = 50 * Millimetre
	usualLipSlope = Angle(90)
	stripLap      = 30 * Millimetre // of the ends of the shaped strip; common practice
	stripFullness = 1.0 / 3         // more width, for what the pull takes; common practice
	usualFolds    = 4
	usualTrim     = Mass(20)
	mostTrim      = Mass(500)
)

// viewWindow is how far either way of an azimuth its view is looked for.
const viewWindow = Angle(1)

// Limits that the advice keeps to, and that a given hat is warned about.
const (
	clearView   = Angle(45)       // the upper visual field's end; 38 CFR 4.76a, Table III (Goldmann: 50)
	easyShear   = Angle(20)       // a bias strip curves easily up to here
	mostShear   = Angle(40)       // past it woven cloth locks, where its own bias test is not known
	mostDoming  = Angle(30)       // of the base's weave; steepestBase refuses from 29.1 on already, so no hat is warned of it
	clearBrow   = 25 * Millimetre // from the tape line up to the rim; common practice: 1 in above the brows
	firmStretch = 0.15            // of elastic at work; common practice is 5 to 15 %

	// A racecourse's rule for a headpiece: a base of 4 in (10 cm) or more, as
	// printed in the press in 2012, 2018 and 2019. Between the two figures it
	// meets only one of them.
	metricRule, inchRule = 100 * Millimetre, 4 * Inch
)
