package fitting

import "math"

// bed is cloth of one width, open in length, with what lies on it so far.
type bed struct {
	width  float64
	lies   []octagon
	barred []octagon // where the part in hand may not go, for each that lies
}

// spot is where a part lies: how far it was moved, after it was mirrored or not.
type spot struct {
	x, y     float64
	mirrored bool
}

// lay puts the parts on the bed in their order, each where it reaches the least
// way along the cloth, and notes where. It returns how long the cloth must be:
// without end if a part is wider than the bed.
func (b *bed) lay(parts []part, spots []spot) float64 {
	b.lies = b.lies[:0]
	length := 0.0
	for i := range parts {
		shape := parts[i].reach
		at, top := b.lowest(shape)
		if parts[i].eitherBias && i > 0 {
			mirrored := shape.mirrored()
			if s, t := b.lowest(mirrored); t < top-edgeSlack {
				shape, at, top = mirrored, s, t
				at.mirrored = true
			}
		}
		if math.IsInf(top, 1) {
			return top
		}
		b.lies = append(b.lies, shape.moved(at.x, at.y))
		spots[i] = at
		length = max(length, top)
	}
	return length
}

// lowest finds the place where the shape reaches the least way along, and how far
// that is, among those at the bed's sides and where it meets a corner of what
// lies there.
func (b *bed) lowest(o octagon) (spot, float64) {
	left, right, floor := -o.lo[0], b.width-o.hi[0], -o.lo[1]
	best, least := spot{}, math.Inf(1)
	if !(left <= right+edgeSlack) {
		return best, least
	}
	right = max(left, right)
	b.bar(o)
	try := func(x float64) {
		if x < left || x > right {
			return
		}
		// What differs by rounding only must not decide: it differs between machines.
		if y := b.drop(x, floor, least+edgeSlack); y < least-edgeSlack || y <= least+edgeSlack && x < best.x-edgeSlack {
			best, least = spot{x: x, y: y}, y
		}
	}
	try(left)
	try(right)
	for i := range b.barred {
		n := &b.barred[i]
		for _, x := range [...]float64{
			n.lo[0], n.hi[0], // its sides
			n.hi[2] - n.hi[1], n.hi[1] - n.hi[3], n.lo[1] - n.lo[3], n.lo[2] - n.lo[1], // the ends of its upper and lower edge
			n.lo[2] - floor, floor - n.lo[3], // where its slanting edges meet the floor
		} {
			try(x)
		}
	}
	return best, least + o.hi[1]
}

// bar works out, for each shape that lies, the octagon of places at which o would
// overlap it.
func (b *bed) bar(o octagon) {
	b.barred = b.barred[:0]
	for i := range b.lies {
		l, n := &b.lies[i], octagon{}
		for a := range 4 {
			n.lo[a], n.hi[a] = l.lo[a]-o.hi[a], l.hi[a]-o.lo[a]
		}
		b.barred = append(b.barred, n)
	}
}

// drop is the first free place along the cloth at x; past most it gives up.
func (b *bed) drop(x, floor, most float64) float64 {
	y := floor
	for moved := true; moved && y <= most; {
		moved = false
		for i := range b.barred {
			n := &b.barred[i]
			if x <= n.lo[0] || x >= n.hi[0] {
				continue
			}
			lo, hi := max(n.lo[1], n.lo[2]-x, n.lo[3]+x), min(n.hi[1], n.hi[2]-x, n.hi[3]+x)
			if y > lo && y < hi {
				y, moved = hi, true
			}
		}
	}
	return y
}
