package draw

import "math"

// label is some words about one point of the drawing.
type label struct {
	pen    pen
	lines  []string
	about  point
	at     box
	leader line // nil when the words stand close by
	corner bool
}

// Text is as large as a phone needs that shows the drawing 340 pixels wide: 13
// pixels.
const (
	textPart   = 13.0 / 340 // of the drawing's width
	letterWide = 0.58       // of the text's size, on average, in a wide system font
	lineHigh   = 1.18       // the same
	close      = 7.0        // mm: words so near need no leader
	apart      = 2.0        // mm between words and lines
)

func (v *view) textSize() float64 { return textPart * v.frame.width() }

func (v *view) label(about point, lines ...string) { v.labelIn(gauged, about, lines...) }

func (v *view) labelIn(p pen, about point, lines ...string) {
	v.labels = append(v.labels, label{pen: p, lines: lines, about: about})
}

// corner puts words at the foot of the drawing, on the left (-1) or the right.
func (v *view) corner(side float64, lines ...string) {
	w, h := v.room(lines)
	b := box{v.frame.left + margin, v.frame.bottom - margin - h, v.frame.left + margin + w, v.frame.bottom - margin}
	if side > 0 {
		b.left, b.right = v.frame.right-margin-w, v.frame.right-margin
	}
	v.labels = append(v.labels, label{pen: inked, lines: lines, at: b, corner: true})
}

// room is the width and height that lines of words take.
func (v *view) room(lines []string) (w, h float64) {
	for _, l := range lines {
		w = max(w, float64(len([]rune(l))))
	}
	return w * letterWide * v.textSize(), float64(len(lines)) * lineHigh * v.textSize()
}

// placeLabels gives every label a free place near what it is about, with a
// leader when that is not close, and widens the paper where there is none.
func (v *view) placeLabels() {
	g := newGround(v.frame.grown(2.5 * v.textSize() * 5))
	for _, s := range v.strokes {
		for _, l := range s.lines {
			g.mark(l)
		}
	}
	for i := range v.labels {
		if l := &v.labels[i]; l.corner {
			g.take(l.at)
		}
	}
	for i := range v.labels {
		l := &v.labels[i]
		if l.corner {
			continue
		}
		w, h := v.room(l.lines)
		l.at = g.place(l.about, w, h, v.frame.grown(-apart))
		g.take(l.at)
		if near := l.at.nearest(l.about); near.distance(l.about) > close {
			l.leader = line{near, l.about}
			g.mark(l.leader)
		}
		v.frame = v.frame.around(point{l.at.left - apart, l.at.top - apart}, point{l.at.right + apart, l.at.bottom + apart})
	}
}

// ground is a grid that knows where something is drawn.
type ground struct {
	area       box
	cols, rows int
	drawn      []bool
	words      []bool
	sums       []int32 // of drawn cells above and to the left
}

const cell = 2.5 // mm

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

// mark notes a line.
func (g *ground) mark(l line) {
	for i := 1; i < len(l); i++ {
		steps := int(l[i].distance(l[i-1])/(cell/2)) + 1
		for k := range steps + 1 {
			col, row := g.index(l[i-1].plus(l[i].minus(l[i-1]).times(float64(k) / float64(steps))))
			g.drawn[row*g.cols+col] = true
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

// place finds the free box of the given size whose leader is cheapest. Outside
// the paper costs more than any way within it.
func (g *ground) place(about point, w, h float64, paper box) box {
	const outside = 400
	g.sum()
	best, cost := box{about.x, about.y, about.x + w, about.y + h}, math.Inf(1)
	for y := g.area.top; y+h < g.area.bottom; y += cell {
		for x := g.area.left; x+w < g.area.right; x += cell {
			b := box{x, y, x + w, y + h}
			c := b.nearest(about).distance(about)
			if !paper.holds(b) {
				c += outside + max(paper.left-b.left, 0) + max(b.right-paper.right, 0) + max(paper.top-b.top, 0) + max(b.bottom-paper.bottom, 0)
			}
			if c < cost && g.free(b.grown(apart)) {
				if c += g.crossings(b.nearest(about), about); c < cost {
					best, cost = b, c
				}
			}
		}
	}
	return best
}

// crossings is what a leader costs for the lines that it crosses before it comes
// to what it is about; words are never crossed.
func (g *ground) crossings(from, to point) float64 {
	length := from.distance(to)
	if length <= close {
		return 0
	}
	cost := 0.0
	for d := 0.0; d < length-close; d += cell {
		col, row := g.index(from.plus(to.minus(from).times(d / length)))
		i := row*g.cols + col
		if g.words[i] {
			return math.Inf(1)
		}
		if g.drawn[i] {
			cost += 2
		}
	}
	return cost
}
