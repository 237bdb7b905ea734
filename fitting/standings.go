package fitting

import "math"

// Standing is how a hat stands to one limit: what it measures and what it is held
// against, in the unit of Field.
type Standing struct {
	Figure string  // of the hat, by which it is mended first: "hat.brim_slope_deg"
	Field  string  // what is measured, as in the contract: "view.ahead_deg"
	Value  float64 // NaN where nothing of the kind holds the hat at all
	Bound  float64
	Least  bool // the bound is the least that will do; else the most
}

// Met says whether the limit is kept.
func (s Standing) Met() bool {
	if s.Least {
		return s.Value >= s.Bound
	}
	return s.Value <= s.Bound
}

// Standings are the limits that the advice keeps to, as a worked out hat stands to
// them; sources stand beside the constants.
func Standings(in Input, r Result) []Standing {
	least, takes := math.NaN(), r.Cloth.Takes.Length.Millimetres()
	if r.Hold.TMin != nil {
		least = *r.Hold.TMin
	}
	if r.Cloth.Takes.Width > given(in.Cloth.Width, usualClothWidth) {
		takes = math.Inf(1) // no length of this cloth does
	}
	all := []Standing{
		{"hat.base_mm", "base.doming_deg", r.Base.Doming.Degrees(), mostDoming.Degrees(), false},
		{"hat.base_mm", "hold.t_min_n", least, given(in.Hold.Most, usualMost), false},
		{"hat.forward_deg", "placement.tape_line_to_rim_mm", r.Placement.TapeLineToRim.Millimetres(), clearBrow.Millimetres(), true},
		{"hat.brim_width_mm", "cloth.takes.length_mm", takes, given(in.Cloth.Length, usualClothLength).Millimetres(), false},
		{"hat.brim_slope_deg", "brim.shear_deg", r.Brim.Shear.Degrees(), in.Cloth.locksAt().Degrees(), false},
		{"hat.brim_slope_deg", "view.ahead_deg", r.View.Ahead.Degrees(), clearView.Degrees(), true},
	}
	if rule := in.Occasion.LeastBase; rule != nil {
		all = append(all, Standing{"hat.base_mm", "occasion.least_base_mm", r.Base.Diameter.Millimetres(), rule.Millimetres(), true})
	}
	return all
}
