package server

import (
	"slices"

	"perchbook/orders"
)

// tapeMeasure shows how far she has come, drawn as a tape with one figure a screen.
type tapeMeasure struct {
	Step, Of int
	Width    int // of the drawing
	Done     int // length of the part that has been measured
	Figures  []tapeFigure
	Ticks    []tapeTick
}

type tapeFigure struct{ X, N int }

type tapeTick struct{ X, Length int }

const (
	tapeWidth = 360
	tapeEnd   = 10 // before the first and after the last figure
	tapeParts = 4  // small ticks to a figure
)

// measure places a page on the tape; the summary stands at its end. What
// answers still to come may add is counted, so that the tape never grows longer under her hands. It is
// zero for a page that may be left out.
func (d door) measure(page string) tapeMeasure {
	steps := append(withoutNotice(orders.Questions.Ahead(d.Draft.Answers)), "check")
	at := slices.Index(steps, page)
	if at < 0 || d.sent() {
		return tapeMeasure{}
	}
	n := len(steps)
	x := func(parts int) int { return tapeEnd + parts*(tapeWidth-2*tapeEnd)/(n*tapeParts) }
	t := tapeMeasure{Step: at + 1, Of: n, Width: tapeWidth, Done: x((at + 1) * tapeParts)}
	for i := 0; i <= n*tapeParts; i++ {
		length := 6
		if i%tapeParts == 0 {
			length = 13
		}
		t.Ticks = append(t.Ticks, tapeTick{x(i), length})
		if i%tapeParts == 0 && i > 0 {
			t.Figures = append(t.Figures, tapeFigure{x(i) - 4, i / tapeParts})
		}
	}
	return t
}
