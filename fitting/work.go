package fitting

// work is the hat after the door: every figure there, those without geometry
// checked. Seat, elastic and brim check their own.
type work struct {
	base              Length
	forward, sideways Angle
	brim              Length
	slope             Angle
	lip               Length
	lipSlope          Angle
	anchor            float64 // fraction back, where Anchors do not say otherwise
	anchors           Anchors
	folds             int
	stretch           float64
	stretchGiven      bool
	reel              *Reel
	knot              Length
	hold              HoldSettings
}

func readWork(in Input) (work, error) {
	h := in.Hat
	if err := complete(h); err != nil {
		return work{}, err
	}
	w := work{
		base: *h.Base, forward: *h.Forward, sideways: *h.Sideways, brim: *h.BrimWidth, slope: *h.BrimSlope,
		lip: given(h.LipWidth, 0), lipSlope: given(h.LipSlope, usualLipSlope),
		anchor: given(h.AnchorFromFront, usualAnchor), folds: given(h.Folds, usualFolds),
		stretch: given(in.Elastic.WorkingStretch, usualStretch), stretchGiven: in.Elastic.WorkingStretch != nil, knot: given(in.Elastic.Knot, usualKnot),
	}
	if err := between("elastic.working_stretch", "The stretch of the elastic at work", w.stretch, 0, mostStretch, ""); err != nil {
		return work{}, err
	}
	if err := within("elastic.knot_mm", "The length for a knot", w.knot, 0, mostKnot); err != nil {
		return work{}, err
	}
	var err error
	if w.reel, err = in.Elastic.reel(); err != nil {
		return work{}, err
	}
	w.hold = in.holdSettings(w)
	if l := in.Occasion.LeastBase; l != nil {
		if err := within("occasion.least_base_mm", "The least base that the event demands", *l, 0, mostBase); err != nil {
			return work{}, err
		}
	}
	if err := in.Workroom.check(); err != nil {
		return work{}, err
	}
	if err := in.Cloth.checkBias(); err != nil {
		return work{}, err
	}
	return w, between("hat.trim_g", "The trimming", given(h.Trim, usualTrim).Grams(), 0, mostTrim.Grams(), " g")
}

// complete refuses a hat of which a figure is missing.
func complete(h Hat) error {
	for _, f := range []struct {
		field, what string
		missing     bool
	}{
		{"hat.base_mm", "the base's diameter", h.Base == nil},
		{"hat.forward_deg", "the tilt forward", h.Forward == nil},
		{"hat.sideways_deg", "the tilt sideways", h.Sideways == nil},
		{"hat.brim_width_mm", "the brim's width", h.BrimWidth == nil},
		{"hat.brim_slope_deg", "the brim's slope", h.BrimSlope == nil},
	} {
		if f.missing {
			return Refusal{f.field, "Say " + f.what + ": the hat cannot be worked out without it."}
		}
	}
	return nil
}

// given is the value pointed to, or the usual one where nothing was given.
func given[T any](p *T, usual T) T {
	if p == nil {
		return usual
	}
	return *p
}
