package draw

// label is some words about one of several points of the drawing, whichever has
// a free place near it.
type label struct {
	lines  []string
	about  []point
	gauges []line // none, or for each point the size line that is drawn when it is taken
	part   string // of the gauge
	at     box
	fixed  bool // at is already where the words stand
}

// Text is as large as a phone needs that shows the drawing 340 pixels wide: 13
// pixels.
const (
	textPart   = 13.0 / 340 // of the drawing's width
	smallPart  = 12.0 / 170 // the same of a small one, shown half as wide
	enough     = 0.94       // of that size, where the paper has been widened since
	letterWide = 0.62       // of the text's size, on average, in a wide system font
	lineHigh   = 1.18       // the same
	nearby     = 7.0        // mm: words no farther off need no leader
	apart      = 2.0        // mm between words and lines
)

func (v *view) label(l label) {
	if len(l.about) > 0 {
		v.labels = append(v.labels, l)
	}
}

// say writes lines about one of the points.
func (v *view) say(about []point, lines ...string) {
	v.label(label{lines: lines, about: about})
}

// foot puts words on a line of their own under the drawing: on the left and, if
// there are any, on the right.
func (v *view) foot(left, right string) {
	b := v.frame
	for _, words := range [2]string{left, right} {
		wide, high := v.room([]string{words})
		at := box{b.left + margin, b.bottom - margin/2, b.left + margin + wide, b.bottom - margin/2 + high}
		if words == right {
			at.left, at.right = b.right-margin-wide, b.right-margin
		}
		if words != "" {
			v.labels = append(v.labels, label{lines: []string{words}, at: at, fixed: true})
			v.frame.bottom = at.bottom + margin/2
		}
	}
}

// room is the width and height that lines of words take.
func (v *view) room(lines []string) (w, h float64) {
	for _, l := range lines {
		w = max(w, float64(len([]rune(l))))
	}
	return w * letterWide * v.text, float64(len(lines)) * lineHigh * v.text
}

// letters is how large text is, as a part of the drawing's width.
func (v *view) letters() float64 {
	if v.Small {
		return smallPart
	}
	return textPart
}

// writeSizes writes sizes and labels, on paper that will be shown at least so
// wide. Labels may widen the paper, and make themselves too small by it; then it
// begins anew with larger letters.
func (v *view) writeSizes(wide float64) {
	const tries = 4
	for width, i := max(wide, v.paper.width()), 0; i < tries; width, i = max(width, v.frame.width()), i+1 {
		v.frame, v.strokes, v.labels = v.paper.padded(wide, 0), v.strokes[:v.drawn], nil
		v.text = v.letters() * width
		v.drawSizes()
		v.placeLabels()
		if width >= enough*v.frame.width() {
			return
		}
	}
}

// placeLabels gives every label a free place near what it is about, with a
// leader when that is not close, and widens the paper where there is none.
func (v *view) placeLabels() {
	g := newGround(v.frame.grown(5 * v.text))
	for _, s := range v.strokes {
		g.mark(s.lines...)
	}
	for _, l := range v.labels {
		if l.fixed {
			g.take(l.at)
		}
	}
	if v.from.isFront() {
		g.mark(v.from.mask(newFace(v.Head))...)
	}
	paper := v.frame.grown(-apart)
	for i := range v.labels {
		if l := &v.labels[i]; !l.fixed {
			v.place(l, g, paper)
		}
	}
}

func (v *view) widen(b box) {
	b = b.grown(apart)
	v.frame = v.frame.around(point{b.left, b.top}, point{b.right, b.bottom})
}

func (v *view) place(l *label, g *ground, paper box) {
	w, h := v.room(l.lines)
	var which int
	for _, gauge := range l.gauges {
		g.mark(ticked(gauge)...)
	}
	l.at, which = g.place(l.about, w, h, paper)
	if l.gauges != nil {
		v.gauge(l.part, l.gauges[which])
	}
	if near := l.at.nearest(l.about[which]); near.distance(l.about[which]) > nearby {
		leader := beyond(near, l.about[which], 1)
		v.plain("leader", leader)
		g.mark(leader)
	}
	g.take(l.at.grown(apart))
	v.widen(l.at)
}
