package fitting

// Usual is the input with the usual value in place of each figure of the hat, its
// elastic and its cloth that is neither given nor advised. The stretch of an elastic
// of which the reel was tried follows from the tension, and stays open.
func (in Input) Usual() Input {
	h, e, c := &in.Hat, &in.Elastic, &in.Cloth
	usually(&h.LipWidth, 0)
	usually(&h.LipSlope, usualLipSlope)
	usually(&h.AnchorFromFront, usualAnchor)
	usually(&h.Folds, usualFolds)
	usually(&h.Trim, usualTrim)
	usually(&e.Knot, usualKnot)
	usually(&c.Width, usualClothWidth)
	usually(&c.Length, usualClothLength)
	usually(&c.Density, usualDensity)
	if e.Rest == nil {
		usually(&e.WorkingStretch, usualStretch)
	}
	if h.Layers == "" {
		h.Layers = FourOneWay
	}
	if h.Anchor == "" {
		h.Anchor = AtFraction
	}
	return in
}

func usually[T any](p **T, usual T) {
	if *p == nil {
		*p = &usual
	}
}
