package fitting

import "math"

// Locks is how far a weave lets itself be pulled out of square, from the stretch at
// which a piece cut on the bias begins to ripple when it is pulled, as a part of its
// length. The threads are taken as a net that is pinned where they cross (Chebyshev,
// 1878): square at rest, their angle is closed by this much at that stretch.
func Locks(biasStretch float64) Angle {
	return 90 - 2*degrees(math.Acos((1+biasStretch)/math.Sqrt2))
}

// What a bias test can give: less than a piece shows, and more than a net of two
// threads gives before it is a line. Our choice.
const leastBias, mostBias = 0.02, 0.40

func (c Cloth) checkBias() error {
	if c.Bias == nil {
		return nil
	}
	return between("cloth.bias_stretch", "The stretch of the cloth on the bias, as a part of its length,", *c.Bias, leastBias, mostBias, "")
}

// locksAt is the shear past which this cloth locks.
func (c Cloth) locksAt() Angle {
	if c.Bias == nil {
		return mostShear
	}
	return Locks(*c.Bias)
}

// locksBy is where that comes from.
func (c Cloth) locksBy() string {
	if c.Bias == nil {
		return "our choice, near measured locking angles of 30 to 60 degrees"
	}
	return "the roll's own bias test"
}
