package draw

// texts writes the labels and their leaders.
func (p *pad) texts(v *view) {
	if len(v.labels) == 0 {
		return
	}
	p.raw(`<g class="words" fill="currentColor" stroke="none" font-family="system-ui, 'Noto Sans', 'DejaVu Sans', sans-serif" text-anchor="middle"`)
	p.attribute("font-size", v.text)
	p.raw(">\n")
	for _, l := range v.labels {
		for i, words := range l.lines {
			p.raw("<text")
			p.attribute("x", (l.at.left+l.at.right)/2)
			p.attribute("y", l.at.top+(float64(i)*lineHigh+0.92)*v.text)
			p.raw(">")
			p.say(words)
			p.raw("</text>\n")
		}
	}
	p.raw("</g>\n")
}
