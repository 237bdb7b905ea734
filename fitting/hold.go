package fitting

import "math"

// Hold is what keeps a hat on. All of it follows from estimates of masses and
// friction: see [HoldSettings].
type Hold struct {
	Mass      Mass      `json:"mass_g"`
	TMin      *float64  `json:"t_min_n"`      // least tension that holds in still air with friction in reserve; nil when none does
	TMax      *float64  `json:"t_max_n"`      // more drags the hat back; nil when there is no upper end, or no TMin
	Tension   float64   `json:"tension_n"`    // to work the elastic at
	SlipsAt   float64   `json:"slips_at_mps"` // mean wind that it bears from every side with the elastic alone; 0 when it slips without wind
	Beaufort  int       `json:"beaufort"`     // the force of that wind
	Fastening Fastening `json:"fastening"`
	Pressure  float64   `json:"pressure_kpa"` // of the head under the cord
	Why       Note      `json:"why"`          // of the fastening
}

// Fastening is what holds a hat besides its elastic.
type Fastening string

// What may hold it. A band stands for comb and pins on short hair, which they
// do not grip.
const (
	ByElastic     Fastening = "none"
	ByComb        Fastening = "comb"
	ByCombAndPins Fastening = "comb and pins"
	ByBand        Fastening = "band"
)

// HoldOf finds which tensions of the elastic keep the hat on the head and which
// wind it bears. The base is rigid and rests on twelve points of its rim with dry
// friction; the figures are exact for that model to 1e-9 N, and no better known than
// masses and friction are. The error is a [Refusal] of a setting out of bounds.
func HoldOf(head Head, seat Seat, brim Brim, elastic Elastic, set HoldSettings) (Hold, error) {
	f, err := set.read()
	if err != nil {
		return Hold{}, err
	}
	strip, err := brim.Pattern().Strip(f.folds)
	if err != nil {
		return Hold{}, err
	}
	b := newBearing(head, seat, elastic, burdens(seat, brim, strip, f), f.press)
	return f.hold(b, gusts(seat, brim, f.drag)), nil
}

func (f holdFactors) hold(b *bearing, wind []pull) Hold {
	h := Hold{Mass: Mass(b.weight / gravity * 1000)}
	least, most, ok := b.tensions(f.friction / f.reserve)
	if ok {
		h.TMin = &least
		if !math.IsInf(most, 1) {
			h.TMax = &most
		}
	}
	h.Tension = f.working(least, most, f.holds(h))
	h.SlipsAt = math.Sqrt(b.withstands(f.friction, h.Tension, wind))
	h.Beaufort = Beaufort(h.SlipsAt)
	h.Pressure = f.pressure(h.Tension)
	h.Fastening, h.Why = f.fastening(h)
	return h
}

// holds says whether a comfortable tension keeps the hat on in still air.
func (f holdFactors) holds(h Hold) bool { return h.TMin != nil && *h.TMin <= f.most }

// working is the tension to work at: light indoors, firm outdoors, light again
// where something else has to hold the hat.
func (f holdFactors) working(least, most float64, holds bool) float64 {
	switch {
	case f.Tension != nil:
		return *f.Tension
	case !holds:
		return f.light
	case f.Outdoors:
		return min(most, f.most)
	default:
		return min(max(least, f.light), most)
	}
}

// pressure under the cord in kPa of a tension in N: that of a rope round a bend.
func (f holdFactors) pressure(tension float64) float64 {
	return 1000 * tension / (f.cordBend.Millimetres() * f.cordWidth.Millimetres())
}

// rimContacts is how many points of the rim the head presses on.
const rimContacts = 12

// newBearing sets the hat on the head.
func newBearing(h Head, s Seat, e Elastic, hat []burden, press float64) *bearing {
	b := &bearing{contacts: rimOn(h, s), middle: s.Rim, size: s.Radius, press: press}
	for _, p := range hat {
		w := p.mass.Grams() / 1000 * gravity
		b.weight += w
		b.weights = append(b.weights, pull{Vec{0, 0, -w}, p.centre})
	}
	for _, strand := range []Strand{e.Left, e.Right} {
		b.strands = append(b.strands, pull{strand.Pull(), strand.Anchor})
	}
	return b
}

// rimOn are the rim's contacts with the head. Friction's directions begin along
// the rim, so that a mirrored hat has mirrored ones.
func rimOn(h Head, s Seat) []contact {
	contacts := make([]contact, rimContacts)
	for i := range contacts {
		t := 2 * math.Pi * float64(i) / rimContacts
		at := h.OnSurface(s.RimPoint(t))
		normal := h.Normal(at)
		sin, cos := math.Sincos(t)
		along := s.Left.Times(cos).Minus(s.Forward.Times(sin))
		contacts[i] = contact{at, normal, along.Minus(normal.Times(along.Dot(normal))).unit()}
	}
	return contacts
}
