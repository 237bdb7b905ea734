package draw

import (
	"fmt"
	"math"

	"perchbook/fitting"
)

// piece draws one piece where it lies.
func (s *laySheet) piece(number int, p fitting.Placed) {
	const paper = `fill="var(--sheet, #fff)"`
	s.raw(`<g class="piece" fill="#fff">`) // for programs that do not know variables
	if p.Diameter > 0 {
		s.circle(number, p, paper)
	} else {
		s.strip(number, p, paper)
	}
	s.raw("</g>\n")
}

func (s *laySheet) circle(number int, p fitting.Placed, paint string) {
	at, radius := s.on(p.X, p.Y), p.Diameter.Millimetres()/2
	s.raw(`<circle `, paint)
	s.attribute("cx", at.x)
	s.attribute("cy", at.y)
	s.attribute("r", radius)
	s.raw("/>")
	toFront := up(quarter - p.Turn.Radians())
	edge, aside := at.plus(toFront.times(radius)), point{-toFront.y, toFront.x}.times(0.09*radius)
	s.shape("front", `fill="currentColor"`, true, edge.plus(aside), edge.minus(toFront.times(0.2*radius)), edge.minus(aside))
	s.thread(at.minus(point{0.6 * radius, 0}), 0.45*radius)
	size := min(1.3*s.letters, 0.7*radius)
	s.bold(at.plus(point{0.08 * radius, -0.35 * size}), 0, size, fmt.Sprint(number))
	s.fitted(at.plus(point{0.12 * radius, 0.6 * size}), 0, 0.8*s.letters, 1.2*radius, "Base")
}

func (s *laySheet) strip(number int, p fitting.Placed, paint string) {
	var corners line
	for _, c := range p.Outline {
		corners = append(corners, s.on(c[0], c[1]))
	}
	s.shape("strip", paint, true, corners...)
	along := up(quarter - p.Turn.Radians())
	if along.x < 0 {
		along = along.times(-1)
	}
	at, tilt := s.on(p.X, p.Y), math.Atan2(along.y, along.x)*180/math.Pi
	width, _ := p.Size()
	wide, room := width.Millimetres(), corners.chord(at, along).length()
	down := point{-along.y, along.x}
	words := p.Kind.Named()
	if p.Parts > 1 {
		words = fmt.Sprintf("%s %d/%d", words, p.Part, p.Parts)
	}
	if wide > 2.8*s.letters {
		s.bold(at.minus(down.times(0.6*s.letters)), tilt, 1.3*s.letters, fmt.Sprint(number))
		s.fitted(at.plus(down.times(0.65*s.letters)), tilt, s.letters, 0.62*room, words)
	} else if !s.fitted(at, tilt, min(s.letters, 0.6*wide), 0.6*room, fmt.Sprintf("%d  %s", number, words)) {
		s.bold(at, tilt, min(1.3*s.letters, 0.7*wide), fmt.Sprint(number))
	}
	shaft := corners.chord(at.minus(along.times(0.4*room)), point{0, 1})
	s.thread(shaft[0].plus(shaft[1]).times(0.5), min(0.4*shaft.length(), 1.6*s.letters))
}

// chord is the part of the straight line through p that lies in the convex polygon l.
func (l line) chord(p, way point) line {
	least, most := math.Inf(1), math.Inf(-1)
	for i, a := range l {
		b := l[(i+1)%len(l)].minus(a)
		cross := way.x*b.y - way.y*b.x
		q := a.minus(p)
		if u := (q.x*way.y - q.y*way.x) / cross; u >= 0 && u <= 1 { // not where they are parallel
			t := (q.x*b.y - q.y*b.x) / cross
			least, most = min(least, t), max(most, t)
		}
	}
	return line{p.plus(way.times(least)), p.plus(way.times(most))}
}

// thread draws an arrow along the straight thread, its shaft half long either way.
func (s *laySheet) thread(at point, half float64) {
	head := min(0.3*s.letters, 0.4*half)
	for _, end := range [2]float64{-1, 1} {
		tip := at.plus(point{0, end * half})
		s.shape("thread", "", false, at, tip)
		s.shape("thread", `fill="currentColor"`, true, tip, tip.plus(point{0.4 * head, -end * head}), tip.plus(point{-0.4 * head, -end * head}))
	}
}

// shape draws a polyline, or a closed one.
func (s *laySheet) shape(class, paint string, closed bool, points ...point) {
	s.raw(`<path class="`, class, `" `, paint, ` d="`)
	for i, p := range points {
		s.raw([2]string{"M", "L"}[min(i, 1)])
		s.numbers(p.x, p.y)
	}
	if closed {
		s.raw("Z")
	}
	s.raw("\"/>\n")
}

func (s *laySheet) bold(at point, tilt, size float64, words string) {
	s.written(` font-weight="bold"`, at, tilt, size, words)
}

// written sets a line about a place, turned clockwise by some degrees.
func (s *laySheet) written(how string, at point, tilt, size float64, words string) {
	s.raw(`<text fill="currentColor" stroke="none"`, how, ` transform="translate(`)
	s.numbers(at.x, at.y)
	s.raw(") rotate(")
	s.number(tilt)
	s.raw(`)"`)
	s.attribute("font-size", size)
	s.attribute("y", 0.35*size)
	s.raw(">")
	s.say(words)
	s.raw("</text>\n")
}

// fits is the size of letters, up to size, in which words take so much room.
func (s *laySheet) fits(size, room float64, words string) float64 {
	const wide = 0.56 // of a letter to its height, on average
	return min(size, room/(wide*float64(len(words))))
}

// fitted sets words in so much room, or nothing where they would be too small to read.
func (s *laySheet) fitted(at point, tilt, size, room float64, words string) bool {
	size = s.fits(size, room, words)
	if size < 0.55*s.letters {
		return false
	}
	s.written("", at, tilt, size, words)
	return true
}

// bothUnits is a length to a tenth of a centimetre, with inches beside it.
func bothUnits(l fitting.Length) string {
	return centimetres(l) + " (" + fitting.Eighths(math.Round(8*l.Inches())) + ")"
}
