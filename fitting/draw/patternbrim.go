package draw

import (
	"fmt"
	"math"
	"strings"

	"perchbook/fitting"
)

const notCloth = "DO NOT CUT CLOTH FROM THIS"

// sector is the brim's flat shape about the middle of its circles, its front
// straight up, its ends at the back.
type sector struct {
	inner, outer, middle float64 // radii, mm; on the middle one the strip keeps its length
	half, lap            float64 // half the angle, radians; what the ends lap by, mm
}

func newSector(b fitting.BrimPattern, s fitting.Strip) sector {
	inner, outer := b.FlatInnerRadius.Millimetres(), b.FlatOuterRadius.Millimetres()
	middle := math.Sqrt((inner*inner + outer*outer) / 2)
	half := b.Sector.Radians() / 2
	return sector{inner, outer, middle, half, max(0, s.Length.Millimetres()-2*half*middle)}
}

// corner is on the sector's end, or beyond it by some millimetres.
func (s sector) corner(radius, side, beyond float64) point {
	return up(side * s.half).times(radius).plus(up(side*s.half + quarter).times(side * beyond))
}

func (s sector) size() box {
	b := box{0, -s.outer, 0, -s.outer}
	for _, side := range [2]float64{1, -1} {
		b = b.around(s.corner(s.inner, side, 0), s.corner(s.outer, side, 0))
	}
	for i := 1; float64(i)*quarter <= s.half; i++ {
		b = b.around(up(float64(i)*quarter).times(s.outer), up(-float64(i)*quarter).times(s.outer))
	}
	return b.grown(2 * cutting.width)
}

func (s sector) covers(p point) bool {
	radius := p.distance(point{})
	return radius >= s.inner-near && radius <= s.outer+near && math.Abs(math.Atan2(p.x, -p.y)) <= s.half+near/s.inner
}

func brimTemplate(b fitting.BrimPattern, strip fitting.Strip) piece {
	s := newSector(b, strip)
	return piece{
		name: "Brim shaping template",
		orders: []string{
			"Do not cut cloth from this: a piece cut so would lose the bias. Steam and pull the folded strip to this shape, then let it cool and dry.",
			fmt.Sprintf("Inner radius %s, outer %s, %.1f degrees.", exact(b.FlatInnerRadius), exact(b.FlatOuterRadius), b.Sector.Degrees()),
			fmt.Sprintf("The ends lap by %s at the back.", centimetres(fitting.Length(s.lap))),
			"Steam burns: keep hands and face out of it.",
		},
		size: s.size(), covers: s.covers,
		draw: func(l leaf) {
			l.arc(cutting, s.inner, -s.half, s.half)
			l.arc(cutting, s.outer, -s.half, s.half)
			for _, side := range [2]float64{1, -1} {
				l.line(cutting, s.corner(s.inner, side, 0), s.corner(s.outer, side, 0))
			}
		},
		detail: s.detail,
	}
}

func (s sector) detail(l leaf, number string) {
	wide := s.outer - s.inner
	size := min(4, wide/5)
	for i := -1; i <= 1; i++ {
		l.notches(s.inner, float64(i)*s.half/2, -size, 1)
		l.notches(s.outer, float64(i)*s.half/2, size, 1)
	}
	l.arc(dashed, s.middle, -s.half, s.half)
	for _, side := range [2]float64{1, -1} {
		l.arrowhead(s.corner(s.middle, side, 0), side*(s.half+quarter))
	}
	f, small := bold(min(15, 0.14*wide/pointHigh)), sans(min(8.5, 0.11*wide/pointHigh))
	l.repeated(f, (s.middle+s.outer)/2, s.half, notCloth)
	l.repeated(small, s.middle+0.9*small.high(), s.half, strings.TrimSpace("Brim shaping template "+number))
	l.repeated(small, s.middle-0.9*small.high(), s.half, "the strip's bias runs along here and keeps its length")
	for _, part := range [4]float64{-0.75, -0.25, 0.25, 0.75} { // between the notches
		room := 0.4 * s.half * s.inner
		l.around(l.fitted(small, room, "outer edge: stretch"), s.outer-0.8*small.high(), part*s.half, "outer edge: stretch")
		l.around(l.fitted(small, room, "inner edge: ease"), s.inner+0.9*small.high(), part*s.half, "inner edge: ease")
	}
	s.ends(l, small)
}

// ends says what happens at the back, along the ends.
func (s sector) ends(l leaf, f lettering) {
	say := func(side, beyond float64, words string) {
		at := s.corner((s.inner+s.middle)/2, side, beyond)
		l.turned(l.fitted(f, 0.45*(s.outer-s.inner), words), at, side*(s.half-quarter), words)
	}
	lapped := func(radius float64) point {
		return s.corner(math.Sqrt(max(0, radius*radius-s.lap*s.lap)), -1, -s.lap)
	}
	l.line(dashed, lapped(s.inner), lapped(s.outer))
	say(-1, -s.lap-0.9*f.high(), "other end laps to here")
	say(1, -0.9*f.high(), "let "+centimetres(fitting.Length(s.lap))+" run past here")
}

// repeated sets words along an arc about nought, from one end to the other, again
// and again.
func (l leaf) repeated(f lettering, radius, half float64, words string) {
	const every = 150 // mm
	f = l.fitted(f, 1.6*half*radius, words)
	times := max(1, int(2*half*radius/max(every, 1.3*l.width(f, words))))
	for i := range times {
		l.around(f, radius, -half+(float64(i)+0.5)*2*half/float64(times), words)
	}
}

// around sets words along an arc about nought, their middle at t, each word
// straight.
func (l leaf) around(f lettering, radius, t float64, words string) {
	space := l.width(f, " ")
	t -= l.width(f, words) / radius / 2
	for _, word := range strings.Fields(words) {
		w := l.width(f, word)
		l.turned(f, up(t+w/2/radius).times(radius), t+w/2/radius, word)
		t += (w + space) / radius
	}
}
