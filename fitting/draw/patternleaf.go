package draw

import (
	"math"
	"unicode/utf8"

	"codeberg.org/go-pdf/fpdf"
)

// nib is a way to draw a line on a pattern: width and dashes in millimetres, and
// how dark, 0 for black.
type nib struct {
	width  float64
	dashes []float64
	grey   int
}

// On patterns the solid line is the one to cut along, or to shape to.
var (
	cutting = nib{0.5, nil, 0}
	pencil  = nib{0.25, nil, 90}
	dashed  = nib{0.3, []float64{3, 2}, 40}
	folding = nib{0.5, []float64{8, 2, 1, 2}, 0} // a fold
	seam    = nib{0.2, []float64{1.2, 1.2}, 110}
)

// lettering is one of the PDF's own fonts, at a size in points.
type lettering struct {
	family, style string
	size          float64
}

func serif(size float64) lettering { return lettering{"Times", "B", size} }
func sans(size float64) lettering  { return lettering{"Helvetica", "", size} }
func bold(size float64) lettering  { return lettering{"Helvetica", "B", size} }

const pointHigh = 25.4 / 72 // mm to the point

// high is the letters' size in millimetres.
func (f lettering) high() float64 { return f.size * pointHigh }

// leaf is a page, or a part of one, as a piece is drawn on it.
type leaf struct {
	pdf    *fpdf.Fpdf
	encode func(string) string
	scale  float64
	origin point // where the piece's own nought lies on the page, mm
	shows  box   // of the page
}

// moved is the same leaf with nought at p.
func (l leaf) moved(p point) leaf {
	l.origin = l.on(p)
	return l
}

// on is where a place of the piece lies on the page.
func (l leaf) on(p point) point { return p.times(l.scale).plus(l.origin) }

func (l leaf) take(n nib) {
	l.pdf.SetLineWidth(n.width)
	l.pdf.SetDrawColor(n.grey, n.grey, n.grey)
	l.pdf.SetDashPattern(n.dashes, 0)
}

// line draws a polyline.
func (l leaf) line(n nib, points ...point) {
	l.take(n)
	l.trace(points)
	l.pdf.DrawPath("D")
}

// area draws a closed polygon and fills it with black.
func (l leaf) area(points ...point) {
	l.take(pencil)
	l.pdf.SetFillColor(0, 0, 0)
	l.trace(append(points, points[0]))
	l.pdf.DrawPath("F")
}

// outline draws a closed polygon on blank paper.
func (l leaf) outline(n nib, points ...point) {
	l.take(n)
	l.pdf.SetFillColor(255, 255, 255)
	l.trace(points)
	l.pdf.ClosePath()
	l.pdf.DrawPath("DF")
}

func (l leaf) trace(points []point) {
	for i, p := range points {
		q := l.on(p)
		if i == 0 {
			l.pdf.MoveTo(q.x, q.y)
		} else {
			l.pdf.LineTo(q.x, q.y)
		}
	}
}

// up is the direction at t radians from straight up the paper, clockwise.
func up(t float64) point {
	sin, cos := math.Sincos(t)
	return point{sin, -cos}
}

// arc draws part of a circle about nought. Each of its cubics spans at most 15
// degrees and so strays from the circle by less than 1e-7 of the radius.
func (l leaf) arc(n nib, radius, from, to float64) {
	l.take(n)
	count := math.Ceil(math.Abs(to-from) / (math.Pi / 12))
	step := (to - from) / count
	pull := 4.0 / 3 * math.Tan(step/4)
	start := l.on(up(from).times(radius))
	l.pdf.MoveTo(start.x, start.y)
	for i := range int(count) {
		a, b := from+float64(i)*step, from+float64(i+1)*step
		p := l.on(up(a).plus(up(a + math.Pi/2).times(pull)).times(radius))
		q := l.on(up(b).minus(up(b + math.Pi/2).times(pull)).times(radius))
		end := l.on(up(b).times(radius))
		l.pdf.CurveBezierCubicTo(p.x, p.y, q.x, q.y, end.x, end.y)
	}
	l.pdf.DrawPath("D")
}

// circle draws a whole circle about nought.
func (l leaf) circle(n nib, radius float64) { l.arc(n, radius, 0, 2*math.Pi) }

// width is how wide words are, in millimetres.
func (l leaf) width(f lettering, words string) float64 {
	l.pdf.SetFont(f.family, f.style, f.size)
	return l.pdf.GetStringWidth(l.encode(words))
}

// write sets words with their base line beginning at p.
func (l leaf) write(f lettering, p point, words string) {
	q := l.on(p)
	if w := l.width(f, words); q.x > l.shows.right || q.x+w < l.shows.left || q.y-f.high() > l.shows.bottom || q.y+f.high() < l.shows.top {
		return
	}
	l.pdf.SetTextColor(0, 0, 0)
	l.pdf.Text(q.x, q.y, l.encode(words))
}

// centre sets words with the middle of their base line at p.
func (l leaf) centre(f lettering, p point, words string) {
	l.write(f, p.minus(point{l.width(f, words) / 2 / l.scale, 0}), words)
}

// turned sets words about p, turned clockwise by t radians.
func (l leaf) turned(f lettering, p point, t float64, words string) {
	q := l.on(p)
	if half := l.width(f, words)/2 + f.high(); !l.shows.grown(half).holds(box{q.x, q.y, q.x, q.y}) {
		return
	}
	l.pdf.TransformBegin()
	l.pdf.TransformRotate(-t*180/math.Pi, q.x, q.y)
	l.pdf.SetTextColor(0, 0, 0)
	l.pdf.Text(q.x-l.width(f, words)/2, q.y+0.35*f.high(), l.encode(words))
	l.pdf.TransformEnd()
}

// fitted is the largest size of a lettering, up to its own, in which words are at
// most so wide.
func (l leaf) fitted(f lettering, wide float64, words string) lettering {
	if w := l.width(f, words); w > wide && utf8.RuneCountInString(words) > 0 {
		f.size *= wide / w
	}
	return f
}
