package draw

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"perchbook/fitting"
)

// ruler is a narrow strip of paper down the page, marked along its left edge.
type ruler struct {
	wide, long float64
	marks      []rulerMark
}

// rulerMark is a line across the ruler with its words to the right.
type rulerMark struct {
	at  float64
	nib nib
	say string
}

const (
	labelGap  = 5.2
	labelWide = 47.0
)

func (r ruler) size() box {
	end := r.long
	for _, p := range r.places() {
		end = max(end, p)
	}
	return box{-1, -labelGap, r.wide + labelWide, end + labelGap}
}

func (r ruler) covers(p point) bool { return r.size().holds(box{p.x, p.y, p.x, p.y}) }

// places is how far down each mark's words stand: beside it, or under the words
// above.
func (r ruler) places() []float64 {
	places := make([]float64, len(r.marks))
	for i, m := range r.marks {
		places[i] = m.at
		if i > 0 {
			places[i] = max(places[i], places[i-1]+labelGap)
		}
	}
	return places
}

func (r ruler) draw(l leaf) {
	l.line(pencil, point{0, 0}, point{0, r.long})
	l.line(pencil, point{r.wide, 0}, point{r.wide, r.long})
	for _, m := range r.marks {
		l.line(m.nib, point{0, m.at}, point{r.wide, m.at})
	}
}

func (r ruler) detail(l leaf, _ string) {
	f := sans(8.5)
	for i, y := range r.places() {
		m := r.marks[i]
		l.line(pencil, point{r.wide, m.at}, point{r.wide + 3, y})
		l.write(f, point{r.wide + 4, y + 0.35*f.high()}, m.say)
	}
	l.ticks(r)
}

// ticks are centimetres along the left edge, halves between them.
func (l leaf) ticks(r ruler) {
	f := sans(6.5)
	for i := 1; float64(i)*5 < r.long; i++ {
		y, long := float64(i)*5, 1.5
		if i%2 == 0 {
			long = 3
			if !r.crowded(y) {
				l.write(f, point{long + 0.6, y + 0.35*f.high()}, fmt.Sprint(i/2))
			}
		}
		l.line(pencil, point{0, y}, point{long, y})
	}
}

// crowded says whether a figure at y would lie on a mark.
func (r ruler) crowded(y float64) bool {
	return slices.ContainsFunc(r.marks, func(m rulerMark) bool { return math.Abs(m.at-y) < 2 })
}

func newRuler(wide, long float64, marks ...rulerMark) ruler {
	slices.SortStableFunc(marks, func(a, b rulerMark) int { return cmp.Compare(a.at, b.at) })
	return ruler{wide, long, marks}
}

// halfBinding is marked from the fold for binding strips of 5 cm (common
// practice).
const halfBinding = 25 * fitting.Millimetre

// foldGauge marks the brim's strip off the bias fold of the cloth.
func foldGauge(s fitting.Strip) piece {
	at := s.FromFold.Millimetres()
	least := s.LeastFlatWidth.Millimetres() / 2
	r := newRuler(24, max(at, least, halfBinding.Millimetres()),
		rulerMark{0, folding, "lay this line on the bias fold"},
		rulerMark{halfBinding.Millimetres(), pencil, "bindings: 2.5 cm from the fold"},
		rulerMark{least, dashed, "never nearer than " + centimetres(s.LeastFlatWidth/2)},
		rulerMark{at, cutting, "cut here: " + centimetres(s.FromFold) + " from the fold"})
	return piece{
		name: "Bias strip gauge",
		orders: []string{
			"Fold the cloth on its true bias, so that the threads cross the fold at 45 degrees. Lay the gauge's top line on the fold, mark at many places, and rule through the marks.",
			fmt.Sprintf("Brim strip: cut 1, %s from the fold, so %s wide when opened, and at least %s long.", exact(s.FromFold), exact(s.FlatWidth), exact(s.Length)),
			folds(s.Folds),
			"Bindings: 2.5 cm from the fold, so 5 cm wide; leave at least 2 mm free in the middle.",
			"Set the folds with a dry iron through baking paper. An iron burns.",
		},
		size:   r.size(),
		covers: r.covers,
		beside: true,
		draw:   r.draw,
		detail: func(l leaf, number string) {
			r.detail(l, number)
			if half := 0.35 * min(at, 2*r.wide); half > 6 {
				l.moved(point{0.58 * r.wide, at / 2}).grain(bias, min(half, 0.5*r.wide), "thread")
			}
		},
	}
}

func folds(n int) string {
	switch n {
	case 1:
		return "Single, with its edge bound."
	case 2:
		return "Fold once, along the middle."
	default:
		return "Fold to 4 layers: both raw edges to the middle, at least 5 mm free between them, then once along it."
	}
}

// elasticRuler is the elastic at its full length, to be laid along it.
func elasticRuler(e fitting.ElasticCut) piece {
	cut, relaxed := e.Cut.Millimetres(), e.Relaxed.Millimetres()
	knot := (cut - relaxed) / 2
	least, most := max(0, e.Cut-e.PlusMinus), e.Cut+e.PlusMinus
	r := newRuler(14, most.Millimetres(),
		rulerMark{least.Millimetres(), pencil, "the cut may be as short as " + centimetres(least)},
		rulerMark{most.Millimetres(), pencil, "or as long as " + centimetres(most)},
		rulerMark{0, cutting, "one end"},
		rulerMark{knot, dashed, "knot, " + centimetres(fitting.Length(knot)) + " from the end"},
		rulerMark{cut - knot, dashed, "knot, " + centimetres(e.Relaxed) + " from the first, slack"},
		rulerMark{cut, cutting, "cut, " + centimetres(e.Cut) + " in all"})
	return piece{
		name: "Elastic ruler",
		orders: []string{
			fmt.Sprintf("Cut 1 in round elastic, %s, laid slack along the ruler.", exact(e.Cut)),
			fmt.Sprintf("Knots %s apart, slack; worn it is stretched to %s.", exact(e.Relaxed), exact(e.Worn)),
			fmt.Sprintf("Right to about %s either way, and reels differ: try it on the wearer before the ends are finished. Too tight, it marks the skin and gives a headache.", centimetres(e.PlusMinus)),
			"It runs under the hair and behind the ears, never under the chin.",
		},
		size:   r.size(),
		covers: r.covers,
		beside: true,
		draw:   r.draw,
		detail: r.detail,
	}
}
