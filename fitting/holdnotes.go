package fitting

import "fmt"

const (
	byBalance  = "the balance of the base on the head, masses and friction estimated"
	byBeaufort = "our choice of the wind to bear outdoors; the forces' bounds: WMO-No. 306, code table 1100"
	byComfort  = "our choice, near what waistbands are borne at: 2.3 to 4.7 kPa (Makabe 1991)"
)

// fastening is what must hold the hat besides its elastic, and why.
func (f holdFactors) fastening(h Hold) (Fastening, Note) {
	switch {
	case f.Outdoors && h.Beaufort < pinsBelow:
		return f.instead(ByCombAndPins), f.tooWindy(h, pinsBelow, "Add a comb and pins, their points guarded.")
	case f.Outdoors && h.Beaufort < combBelow && f.holds(h):
		return f.instead(ByComb), f.tooWindy(h, combBelow, "Add a comb, or use a band.")
	case !f.holds(h):
		return f.instead(ByComb), f.noTension(h)
	default:
		return ByElastic, Note{"hold.tension_n", h.Tension, h.TMax, byBalance,
			fmt.Sprintf("The elastic alone holds the hat at %s. %s %s", asForce(h.Tension), h.tensions(), h.slips())}
	}
}

// instead is a band where the hair is too short for combs and pins.
func (f holdFactors) instead(needed Fastening) Fastening {
	if f.Hair == HairShort {
		return ByBand
	}
	return needed
}

// advised is what to do, unless the hair is too short for it.
func (f holdFactors) advised(says string) string {
	if f.Hair == HairShort {
		return "Use a band: combs and pins do not grip short hair."
	}
	return says
}

func (f holdFactors) tooWindy(h Hold, bears int, says string) Note {
	return Note{"hold.slips_at_mps", h.SlipsAt, limit(beaufortFrom[bears-1]), byBeaufort,
		fmt.Sprintf("The elastic alone is too little outdoors. %s %s", h.slips(), f.advised(says))}
}

func (f holdFactors) noTension(h Hold) Note {
	does := f.advised("Add a comb, or use a band.")
	if h.TMin == nil {
		return Note{"hold.tension_n", h.Tension, nil, byBalance,
			"No tension of the elastic by itself keeps this hat from sliding or tipping with friction to spare. " + does}
	}
	return Note{"hold.t_min_n", *h.TMin, limit(f.most), byBalance,
		fmt.Sprintf("The elastic alone would have to pull with %s, more than the comfortable %s. %s", asForce(*h.TMin), asForce(f.most), does)}
}

func (h Hold) tensions() string {
	if h.TMax == nil {
		return fmt.Sprintf("In still air %s or more will do.", asForce(*h.TMin))
	}
	return fmt.Sprintf("In still air %s to %s will do, and more drags it back.", asForce(*h.TMin), asForce(*h.TMax))
}

func (h Hold) slips() string {
	if h.SlipsAt == 0 {
		return "It slips even without wind."
	}
	return fmt.Sprintf("It slips in a wind of %.1f m/s, Beaufort force %d.", h.SlipsAt, h.Beaufort)
}

// Cautions are about a fastening that the hat needs and about tensions that head
// or hat do not bear, by the settings that the hold was found with.
func (h Hold) Cautions(set HoldSettings) []Note {
	f, notes := set.filled(), []Note{}
	if h.Fastening != ByElastic {
		notes = append(notes, h.Why)
	}
	if h.TMax != nil && *h.TMax < max(h.Tension, f.most) {
		notes = append(notes, Note{"hold.t_max_n", *h.TMax, nil, byBalance,
			fmt.Sprintf("More tension than %s drags the hat back: do not tie the elastic tighter.", asForce(*h.TMax))})
	}
	if h.Tension > f.most {
		notes = append(notes, Note{"hold.pressure_kpa", h.Pressure, limit(f.pressure(f.most)), byComfort,
			fmt.Sprintf("At %s the elastic presses with %.1f kPa, and over-tight elastic makes the head ache: keep to %s.", asForce(h.Tension), h.Pressure, asForce(f.most))})
	}
	return notes
}

// asForce is a force for people, with what a letter or spring scale would show.
func asForce(newton float64) string {
	return fmt.Sprintf("%.2f N (%.0f g on a scale)", newton, newton/gravity*1000)
}
