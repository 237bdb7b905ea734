package draw

import (
	"fmt"
	"io"
	"math"
	"slices"

	"perchbook/fitting"
)

// measured is the head on which measuring is shown: that of the usual girth and nape to crown.
var measured = func() fitting.Head {
	h, err := fitting.NewHead(fitting.Measures{Girth: usualOf(fitting.GirthTape), NapeToCrown: usualOf(fitting.NapeTape)})
	if err != nil {
		panic(err) // the engine would refuse its own usual head
	}
	return h
}()

func usualOf(t fitting.Tape) *fitting.Length {
	usual := t.Usual(0)
	return new((usual.Least + usual.Most) / 2)
}

// MeasuringWords are the words in the drawings of how to measure, in the reader's language.
type MeasuringWords struct{ Crown, Nape, Ruler, Paper string }

// ErrNoMeasuring is a drawing of how to measure that there is not.
var ErrNoMeasuring = fmt.Errorf("draw: there is no such drawing of how to measure")

// MeasuringHeads writes the heads that the drawings of [Measuring] are drawn on: once a page, before them.
func MeasuringHeads(w io.Writer) error {
	var p pad
	p.raw(`<svg xmlns="http://www.w3.org/2000/svg" width="0" height="0" aria-hidden="true" focusable="false" class="visually-hidden"><defs>`, "\n")
	for _, from := range []Camera{FromRight(), Front(), Above()} {
		p.raw(`<g id="m-`, from.name, `">`)
		p.headAlone(from)
		p.raw("</g>\n")
	}
	p.raw("</defs></svg>\n")
	_, err := w.Write(p.Bytes())
	return err
}

// Measuring writes one drawing of how a tape is laid, a millimetre to the unit, on a head of
// [MeasuringHeads]. It is for those who see it: the words beside it say the same. What moves has the class lay, level or slide and ends where it is drawn. The wrong way
// is crossed out and its tape broken into dashes. It fails when w does, and with ErrNoMeasuring.
func Measuring(w io.Writer, name string, words MeasuringWords) error {
	draw, known := measuring[name]
	if !known {
		return ErrNoMeasuring
	}
	m := scene{words: words, head: measured}
	draw(&m)
	var p pad
	p.raw(`<svg xmlns="http://www.w3.org/2000/svg" class="drawn measuring" viewBox="`)
	p.numbers(m.frame.left, m.frame.top, m.frame.width(), m.frame.height())
	p.raw(`" aria-hidden="true" focusable="false" fill="none" stroke="currentColor" stroke-width="`, weight, `" stroke-linecap="round" stroke-linejoin="round">`, "\n")
	p.Write(m.Bytes())
	p.raw("</svg>\n")
	_, err := w.Write(p.Bytes())
	return err
}

// headAlone draws a head without a hat: skull, face, neck and ears, the nearer before the farther.
func (p *pad) headAlone(from Camera) {
	h := measured
	f := newFace(h)
	outline := headOutline(h, from.toward)
	skull := newPatch(from.project(outline))
	faceLeft, faceRight := f.sides(faceSlices[:], from)
	neckLeft, neckRight := f.sides(neckSlices[:], from)
	mask, neck := closed(from, faceLeft, faceRight), closed(from, neckLeft, neckRight)
	within := func(patches ...patch) func(fitting.Vec) bool {
		return func(q fitting.Vec) bool {
			return slices.ContainsFunc(patches, func(a patch) bool { return a.encloses(from.onPaper(q)) })
		}
	}
	if from.isAbove() {
		p.seen(from, within(skull), f.noseFromAbove())
		p.seen(from, within(), outline)
		p.seen(from, within(skull), f.feature(h.BehindEar(fitting.Left), earRim, 1), f.feature(h.BehindEar(fitting.Left), earRim, -1))
		return
	}
	p.seen(from, within(mask, neck), outline)
	p.seen(from, within(skull), faceLeft, faceRight)
	p.seen(from, within(skull, mask), neckLeft, neckRight)
	away := func(q fitting.Vec) bool { return f.turnedAway(q, from.toward) }
	ears := [2]float64{1, -1}
	for _, side := range ears {
		at := func(shape []fitting.Vec) []fitting.Vec { return f.feature(f.eye, shape, side) }
		p.seen(from, away, at(upperLid), at(lowerLid), at(nostril), at(lips))
		if from.isFront() {
			p.seen(from, within(mask, skull), f.feature(h.BehindEar(fitting.Left), earRim, side))
		} else if side*from.toward.Y > 0 {
			p.seen(from, within(), f.feature(h.BehindEar(fitting.Left), earRim, side), f.feature(h.BehindEar(fitting.Left), earInner, side))
		}
	}
}

// seen draws what is not hidden of some curves, with no more points than a tenth of a millimetre needs.
func (p *pad) seen(from Camera, hidden func(fitting.Vec) bool, curves ...[]fitting.Vec) {
	var lines []line
	for _, c := range curves {
		for _, run := range split(c, hidden).seen {
			lines = append(lines, tenths(thinned(from.project(run), 0.12)))
		}
	}
	if len(lines) > 0 {
		p.raw(`<path d="`)
		p.trace(lines...)
		p.raw("\"/>")
	}
}

// tenths is a line to a tenth of a millimetre.
func tenths(l line) line {
	for i, q := range l {
		l[i] = point{math.Round(10*q.x) / 10, math.Round(10*q.y) / 10}
	}
	return l
}

// thinned leaves out points that lie within so many millimetres of the line without them, as Douglas and
// Peucker do.
func thinned(l line, within float64) line {
	if len(l) < 3 {
		return l
	}
	first, last, at, far := l[0], l[len(l)-1], 0, within
	for i, q := range l[1 : len(l)-1] {
		if d := beside(q, first, last); d > far {
			at, far = i+1, d
		}
	}
	if at == 0 {
		return line{first, last}
	}
	before, after := thinned(l[:at+1], within), thinned(l[at:], within)
	return slices.Concat(before[:len(before)-1], after)
}

// beside is the distance of q from the straight line between two points.
func beside(q, from, to point) float64 {
	along := to.minus(from)
	long := math.Hypot(along.x, along.y)
	if long == 0 {
		return q.distance(from)
	}
	off := q.minus(from)
	t := max(0, min(1, (off.x*along.x+off.y*along.y)/(long*long)))
	return off.distance(along.times(t))
}
