package orders

// Echo says back in both units the one length, or the hat size where that will do, that was typed for
// a question of kind Readings or Length; empty for what is none, of which Parse says why. What it says can be
// typed and is understood as the same again, to the last figure that it shows.
func (q Question) Echo(typed string) Phrase {
	typed = clean(typed)
	if q.HatSizes {
		if mm, is, p := q.hatSizeIn(typed); p == nil && is {
			return BothUnits(mm)
		}
	}
	mm, p := q.lengthIn(typed)
	if p != nil {
		return Phrase{}
	}
	return BothUnits(mm)
}
