package draw

import "strings"

// piece is one pattern, drawn about its own nought.
type piece struct {
	name   string
	orders []string           // what to do with it, one line each
	size   box                // of all that is drawn
	covers func(p point) bool // whether p lies on the piece, or within 2 mm of it
	beside bool               // the title block stands to its right, else above it
	draw   func(leaf)
	detail func(l leaf, number string) // what the plan leaves out
}

// The title block: two squares to measure, and what the piece is.
const (
	metricSquare = 50.0
	inchSquare   = 50.8 // 2 in
	squareGap    = 5.0
	blockGap     = 6.0
	blockHigh    = inchSquare + 2
	blockInset   = 0.4 // so that the squares' lines are not cut at the page's edge
	blockWide    = blockInset + metricSquare + squareGap + inchSquare + 1
)

// squares draws the two squares, to be measured on paper before anything is cut.
func (l leaf) squares() {
	l.square(point{blockInset, blockInset}, metricSquare, "5 cm", "each way")
	l.square(point{blockInset + metricSquare + squareGap, blockInset}, inchSquare, "2 in", "each way")
}

func (l leaf) square(at point, side float64, size, remark string) {
	corner := func(x, y float64) point { return at.plus(point{x * side, y * side}) }
	l.take(nib{0.3, nil, 0})
	l.trace([]point{corner(0, 0), corner(1, 0), corner(1, 1), corner(0, 1)})
	l.pdf.ClosePath()
	l.pdf.DrawPath("D")
	l.centre(serif(16), corner(0.5, 0.45), size)
	l.centre(sans(8.5), corner(0.5, 0.57), remark)
	l.centre(sans(7), corner(0.5, 0.88), "Measure me first.")
}

// block draws the title block: the words to the right of the squares, or under
// them where the block itself stands to the right of a narrow piece.
func (b *book) block(l leaf, p laid) {
	l.squares()
	at, wide := point{blockWide + 3, 6}, b.on.area().width()-blockWide-4-overlap
	if p.beside {
		at, wide = point{blockInset, blockHigh + 10}, blockWide
	}
	title := l.fitted(serif(18), wide, p.name)
	l.write(title, at, p.name)
	if b.number != "" {
		at.y += 6
		l.write(sans(11), at, b.number)
	}
	at.y += 2
	f := sans(9)
	for !p.beside && at.y+l.high(f, wide, p.orders) > blockHigh && f.size > 5 {
		f.size -= 0.5
	}
	l.paragraphs(f, at, wide, p.orders)
}

// broken breaks words into lines of at most so many millimetres.
func (l leaf) broken(f lettering, wide float64, words string) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(words) {
		if longer := strings.TrimSpace(line + " " + word); line == "" || l.width(f, longer) <= wide {
			line = longer
			continue
		}
		lines, line = append(lines, line), word
	}
	return append(lines, line)
}

// paragraphs writes them under p and returns how far down the last one reaches.
func (l leaf) paragraphs(f lettering, p point, wide float64, all []string) float64 {
	for _, words := range all {
		for _, line := range l.broken(f, wide, words) {
			p.y += lineApart * f.high()
			l.write(f, p, line)
		}
		p.y += 0.3 * f.high()
	}
	return p.y
}

// high is how far down paragraphs would reach.
func (l leaf) high(f lettering, wide float64, all []string) float64 {
	lines := 0
	for _, words := range all {
		lines += len(l.broken(f, wide, words))
	}
	return (lineApart*float64(lines) + 0.3*float64(len(all)-1)) * f.high()
}

const lineApart = 1.3 // of the letters' size
