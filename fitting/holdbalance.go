package fitting

import "math"

// Balance of a rigid base on the head: which tensions of the elastic, and which
// winds, the head can answer by pressing on the rim and by friction.

// contact is a point where the head presses on the base.
type contact struct {
	at     Vec
	normal Vec // unit, out of the head
	first  Vec // unit, across the normal: the first direction of friction
}

// frictionWays is how many directions friction is added up from.
const frictionWays = 8

// pull is a force at a place.
type pull struct{ force, at Vec }

// bearing is a body on its contacts. Forces are counted in units of its weight,
// and places in units of size about a middle, so that every number is about one.
type bearing struct {
	contacts []contact
	middle   Vec
	size     float64 // mm
	weight   float64 // N
	press    float64 // sum of the normal forces over the sum of weight and tensions, at most
	weights  []pull
	strands  []pull // of a tension of 1 N
}

// column is what pulls, in newton, add to the rows of balance.
func (b *bearing) column(pulls ...pull) column {
	var c column
	for _, p := range pulls {
		force := p.force.Times(1 / b.weight)
		moment := p.at.Minus(b.middle).Cross(force).Times(1 / b.size)
		for i, x := range [...]float64{force.X, force.Y, force.Z, moment.X, moment.Y, moment.Z} {
			c[i] += x
		}
	}
	return c
}

// Variables of the programmes: the sides of the friction cones, then what the
// head may still be pressed harder, then the tension or the wind.
func (b *bearing) cones(friction float64) []column {
	columns := make([]column, 0, frictionWays*len(b.contacts)+len(windWays)+2)
	for _, c := range b.contacts {
		second := c.normal.Cross(c.first)
		for k := range frictionWays {
			sin, cos := math.Sincos(2 * math.Pi * float64(k) / frictionWays)
			way := c.first.Times(cos).Plus(second.Times(sin))
			side := b.column(pull{c.normal.Plus(way.Times(friction)).Times(b.weight), c.at})
			side[rows-1] = 1
			columns = append(columns, side)
		}
	}
	return append(columns, column{rows - 1: 1})
}

// tension is the column of the elastic's, in units of the weight.
func (b *bearing) tension() column {
	c := b.column(b.strands...).times(b.weight)
	c[rows-1] = -b.press * float64(len(b.strands))
	return c
}

// still is the right side that balances the weight in still air.
func (b *bearing) still() column {
	c := b.column(b.weights...).times(-1)
	c[rows-1] = b.press
	return c
}

// tensions returns the least and the greatest tension in N that hold the body in
// still air, +Inf when there is no upper end. It reports false when none does.
func (b *bearing) tensions(friction float64) (least, most float64, ok bool) {
	columns := append(b.cones(friction), b.tension())
	t, ok := newTableau(columns, b.still(), len(columns))
	if !ok {
		return 0, 0, false
	}
	k := len(columns) - 1
	least, most = t.least(k), t.most(k)
	return least * b.weight, most * b.weight, !math.IsNaN(least) && !math.IsNaN(most)
}

// withstands returns by how much the loads, in N, each by itself, may be
// multiplied until the body slips with the elastic at a tension: the least of
// them, zero when it slips without them.
func (b *bearing) withstands(friction, tension float64, loads []pull) float64 {
	columns := b.cones(friction)
	open := len(columns)
	for _, l := range loads {
		columns = append(columns, b.column(l))
	}
	right, elastic := b.still(), b.tension()
	right.take(tension/b.weight, &elastic)
	start, ok := newTableau(columns, right, open)
	if !ok {
		return 0
	}
	least, t := math.Inf(1), new(tableau)
	for i := range loads {
		start.copyTo(t)
		least = min(least, t.raise(open+i, least))
	}
	if !(least > 0) { // nothing, or it did not come to rest
		return 0
	}
	return least
}

// mostLift is as much lifting, in weights of the body, as is asked for at most.
const mostLift = 3

// pressed returns how hard a hand must press on the body, in its weights, for some
// tension up to most to hold it in still air: negative by as much as the body
// could be lifted and would still be held. Unlike the tensions it goes on where
// none holds. It is +Inf where no pressing helps, or the programme did not end.
func (b *bearing) pressed(friction, most float64, hand pull) float64 {
	press := b.column(hand).times(b.weight)
	press[rows-1] = -b.press
	columns := append(b.cones(friction), b.tension(), press)
	tension, k := len(columns)-2, len(columns)-1
	right := b.still()
	right.take(-mostLift, &press) // the hand's force is counted from lifting so much
	t, ok := newTableau(columns, right, len(columns))
	if !ok {
		return math.Inf(1)
	}
	least := t.least(k)
	if t.value(tension)*b.weight > most { // the need is convex in the tension
		right.take(most/b.weight, &columns[tension])
		columns[tension] = column{}
		if t, ok = newTableau(columns, right, len(columns)); !ok {
			return math.Inf(1)
		}
		least = t.least(k)
	}
	if math.IsNaN(least) {
		return math.Inf(1)
	}
	return least - mostLift
}
