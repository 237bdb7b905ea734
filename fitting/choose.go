package fitting

import (
	"fmt"
	"math"
)

// sideOf is the side that the hat is tilted to, and who says so.
type sideOf struct {
	sign float64 // 1 the wearer's left, -1 her right, 0 neither
	says string
}

// sideFor follows the wish, else the parting, else the workroom's tradition.
func sideFor(in Input) sideOf {
	switch {
	case in.Wish.Side == Left:
		return sideOf{1, "to her own left, as wished"}
	case in.Wish.Side == Right:
		return sideOf{-1, "to her own right, as wished"}
	case in.Wish.Side == Middle:
		return sideOf{0, "to neither side, as wished"}
	case in.Hair.Parting == PartedLeft:
		return sideOf{1, "to her own left, where her hair is parted"}
	case in.Hair.Parting == PartedRight:
		return sideOf{-1, "to her own right, where her hair is parted"}
	}
	if in.Workroom.Side == Left {
		return sideOf{1, "to her own left, by the workroom's custom, since neither a wish nor a parting says otherwise"}
	}
	return sideOf{-1, "to her own right, by tradition, since neither a wish nor a parting says otherwise"}
}

// going returns the search with the brim up or down: its ends are what is given,
// else what may be advised.
func (k task) going(d Direction) search {
	s := k.search
	if d == Down {
		s.high.slope = -flattest
	} else {
		s.low.slope = flattest
	}
	if k.side.sign == 0 {
		s.low.sideways, s.high.sideways = 0, 0
	}
	s.low.base = max(s.low.base, k.leastBase())
	s.high.base = max(s.high.base, s.low.base)
	h := k.in.Hat
	fix(&s.low.base, &s.high.base, h.Base)
	fix(&s.low.forward, &s.high.forward, h.Forward)
	fix(&s.low.sideways, &s.high.sideways, h.Sideways)
	s.low.sideways, s.high.sideways = math.Abs(s.low.sideways), math.Abs(s.high.sideways)
	fix(&s.low.width, &s.high.width, h.BrimWidth)
	fix(&s.low.slope, &s.high.slope, h.BrimSlope)
	return s
}

func fix[T ~float64](low, high *float64, p *T) {
	if p != nil {
		*low, *high = float64(*p), float64(*p)
	}
}

// leastBase is the event's rule, 0 without one. A rule of 10 cm is often one of
// 4 in as well, and the base then meets both.
func (k task) leastBase() float64 {
	least := given(k.in.Occasion.LeastBase, 0)
	if least >= metricRule && least < inchRule {
		least = inchRule
	}
	return least.Millimetres()
}

// choose returns the best hat, and what was weighed against it with the brim the
// other way: a wish for one way gives way only where no hat of its kind is inside
// the limits.
func (k task) choose() (chosen, other found) {
	first, second := Up, Down
	if s := k.in.Hat.BrimSlope; s != nil && *s < 0 || s == nil && k.in.Wish.Brim == Down {
		first, second = Down, Up
	}
	chosen = k.going(first).best(first, math.Inf(1))
	wished := k.in.Wish.Brim != "" || k.in.Hat.BrimSlope != nil
	if k.in.Hat.BrimSlope != nil || wished && chosen.exceeded == 0 {
		return chosen, found{dropped: true}
	}
	beat := math.Inf(1)
	if chosen.exceeded == 0 {
		beat = chosen.score
	}
	if second == Down && k.search.person.objected() >= beat {
		return chosen, found{person: k.search.person, dropped: true}
	}
	other = k.going(second).best(second, beat)
	if other.exceeded == 0 && !other.dropped && other.better(chosen) {
		return other, chosen
	}
	return chosen, other
}

// ruleTooLarge says what base this head carries instead.
func (k task) ruleTooLarge() Refusal {
	least, most := Length(smallestBase), *k.in.Occasion.LeastBase
	for range 8 {
		middle := (least + most) / 2
		there := k
		there.in.Occasion.LeastBase = &middle
		if f, _ := there.choose(); f.exceeded == 0 {
			least = middle
		} else {
			most = middle
		}
	}
	knotted := ""
	if k.search.person.knot.radius > 0 {
		knotted = ", of her knot of hair"
	}
	return Refusal{"occasion.least_base_mm", fmt.Sprintf(
		"The event asks for a base of %s. This head carries one of about %s, clear of the brow%s and of what she must see. "+
			"Ask the event whether the brim counts, or say the base yourself.", inCentimetres(*k.in.Occasion.LeastBase), inCentimetres(least), knotted)}
}

// nearest are the cautions for a hat outside the limits. The limits that a given
// hat may pass as well are worded with its other cautions.
func nearest(f found) []Note {
	notes := []Note{{"hat", f.exceeded, nil, "the limits of the advice",
		"With the figures given no hat keeps every limit. This one comes nearest; the limits that it passes are named below."}}
	if gap := f.trial.gap; gap < clearHead {
		notes = append(notes, Note{"hat.brim_slope_deg", f.trial.slope, nil, "our choice: 5 mm from the hair",
			"The edge of the brim would lie against the head or inside it. Let it droop less, or make it narrower."})
	}
	return notes
}
