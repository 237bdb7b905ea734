package draw

import "math"

// point is a place on the paper in millimetres, y down.
type point struct{ x, y float64 }

func (p point) plus(q point) point       { return point{p.x + q.x, p.y + q.y} }
func (p point) minus(q point) point      { return point{p.x - q.x, p.y - q.y} }
func (p point) times(k float64) point    { return point{k * p.x, k * p.y} }
func (p point) distance(q point) float64 { return math.Hypot(p.x-q.x, p.y-q.y) }

// line is a polyline on the paper.
type line []point

func (l line) length() float64 {
	sum := 0.0
	for i := 1; i < len(l); i++ {
		sum += l[i].distance(l[i-1])
	}
	return sum
}

// patch is a part of the paper inside a closed polygon.
type patch struct {
	edge   line
	within box
}

func newPatch(edge line) patch { return patch{edge, empty().around(edge...)} }

// encloses says whether p lies within: whether a ray from it crosses the boundary
// an odd number of times.
func (a patch) encloses(p point) bool {
	if !(p.x >= a.within.left && p.x <= a.within.right && p.y >= a.within.top && p.y <= a.within.bottom) {
		return false
	}
	in, b := false, a.edge[len(a.edge)-1]
	for _, c := range a.edge {
		a := b
		b = c
		if (a.y > p.y) != (b.y > p.y) && p.x < a.x+(b.x-a.x)*(p.y-a.y)/(b.y-a.y) {
			in = !in
		}
	}
	return in
}

// box is a rectangle on the paper.
type box struct{ left, top, right, bottom float64 }

func empty() box { return box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)} }

func (b box) width() float64  { return b.right - b.left }
func (b box) height() float64 { return b.bottom - b.top }

func (b box) around(points ...point) box {
	for _, p := range points {
		b = box{min(b.left, p.x), min(b.top, p.y), max(b.right, p.x), max(b.bottom, p.y)}
	}
	return b
}

func (b box) grown(by float64) box {
	return box{b.left - by, b.top - by, b.right + by, b.bottom + by}
}

// padded is the box with more room on both sides, so that it is at least so wide
// and so high.
func (b box) padded(width, height float64) box {
	x, y := max(0, width-b.width())/2, max(0, height-b.height())/2
	return box{b.left - x, b.top - y, b.right + x, b.bottom + y}
}

// nearest is the point of the box closest to p.
func (b box) nearest(p point) point {
	return point{max(b.left, min(p.x, b.right)), max(b.top, min(p.y, b.bottom))}
}

// apart is no more than the distance between two boxes: the greater of its parts.
func (b box) apart(c box) float64 {
	return max(b.left-c.right, c.left-b.right, b.top-c.bottom, c.top-b.bottom)
}

func (b box) holds(c box) bool {
	return c.left >= b.left && c.top >= b.top && c.right <= b.right && c.bottom <= b.bottom
}
