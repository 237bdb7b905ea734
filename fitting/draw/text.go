package draw

// texts writes the labels and their leaders.
func (p *pad) texts(v *view) {
	if len(v.labels) == 0 {
		return
	}
	p.raw(`<g class="words" fill="currentColor" stroke="none" font-family="system-ui, 'Noto Sans', 'DejaVu Sans', sans-serif" text-anchor="middle"`)
	p.attribute("font-size", v.textSize())
	p.raw(">\n")
	for _, l := range v.labels {
		if l.leader != nil {
			p.raw(`<path class="leader" fill="none" stroke="currentColor" stroke-width="0.5" d="M`)
			p.numbers(l.leader[0].x, l.leader[0].y)
			p.raw("L")
			p.numbers(l.leader[1].x, l.leader[1].y)
			p.raw("\"/>\n")
		}
		for i, words := range l.lines {
			p.raw("<text")
			p.attribute("x", (l.at.left+l.at.right)/2)
			p.attribute("y", l.at.top+(float64(i)*lineHigh+0.92)*v.textSize())
			p.raw(">")
			p.say(words)
			p.raw("</text>\n")
		}
	}
	p.raw("</g>\n")
}
func (v *view) title() string       { return "x" }
func (v *view) description() string { return "x" }
