package fitting

import "math"

// part is what is cut in one: a circle, a strip, or a length of a joined strip.
type part struct {
	piece, number, of int          // part number of so many of which piece
	corners           [][2]float64 // anticlockwise, the strip running along 45 degrees; none for a circle about 0, 0
	reach             octagon      // with the room round it
	across            float64      // the reach of each part of the piece across the cloth
	eitherBias        bool         // a whole strip may also run along 135 degrees
}

// octagon is a shape between two lines each across, along and on either bias: the
// least and the greatest of x, y, x+y and y-x, none of them slack. All that is cut
// on the thread or on the bias is such a shape, and two of them overlap only if
// they do in all four. A circle is taken as the octagon round it, 5 % larger.
type octagon struct{ lo, hi [4]float64 }

func octagonOf(corners [][2]float64) octagon {
	inf := math.Inf(1)
	o := octagon{[4]float64{inf, inf, inf, inf}, [4]float64{-inf, -inf, -inf, -inf}}
	for _, c := range corners {
		for a, at := range along(c[0], c[1]) {
			o.lo[a], o.hi[a] = min(o.lo[a], at), max(o.hi[a], at)
		}
	}
	return o
}

// along is how far x, y lies in the octagon's four directions.
func along(x, y float64) [4]float64 { return [4]float64{x, y, x + y, y - x} }

// grown is the octagon with so much room round it.
func (o octagon) grown(room float64) octagon {
	for a, by := range [4]float64{room, room, room * math.Sqrt2, room * math.Sqrt2} {
		o.lo[a] -= by
		o.hi[a] += by
	}
	return o
}

// moved is the octagon x farther across and y farther along.
func (o octagon) moved(x, y float64) octagon {
	for a, by := range along(x, y) {
		o.lo[a] += by
		o.hi[a] += by
	}
	return o
}

// mirrored swaps left and right, and so the two ways of the bias.
func (o octagon) mirrored() octagon {
	return octagon{
		lo: [4]float64{-o.hi[0], o.lo[1], o.lo[3], o.lo[2]},
		hi: [4]float64{-o.lo[0], o.hi[1], o.hi[3], o.hi[2]},
	}
}

// across is how much of the cloth's width it takes.
func (o octagon) across() float64 { return o.hi[0] - o.lo[0] }

// inParts cuts the piece in n parts alike in width across the cloth, a strip being
// joined on the straight thread; nil when they would be too short for that.
func (p Piece) inParts(n int) []part {
	if p.Length == 0 {
		return []part{{number: 1, of: 1, reach: octagon{}.grown((p.Width/2 + p.Room).Millimetres())}}
	}
	wide := p.Width.Millimetres()
	seam := math.Sqrt2 * p.Seam.Millimetres() // as it lies along the strip
	first, seams := -wide, 2*float64(n-1)
	if p.Ring {
		first, seams = 0, 2*float64(n)
	}
	edge := (p.Length.Millimetres() - first + float64(seams*seam)) / float64(n)
	step := edge - float64(2*seam)
	if n > 1 && !(step >= wide) {
		return nil
	}
	parts := make([]part, n)
	for i := range parts {
		from := first + float64(float64(i)*step)
		corners := p.between(from, from+edge)
		parts[i] = part{
			number: i + 1, of: n, corners: corners, eitherBias: n == 1,
			reach: octagonOf(corners).grown(p.Room.Millimetres()),
		}
	}
	return parts
}

// between is the strip between two threads along the cloth, told by where they
// meet the line of its lower edge; square ends cut them short.
func (p Piece) between(from, to float64) [][2]float64 {
	start, end, wide := 0.0, p.Length.Millimetres(), p.Width.Millimetres()
	if p.Ring {
		start, end = math.Inf(-1), math.Inf(1)
	}
	corners := [][2]float64{{max(start, from), 0}, {min(end, to), 0}, {min(end, to+wide), wide}, {max(start, from+wide), wide}}
	for i, c := range corners {
		corners[i] = [2]float64{(c[0] - c[1]) / math.Sqrt2, (c[0] + c[1]) / math.Sqrt2}
	}
	return corners
}
