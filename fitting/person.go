package fitting

import "slices"

// person is all that the advice goes by, read from the input and checked.
type person struct {
	head      Head
	face      proportions
	presence  presence
	late      bool
	greeted   bool
	outdoors  bool
	glasses   bool
	stature   float64 // mm, 0 when not told
	shoulders float64 // mm
	knot      knot    // of no size when there is none
	// what is given of the hat and is never advised
	lip      Length
	lipSlope Angle
	anchor   float64
	hair     Length
	// mostCrossing is how far in mm an anchor may lie past the middle
	mostCrossing float64
	mostShear    Angle // of the cloth
	hold         holdFactors
	anchorsOn    func(Seat, Brim) (Anchors, error)
	tangents     [mostTangents]tangent // to the limit of the hold
}

const leastStature, mostStature = 1000 * Millimetre, 2300 * Millimetre // our choice, wide of any adult's

// freeCrossing is more than any anchor lies past the middle.
const freeCrossing = 1000.0

func readPerson(in Input, t tapes, w work) (*person, error) {
	face, err := readFace(in.Face, t.girth, in.Measures.Sex)
	if err != nil {
		return nil, err
	}
	if l := in.Wearer.Height; l != nil {
		if err := within("wearer.height_mm", "The wearer's height", *l, leastStature, mostStature); err != nil {
			return nil, err
		}
	}
	hold, err := w.hold.read()
	if err != nil {
		return nil, err
	}
	head := t.head()
	return &person{
		head: head, face: face, presence: presenceOf(chosenPresence(in), in.Wish.Presence),
		late: late(in.Occasion.Kind), greeted: greeted(in.Occasion.Kind), outdoors: in.Occasion.Outdoors,
		glasses: in.Wearer.Glasses, stature: given(in.Wearer.Height, 0).Millimetres(),
		shoulders: in.Wearer.shoulders().Millimetres(), knot: knots[in.Hair.Knot],
		lip: w.lip, lipSlope: w.lipSlope, anchor: w.anchor, hair: in.Hair.Thickness,
		mostCrossing: freeCrossing, mostShear: in.Cloth.locksAt(), hold: hold,
		anchorsOn: func(s Seat, b Brim) (Anchors, error) { return Solution{Head: head, Seat: s, Brim: b}.anchors(in, w) },
	}, nil
}

// late and greeted are what the advice knows of occasions.
func late(kind string) bool {
	return slices.Contains([]string{"evening", "cocktail", "dinner", "theatre"}, kind)
}

func greeted(kind string) bool {
	return slices.Contains([]string{"wedding", "ceremony", "christening", "graduation"}, kind)
}
