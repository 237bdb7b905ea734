package draw

import (
	"fmt"
	"io"
	"time"

	"codeberg.org/go-pdf/fpdf"

	"perchbook/fitting"
)

// PaperTapeWords are what stands on a paper tape, in the reader's language. The PDF's own fonts print
// Latin letters only.
type PaperTapeWords struct {
	Language, Title string
	Card            string   // within the rectangle
	Steps           []string // what to do, in order
	Glue            string   // on each flap
}

// The sheet of a paper tape, in mm. Four strips are longer than the greatest head that the engine
// takes; both papers have room for them.
const (
	strips    = 4
	stripLong = 200.0
	stripWide = 20.0
	stripGap  = 4.0
	flapLong  = 15.0
	stripTop  = 14.0 // below the margin
	cardLeft  = strips*(stripWide+stripGap) + 8
)

// A card of ISO/IEC 7810, size ID-1, as banks give out.
const cardWide, cardHigh = 85.60, 53.98

// PaperTape writes a tape measure to print, cut out and glue, as a PDF of one page at full size: centimetres
// along one edge and inches along the other, from 0 to 80 cm, and a rectangle as large as a bank card to
// check the printing by. It fails when w does, and with ErrNoPaper.
func PaperTape(w io.Writer, paper Paper, words PaperTapeWords) error {
	on, known := sheets[paper]
	if !known {
		return ErrNoPaper
	}
	pdf := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: on.width, Ht: on.height}})
	pdf.SetCreationDate(time.Unix(0, 0).UTC()) // the same page gives the same bytes
	pdf.SetModificationDate(time.Unix(0, 0).UTC())
	pdf.SetCatalogSort(true)
	pdf.SetProducer("Perchbook", false)
	pdf.SetTitle(words.Title, true)
	pdf.SetLang(words.Language)
	pdf.SetMargins(0, 0, 0)
	pdf.SetAutoPageBreak(false, 0)
	pdf.AddPage()
	area := on.area()
	page := leaf{pdf, pdf.UnicodeTranslatorFromDescriptor(""), 1, point{area.left, area.top}, area}
	page.write(serif(20), point{0, 8}, words.Title)
	for i := range strips {
		page.moved(point{float64(i) * (stripWide + stripGap), stripTop}).strip(i, words.Glue)
	}
	page.moved(point{cardLeft, stripTop}).card(words, area.width()-cardLeft)
	return pdf.Output(w)
}

// strip draws one strip from its upper end: centimetres along its left edge, inches along its right one, and
// a flap on which the next strip is glued.
func (l leaf) strip(number int, glue string) {
	from := float64(number) * stripLong
	end := stripLong
	if number < strips-1 {
		end += flapLong
		l.write(sans(6.5), point{1.5, stripLong + 6}, fmt.Sprintf("%d", number+2))
		for i, line := range l.broken(sans(6), stripWide-3, glue) {
			l.write(sans(6), point{1.5, stripLong + 9 + 2.4*float64(i)}, line)
		}
	}
	l.line(nib{0.2, nil, 0}, point{0, 0}, point{stripWide, 0}, point{stripWide, end}, point{0, end}, point{0, 0})
	l.line(dashed, point{0, stripLong}, point{stripWide, stripLong})
	l.write(bold(7), point{6, 3.4}, fmt.Sprint(int(from)/10))
	for mm := 1; mm < int(stripLong); mm++ {
		long := 2.2
		if mm%5 == 0 {
			long = 3.6
		}
		if mm%10 == 0 {
			long = 5.5
			l.write(bold(7), point{long + 0.5, float64(mm) + 0.35*bold(7).high()}, fmt.Sprint((int(from)+mm)/10))
		}
		l.line(nib{0.15, nil, 0}, point{0, float64(mm)}, point{long, float64(mm)})
	}
	l.inches(from)
}

// inches are along the right edge, in eighths.
func (l leaf) inches(from float64) {
	eighth := fitting.Inch.Millimetres() / 8
	for n := int(from/eighth) + 1; float64(n)*eighth < from+stripLong; n++ {
		y, long := float64(n)*eighth-from, 2.0
		switch {
		case n%8 == 0:
			long = 5.5
			f := sans(7)
			words := fmt.Sprint(n / 8)
			l.write(f, point{stripWide - long - 0.5 - l.width(f, words), y + 0.35*f.high()}, words)
		case n%4 == 0:
			long = 4
		case n%2 == 0:
			long = 3
		}
		l.line(nib{0.15, nil, 0}, point{stripWide - long, y}, point{stripWide, y})
	}
}

// card draws the rectangle to check by, and what to do under it.
func (l leaf) card(words PaperTapeWords, wide float64) {
	l.line(nib{0.2, nil, 0}, point{0, 0}, point{cardWide, 0}, point{cardWide, cardHigh}, point{0, cardHigh}, point{0, 0})
	for i, line := range l.broken(sans(9), cardWide-10, words.Card) {
		l.centre(sans(9), point{cardWide / 2, cardHigh/2 - 4 + 4.5*float64(i)}, line)
	}
	y := cardHigh + 4
	for i, step := range words.Steps {
		l.write(bold(10), point{0, y + lineApart*bold(10).high()}, fmt.Sprintf("%d", i+1))
		y = l.moved(point{6, 0}).paragraphs(sans(10), point{0, y}, min(wide, cardWide)-6, []string{step}) + 1.5
	}
}
