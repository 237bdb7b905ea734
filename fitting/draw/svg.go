package draw

import (
	"bytes"
	"encoding/xml"
	"math"
	"strconv"
)

// svg writes the view, pens from the back to the front.
func (v *view) svg() []byte {
	var p pad
	p.open(v)
	for pen := none + 1; pen < pens; pen++ {
		p.group(pen, v)
	}
	p.texts(v)
	p.raw("</svg>\n")
	return p.Bytes()
}

// pad is the document as it is written. Numbers have two decimals: a hundredth
// of a millimetre.
type pad struct{ bytes.Buffer }

func (p *pad) raw(parts ...string) {
	for _, s := range parts {
		p.WriteString(s)
	}
}

// say writes words for people.
func (p *pad) say(s string) { _ = xml.EscapeText(p, []byte(s)) }

func (p *pad) number(x float64) {
	n := int64(math.Round(100 * x))
	b := p.AvailableBuffer()
	if n < 0 {
		n, b = -n, append(b, '-')
	}
	b = strconv.AppendInt(b, n/100, 10)
	if part := n % 100; part > 0 {
		b = append(b, '.', byte('0'+part/10))
		if part%10 > 0 {
			b = append(b, byte('0'+part%10))
		}
	}
	p.Write(b)
}

func (p *pad) numbers(xs ...float64) {
	for i, x := range xs {
		if i > 0 {
			p.WriteByte(' ')
		}
		p.number(x)
	}
}

func (p *pad) attribute(name string, x float64) {
	p.raw(" ", name, `="`)
	p.number(x)
	p.raw(`"`)
}

// pixels is how large a millimetre stands on a screen that is not told otherwise.
const pixels = 1.5

func (p *pad) open(v *view) {
	b := v.frame
	p.raw(`<svg xmlns="http://www.w3.org/2000/svg" class="hat hat-`, v.from.name, `" viewBox="`)
	p.numbers(b.left, b.top, b.width(), b.height())
	p.raw(`"`)
	p.attribute("width", b.width()*pixels)
	p.attribute("height", b.height()*pixels)
	p.raw(` role="img" fill="none" stroke="currentColor" stroke-width="`, weight, `" stroke-linecap="round" stroke-linejoin="round">`, "\n<title>")
	p.say(v.title())
	p.raw("</title>\n<desc>")
	p.say(v.description())
	p.raw("</desc>\n")
	if v.Sheet {
		p.raw(`<rect class="sheet" fill="#fff" stroke="none"`)
		p.attribute("x", b.left)
		p.attribute("y", b.top)
		p.attribute("width", b.width())
		p.attribute("height", b.height())
		p.raw("/>\n")
	}
}

// group writes what one pen draws. Colours stand twice: an outer group has the
// fallback, for programs that do not know variables and skip the inner one's.
func (p *pad) group(of pen, v *view) {
	var body pad
	for _, s := range v.strokes {
		if s.pen == of {
			body.stroke(s)
		}
	}
	for _, d := range v.dots {
		if d.pen == of {
			body.dot(d)
		}
	}
	if body.Len() == 0 {
		return
	}
	k := penStrokes[of]
	if k.variable != "" {
		p.raw(`<g stroke="`, k.colour, `">`)
	}
	p.raw(`<g class="`, k.class, `" stroke-width="`, k.width, `"`)
	if k.variable != "" {
		p.raw(` stroke="var(`, k.variable, ", ", k.colour, `)"`)
	}
	if k.dashes != "" {
		p.raw(` stroke-dasharray="`, k.dashes, `"`)
	}
	p.raw(">\n")
	p.Write(body.Bytes())
	p.raw("</g>")
	if k.variable != "" {
		p.raw("</g>")
	}
	p.raw("\n")
}

func (p *pad) stroke(s stroke) {
	p.raw(`<path class="`, s.part, `" d="`)
	p.trace(s.lines...)
	p.raw("\"/>\n")
}

// trace writes the lines of a path.
func (p *pad) trace(lines ...line) {
	for _, l := range lines {
		for i, q := range l {
			switch i {
			case 0:
				p.raw("M")
			case 1:
				p.raw("L")
			default:
				p.raw(" ")
			}
			p.numbers(q.x, q.y)
		}
	}
}

func (p *pad) dot(d dot) {
	p.raw(`<circle class="`, d.part, `"`)
	p.attribute("cx", d.at.x)
	p.attribute("cy", d.at.y)
	p.attribute("r", d.radius/2) // a stroke as wide fills it, in the colour of the group
	p.attribute("stroke-width", d.radius)
	p.raw(` stroke-dasharray="none"`)
	p.raw("/>\n")
}
