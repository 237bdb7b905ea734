package draw

import "math"

// ground is a grid that knows where something is drawn.
type ground struct {
	area       box
	cols, rows int
	drawn      []bool
	words      []bool
	sums       []int32 // of drawn cells above and to the left
}

const cell = 3.0 // mm

func newGround(area box) *ground {
	g := &ground{area: area, cols: int(area.width()/cell) + 1, rows: int(area.height()/cell) + 1}
	g.drawn, g.words = make([]bool, g.cols*g.rows), make([]bool, g.cols*g.rows)
	g.sums = make([]int32, (g.cols+1)*(g.rows+1))
	return g
}

func (g *ground) index(p point) (col, row int) {
	return clamp(int((p.x-g.area.left)/cell), g.cols), clamp(int((p.y-g.area.top)/cell), g.rows)
}

func clamp(i, n int) int { return max(0, min(i, n-1)) }

// mark notes lines.
func (g *ground) mark(lines ...line) {
	for _, l := range lines {
		for i := 1; i < len(l); i++ {
			steps := int(l[i].distance(l[i-1])/(cell/2)) + 1
			for k := range steps + 1 {
				col, row := g.index(l[i-1].plus(l[i].minus(l[i-1]).times(float64(k) / float64(steps))))
				g.drawn[row*g.cols+col] = true
			}
		}
	}
}

// take notes a box of words.
func (g *ground) take(b box) {
	left, top := g.index(point{b.left, b.top})
	right, bottom := g.index(point{b.right, b.bottom})
	for row := top; row <= bottom; row++ {
		for col := left; col <= right; col++ {
			g.drawn[row*g.cols+col], g.words[row*g.cols+col] = true, true
		}
	}
}

// sum counts what is drawn, so that free answers at once.
func (g *ground) sum() {
	w := g.cols + 1
	for row := range g.rows {
		run := int32(0)
		for col := range g.cols {
			if g.drawn[row*g.cols+col] {
				run++
			}
			g.sums[(row+1)*w+col+1] = g.sums[row*w+col+1] + run
		}
	}
}

func (g *ground) free(b box) bool {
	left, top := g.index(point{b.left, b.top})
	right, bottom := g.index(point{b.right, b.bottom})
	w := g.cols + 1
	return g.sums[(bottom+1)*w+right+1]-g.sums[top*w+right+1]-g.sums[(bottom+1)*w+left]+g.sums[top*w+left] == 0
}

// place finds the free box of the given size from which a leader to one of the
// points is cheapest, and which point that is. Outside the paper costs more, the
// farther the more. What lies close is tried first, so that most of the rest is
// seen to be dearer at once.
func (g *ground) place(about []point, w, h float64, paper box) (at box, which int) {
	const outside, step = 40, 3 * cell
	g.sum()
	at, cost := box{about[0].x, about[0].y, about[0].x + w, about[0].y + h}, math.Inf(1)
	all := empty().around(about...)
	try := func(x, y float64) {
		b := box{x, y, x + w, y + h}
		if cost < all.apart(b) {
			return
		}
		beyond := 0.0
		if !paper.holds(b) {
			beyond = outside + max(paper.left-b.left, 0) + max(b.right-paper.right, 0) + max(paper.top-b.top, 0) + max(b.bottom-paper.bottom, 0)
		}
		if beyond >= cost {
			return
		}
		i, way := nearest(about, b)
		if c := beyond + way; c < cost && g.free(b.grown(apart)) {
			if c += g.crossings(b.nearest(about[i]), about[i], cost-c); c < cost {
				at, which, cost = b, i, c
			}
		}
	}
	for _, p := range about {
		for _, off := range [...]float64{nearby, 4 * nearby} {
			for _, x := range [...]float64{p.x - off - w, p.x - w/2, p.x + off} {
				for _, y := range [...]float64{p.y - off - h, p.y - h/2, p.y + off} {
					if x > g.area.left && x+w < g.area.right && y > g.area.top && y+h < g.area.bottom {
						try(x, y)
					}
				}
			}
		}
	}
	for y := g.area.top; y+h < g.area.bottom; y += step {
		for x := g.area.left; x+w < g.area.right; x += step {
			try(x, y)
		}
	}
	return at, which
}

// nearest is the point closest to the box, and how far it is.
func nearest(points []point, b box) (which int, way float64) {
	way = math.Inf(1)
	for i, p := range points {
		off := b.nearest(p).minus(p)
		if d := off.x*off.x + off.y*off.y; d < way {
			which, way = i, d
		}
	}
	return which, math.Sqrt(way)
}

// crossings is what a leader costs for the lines that it crosses before it comes
// to what it is about; words are never crossed. It is counted up to a limit.
func (g *ground) crossings(from, to point, limit float64) float64 {
	length := from.distance(to)
	if length <= nearby {
		return 0
	}
	cost := 0.0
	for d := 0.0; d < length && cost < limit; d += cell {
		col, row := g.index(from.plus(to.minus(from).times(d / length)))
		i := row*g.cols + col
		if g.words[i] {
			return math.Inf(1)
		}
		if g.drawn[i] && d < length-nearby {
			cost++
		}
	}
	return cost
}
