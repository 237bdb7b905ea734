package draw

import (
	"fmt"
	"math"

	"perchbook/fitting"
)

// band draws a tape along a curve: laid on when it is right, with the marks of a tape; broken when it is
// wrong.
func (m *scene) band(from Camera, how bool, curve []fitting.Vec) {
	var seen []line
	hidden := func(p fitting.Vec) bool { return throughHead(m.head, p, from.toward, 1-1e-9) && !from.isAbove() }
	for _, run := range split(curve, hidden).seen {
		seen = append(seen, tenths(thinned(from.project(run), 0.25)))
	}
	var d pad
	d.trace(seen...)
	if !how {
		m.raw(`<path stroke="var(--ink, #000)" stroke-width="3" stroke-dasharray="7 6" d="`, d.String(), "\"/>\n")
		return
	}
	m.raw(`<g stroke-linecap="butt"><path class="lay" stroke="var(--thread, #94301f)" stroke-width="7" pathLength="1" d="`, d.String(),
		`"/><path class="laid" stroke="var(--thread-ink, #fff)" stroke-width="4.6" stroke-dasharray="1 9" stroke-dashoffset="-4" d="`, d.String(), "\"/></g>\n")
}

// ends marks where a tape begins and ends.
func (m *scene) ends(from Camera, at ...fitting.Vec) {
	for _, p := range at {
		q := from.onPaper(p)
		m.raw(`<circle fill="var(--sheet, #fff)" stroke="var(--thread, #94301f)" stroke-width="2.6" r="4"`)
		m.attribute("cx", q.x)
		m.attribute("cy", q.y)
		m.raw("/>\n")
	}
}

// spot marks a place and names it, the name above or below it.
func (m *scene) spot(from Camera, at fitting.Vec, name string, above float64) {
	m.ends(from, at)
	q := from.onPaper(at)
	if above > 0 {
		m.label(q.plus(point{8, 27}), "start", name)
	} else {
		m.label(q.plus(point{12, 24}), "start", name)
	}
}

func (m *scene) label(at point, anchor, words string) {
	if words == "" {
		return
	}
	m.raw(`<text fill="currentColor" stroke="none" font-size="22" text-anchor="`, anchor, `"`)
	m.attribute("x", at.x)
	m.attribute("y", at.y)
	m.raw(">")
	m.say(words)
	m.raw("</text>\n")
}

// placed wraps what draws about nought into a place on the paper, turned by degrees, moving when shown.
func (m *scene) placed(at point, degrees float64, moves string, draw func()) {
	m.raw(fmt.Sprintf(`<g transform="translate(%.1f %.1f) rotate(%.1f)">`, at.x, at.y, degrees))
	if moves != "" {
		m.raw(`<g class="`, moves, `">`)
	}
	draw()
	if moves != "" {
		m.raw("</g>")
	}
	m.raw("</g>\n")
}

// ruler lies on the head at a place of its middle plane, tipped forward by degrees.
func (m *scene) ruler(degrees float64, at fitting.Vec) {
	moves := "level"
	if degrees != 0 {
		moves = ""
	}
	m.placed(FromRight().onPaper(at), degrees, moves, func() {
		m.raw(`<path fill="var(--sheet, #fff)" d="M-78 -1V-13H78V-1Z"/><path stroke-width=".9" d="`)
		for x := -70.0; x <= 70; x += 10 {
			m.raw(fmt.Sprintf("M%.0f -1v-%d", x, map[bool]int{true: 6, false: 4}[math.Mod(x, 50) == 0]))
		}
		m.raw(`"/>`)
	})
}

// finger has its tip at nought and lies along the paper to the left.
func (m *scene) finger() {
	m.raw(`<path fill="var(--sheet, #fff)" d="M-52 -7.5H-8A7.5 7.5 0 0 1 -8 7.5H-52"/><path stroke-width=".9" d="M-10 -4.5H-5A4.5 4.5 0 0 1 -5 4.5H-10"/>`)
}

func (m *scene) fingerAtNape() {
	tip := FromRight().onPaper(m.head.Nape()).plus(point{-4, 2})
	m.placed(tip, -50, "slide", m.finger)
}

// fingerUnder lies between the head and the tape, seen from above.
func (m *scene) fingerUnder() {
	side := Above().onPaper(fitting.Vec{Y: -m.head.B.Millimetres() - 1})
	m.placed(side.plus(point{-3, -16}), -90, "", m.finger)
}

// downTheNeck leads a wrong tape on past the nape.
func (m *scene) downTheNeck() {
	from := FromRight().onPaper(m.head.Nape())
	m.raw(fmt.Sprintf(`<path stroke="var(--ink, #000)" stroke-width="3" stroke-dasharray="7 6" d="M%.1f %.1fl2 18 0 18"/>`, from.x, from.y))
}

// crossed marks the whole as the wrong way: a cross in the upper left corner.
func (m *scene) crossed() {
	m.raw(fmt.Sprintf(`<g stroke-width="4"><path d="M%.0f %.0fl20 20m0 -20l-20 20"/></g>`, m.frame.left+8, m.frame.top+8), "\n")
}

// string is the way without a tape: a string, marked where it meets, laid along a ruler.
func (m *scene) string() {
	m.frame = box{-10, -34, 240, 58}
	m.raw(`<path fill="var(--sheet, #fff)" d="M0 16H230V38H0Z"/><path stroke-width=".9" d="`)
	for x := 0; x <= 22; x++ {
		m.raw(fmt.Sprintf("M%d 16v%d", 5+10*x, map[bool]int{true: 11, false: 6}[x%5 == 0]))
	}
	m.raw(`"/><path class="lay" pathLength="1" stroke="var(--thread, #94301f)" stroke-width="2.4" d="M5 8C40 4 60 10 100 8S170 5 205 8"/>`,
		`<path d="M5 0V13M205 0V13" stroke-width="2"/>`, "\n")
	m.label(point{115, -8}, "middle", m.words.Ruler)
}

// sheet is a sheet of paper, its long edge marked.
func (m *scene) sheet() {
	m.frame = box{-12, -34, 240, 150}
	m.raw(`<path fill="var(--sheet, #fff)" d="M8 12H222V140H8Z"/><path d="M8 -2V8M222 -2V8M8 3H222M14 0L8 3L14 6M216 0L222 3L216 6" stroke-width="1.6"/>`, "\n")
	m.label(point{115, -14}, "middle", m.words.Paper)
}
