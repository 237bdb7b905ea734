package draw

import "fmt"

// printing says how the pages become patterns.
var printing = []string{
	"Print at 100 % (actual size), without fitting to the page. Measure both squares on paper: 5 cm and 2 in, each way. If they are not, change the printer's scale and print again.",
	"Where a piece has several pages, trim the later page along its dotted seam, lay it on the seam of the page before so that the lozenges of one name close, and paste.",
	"Solid lines are cut, or shaped to. The fit sheet rounds cloth up to half a centimetre; the patterns are drawn exactly.",
}

// care are the usual cautions of the trade (common practice).
var care = []string{
	"Steam and irons burn: hold the cloth with tongs, keep hands and face out of the steam, let the hat cool before you turn it.",
	"Count pins and needles in and out. None stays in the hat.",
	"Stiffener and adhesive give off fumes: open a window or use extraction, wear gloves, keep them from flame.",
	"Elastic is tried on before its ends are finished. Too tight, it marks the skin and gives a headache.",
	"A brim hides part of the road and of the sky: the hat comes off to drive or cycle.",
	"Local rules, and the instructions of tools and materials, come first.",
}

// plan is the first page: how to print, what there is, where each page goes.
func (b *book) plan(all []laid) {
	b.pdf.AddPage()
	b.pdf.Bookmark("Plan", 0, -1)
	area := b.on.area()
	page := leaf{b.pdf, b.encode, 1, point{area.left, area.top}, area}
	page.moved(point{area.width() - blockWide, 0}).squares()
	wide := area.width() - blockWide - 6
	page.write(serif(24), point{0, 9}, "Patterns")
	page.write(sans(11), point{0, 16}, "at full size, on "+string(b.paper))
	page.write(bold(13), point{0, 24}, b.number)
	y := page.paragraphs(sans(9), point{0, 30}, wide, []string{fmt.Sprintf("%d pieces on %d pages, this plan among them. Each piece begins with its own squares.", len(all), b.pages)})
	y = page.paragraphs(sans(9), page.heading(max(y, blockHigh)+3, "Print and join"), area.width(), printing)
	y = page.paragraphs(sans(9), page.heading(y+4, "Take care"), area.width(), care)
	from := page.heading(y+4, "Where the pages go")
	b.plans(page.moved(from), box{0, 0, area.width(), area.height() - from.y}, all)
	b.foot(titled("Plan", b.number))
}

// heading writes one and returns where to go on.
func (l leaf) heading(y float64, words string) point {
	l.write(serif(13), point{0, y + 4}, words)
	return point{0, y + 5.5}
}

// plans draws every piece small, its pages numbered, side by side in the room
// that is left, as large as they go.
func (b *book) plans(l leaf, room box, all []laid) {
	const largest, smallest = 0.25, 0.01
	scale := largest
	places, high := rows(all, scale, room.width())
	for high > room.height() && scale > smallest {
		scale *= 0.95
		places, high = rows(all, scale, room.width())
	}
	for i, p := range all {
		l.small(p, places[i], scale)
	}
}

// The room for a piece's name over its plan, and for what is between two.
const (
	nameWide = 30.0
	nameHigh = 5.0
	planGap  = 5.0
)

// rows places the plans in rows of a width, and says how high they are together.
func rows(all []laid, scale, wide float64) (places []point, high float64) {
	at := point{}
	for _, p := range all {
		w := max(p.whole().width()*scale, nameWide)
		if at.x > 0 && at.x+w > wide {
			at = point{0, high + planGap}
		}
		places = append(places, at)
		at.x += w + planGap
		high = max(high, at.y+nameHigh+p.whole().height()*scale)
	}
	return places, high
}

// small draws one piece's plan.
func (l leaf) small(p laid, at point, scale float64) {
	l.write(sans(8), at.plus(point{0, 3}), p.name)
	paper := l.moved(at.plus(point{0, nameHigh}))
	paper.scale = scale
	for row := range p.rows {
		for column := range p.columns {
			n, t := p.number(column, row), p.at(column, row)
			if n == 0 {
				continue
			}
			paper.line(pencil, point{t.left, t.top}, point{t.right, t.top}, point{t.right, t.bottom}, point{t.left, t.bottom}, point{t.left, t.top})
			paper.centre(bold(9), point{(t.left + t.right) / 2, (t.top + t.bottom) / 2}, fmt.Sprint(n))
		}
	}
	p.draw(paper.moved(p.shift))
}
