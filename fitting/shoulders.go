package fitting

import "fmt"

// shoulderShare is the width of the shoulders over the height. Drillis and
// Contini, Body Segment Parameters, 1966: 0.259; from memory.
const shoulderShare = 0.259

// usualShoulders stand for who has not said how tall she is: our choice.
const usualShoulders = 400 * Millimetre

func (w Wearer) shoulders() Length {
	if w.Height == nil {
		return usualShoulders
	}
	return shoulderShare * *w.Height
}

// aboutShoulders warns of a brim wider than they are.
func (s Solution) aboutShoulders(w Wearer) []Note {
	across := s.Brim.across()
	if across <= w.shoulders() {
		return nil
	}
	return []Note{{"hat.brim_width_mm", across.Millimetres(), limit(w.shoulders()), "common practice; shoulders by Drillis and Contini, from memory",
		fmt.Sprintf("The hat is %s across, wider than her shoulders (about %s): make the brim narrower or steeper.", inCentimetres(across), inCentimetres(w.shoulders()))}}
}
