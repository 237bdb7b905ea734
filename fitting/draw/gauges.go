package draw

import "math"

// beyond is the line from p to q without its first part.
func beyond(p, q point, part float64) line {
	return line{p.plus(q.minus(p).times(min(1, part/p.distance(q)))), q}
}

// arcFrom is the arc about middle from the direction of p to that of q.
func arcFrom(middle, p, q point, radius float64) line {
	p, q = p.minus(middle), q.minus(middle)
	start, turn := math.Atan2(p.y, p.x), math.Atan2(p.x*q.y-p.y*q.x, p.x*q.x+p.y*q.y)
	const steps = 16
	l := make(line, steps+1)
	for i := range l {
		sin, cos := math.Sincos(start + turn*float64(i)/steps)
		l[i] = middle.plus(point{cos, sin}.times(radius))
	}
	return l
}

// gauge draws a line with ticks across its ends.
func (v *view) gauge(part string, l line) { v.plain(part, ticked(l)...) }

func ticked(l line) []line {
	const tick = 2.5
	lines := []line{l}
	n := len(l) - 1
	for _, end := range [2][2]point{{l[0], l[1]}, {l[n], l[n-1]}} {
		d := end[1].minus(end[0])
		length := math.Hypot(d.x, d.y)
		if length == 0 {
			continue
		}
		across := point{-d.y, d.x}.times(tick / length)
		lines = append(lines, line{end[0].minus(across), end[0].plus(across)})
	}
	return lines
}

func (v *view) plain(part string, lines ...line) {
	v.strokes = append(v.strokes, stroke{gauged, part, lines})
}

func middle(l line) point { return l[0].plus(l[len(l)-1]).times(0.5) }

// parts are the points that part a line in six.
func (l line) parts() []point {
	var points []point
	for i := 1; i < 6; i++ {
		at := float64(len(l)-1) * float64(i) / 6
		k := int(at)
		points = append(points, l[k].plus(l[k+1].minus(l[k]).times(at-float64(k))))
	}
	return points
}

func longest(lines []line) line {
	best := lines[0]
	for _, l := range lines[1:] {
		if l.length() > best.length() {
			best = l
		}
	}
	return best
}
