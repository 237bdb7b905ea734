package draw

import (
	"fmt"
	"io"
	"math"

	"perchbook/fitting"
)

// Lay draws how a hat's pieces lie on its cloth, as SVG in black on white that is true to scale:
// the cloth from selvedge to selvedge, its cut end at the bottom, each piece with its name, its
// number in [fitting.Lay.InOrder], an arrow along the straight thread, and circles with a notch at
// their front. Of a long cloth the part that is needed is drawn, torn off above; where the lay does
// not fit, the cloth that would do.
//
// It fails when w does, and with ErrNotSolved for a lay without pieces or a cloth without a size.
func Lay(w io.Writer, l fitting.Lay, cloth fitting.ClothSize) error {
	if !l.Fits {
		cloth = l.Takes
	}
	if !(len(l.Pieces) > 0 && cloth.Width > 0 && cloth.Length > 0 && !math.IsInf(float64(cloth.Width+cloth.Length), 1)) {
		return ErrNotSolved
	}
	s := newLaySheet(l, cloth)
	s.open()
	s.cloth()
	for i, p := range l.InOrder() {
		s.piece(i+1, p)
	}
	s.raw("</g></svg>\n")
	_, err := w.Write(s.Bytes())
	return err
}

// laySheet is the drawing of a lay as it is written. Its millimetres are the cloth's, y down from
// the upper edge of what is drawn.
type laySheet struct {
	pad
	lay        fitting.Lay
	of         fitting.ClothSize
	wide, high float64 // of the cloth that is drawn
	letters    float64 // their size
	torn       bool
}

// How large things stand on the drawing, as fractions of the cloth's larger side.
const (
	layLetters = 0.034
	layBeyond  = 0.1 // how much of a longer cloth is drawn beyond the lay
	layMargin  = 2.2 // in letters, for what is written beside the cloth
)

func newLaySheet(l fitting.Lay, cloth fitting.ClothSize) *laySheet {
	s := &laySheet{lay: l, of: cloth, wide: cloth.Width.Millimetres(), high: cloth.Length.Millimetres()}
	if enough := l.Takes.Length.Millimetres() * (1 + layBeyond); s.high > 1.05*enough {
		s.high, s.torn = enough, true
	}
	s.letters = layLetters * max(s.wide, s.high)
	return s
}

func (s *laySheet) open() {
	m := layMargin * s.letters
	s.raw(`<svg xmlns="http://www.w3.org/2000/svg" class="lay" viewBox="`)
	s.numbers(-m, -m, s.wide+2*m, s.high+2*m)
	s.raw(`" role="img" fill="none" stroke="currentColor" stroke-linejoin="round" stroke-linecap="round">`, "\n<title>")
	s.say(s.title())
	s.raw("</title>\n<desc>")
	s.say(s.description())
	s.raw("</desc>\n", `<g font-family="system-ui, 'Noto Sans', 'DejaVu Sans', sans-serif" text-anchor="middle"`)
	s.attribute("font-size", s.letters)
	s.attribute("stroke-width", s.letters/11)
	s.raw(">\n")
}

func (s *laySheet) title() string {
	return fmt.Sprintf("The lay of %d pieces on cloth %s wide", len(s.lay.Pieces), centimetres(s.of.Width))
}

func (s *laySheet) description() string {
	says := fmt.Sprintf("The lay takes %s of the cloth's length; its pieces are %.0f %% of the cloth.", fitting.ToMark(s.lay.Takes.Length), 100*s.lay.UsedFraction)
	for i, p := range s.lay.InOrder() {
		says += fmt.Sprintf(" %d: %s.", i+1, layName(p))
	}
	return says
}

func layName(p fitting.Placed) string {
	if p.Parts > 1 {
		return fmt.Sprintf("%s, part %d of %d", p.Kind.Named(), p.Part, p.Parts)
	}
	return p.Kind.Named()
}

// on is where a place of the cloth lies on the drawing.
func (s *laySheet) on(x, y fitting.Length) point {
	return point{x.Millimetres(), s.high - y.Millimetres()}
}

// cloth draws the ground with its edges, and writes its sizes beside it.
func (s *laySheet) cloth() {
	s.shape("cloth", `fill="currentColor" fill-opacity="0.09" stroke="none"`, true, point{0, 0}, point{s.wide, 0}, point{s.wide, s.high}, point{0, s.high})
	for _, side := range [2]float64{0, s.wide} {
		out := 2*side/s.wide - 1
		s.shape("selvedge", "", false, point{side, 0}, point{side, s.high})
		s.shape("selvedge", "", false, point{side + out*0.25*s.letters, 0}, point{side + out*0.25*s.letters, s.high})
		s.fitted(point{side + out*1.1*s.letters, s.high / 2}, -90, 0.85*s.letters, s.high, "selvedge, straight thread")
	}
	s.shape("end", "", false, point{0, s.high}, point{s.wide, s.high})
	s.beside(s.high+1.3*s.letters, "cut end, "+bothUnits(s.of.Width)+" wide")
	s.top()
}

// beside writes a line above or below the cloth, as large as it goes.
func (s *laySheet) beside(y float64, words string) {
	size := s.fits(s.letters, s.wide+2*layMargin*s.letters, words)
	s.written("", point{s.wide / 2, y}, 0, size, words)
}

// top draws the cloth's far end, or where it is torn off, and how much the lay takes.
func (s *laySheet) top() {
	takes := s.lay.Takes.Length
	if s.torn {
		s.shape("torn", "", false, s.tear()...)
	} else {
		s.shape("end", "", false, point{0, 0}, point{s.wide, 0})
	}
	line := s.on(0, takes).y
	if line > 0.2*s.letters {
		s.shape("takes", fmt.Sprintf(`stroke-dasharray="%.1f %.1f"`, s.letters/2, s.letters/3), false, point{0, line}, point{s.wide, line})
	}
	s.beside(-0.9*s.letters, "the lay takes "+fitting.ToMark(takes)+" of the length")
}

// tear is a zigzag across the cloth.
func (s *laySheet) tear() []point {
	const teeth = 24
	var zigzag []point
	for i := range teeth + 1 {
		zigzag = append(zigzag, point{s.wide * float64(i) / teeth, 0.4 * s.letters * float64(i%2)})
	}
	return zigzag
}
