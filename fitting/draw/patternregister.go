package draw

import (
	"fmt"
	"math"
)

// register draws the seams, with marks that close when the pages are laid
// together.
func (l leaf) register(p laid) {
	down, across := p.seams()
	w := p.whole()
	for i, x := range down {
		l.line(seam, point{x, 0}, point{x, w.bottom})
		for row := range p.rows {
			on := func(part float64) point { return point{x, p.at(0, row).top + part*p.tile.y} }
			l.marks(p, on, fmt.Sprintf("%c%%d", 'A'+i%26), row)
		}
	}
	for i, y := range across {
		l.line(seam, point{0, y}, point{w.right, y})
		for column := range p.columns {
			on := func(part float64) point { return point{p.at(column, 0).left + part*p.tile.x, y} }
			l.marks(p, on, fmt.Sprintf("%c%%d", 'a'+i%26), column)
		}
	}
}

// marks sets two on one page's part of a seam: beside the piece if there is room,
// else on it, but on no edge of it.
func (l leaf) marks(p laid, on func(part float64) point, name string, n int) {
	for i, usual := range [2]float64{0.27, 0.73} {
		at := on(usual)
	look:
		for _, fits := range [2]func(point) bool{p.apart, p.clear} {
			for _, aside := range [...]float64{0, 0.05, -0.05, 0.1, -0.1, 0.15, -0.15, 0.2, -0.2} {
				if q := on(usual + aside); fits(q) {
					at = q
					break look
				}
			}
		}
		l.mark(at, fmt.Sprintf(name, 2*n+i+1))
	}
}

// mark is a lozenge on a seam, with its name, and hairs to its points.
func (l leaf) mark(at point, name string) {
	const half, hair = 4.4, 0.6
	var corners []point
	for i := range 4 {
		corners = append(corners, at.plus(up(float64(i)*math.Pi/2).times(half)))
	}
	l.outline(nib{0.2, nil, 0}, corners...)
	for i := range 4 {
		d := up(float64(i) * math.Pi / 2)
		l.line(nib{0.2, nil, 0}, at.plus(d.times(half-1)), at.plus(d.times(half+hair)))
	}
	l.centre(bold(7), at.plus(point{0, 0.35 * bold(7).high()}), name)
}
