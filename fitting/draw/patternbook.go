package draw

import (
	"fmt"
	"time"

	"codeberg.org/go-pdf/fpdf"
)

// book is the document: a plan, then the pieces page by page.
type book struct {
	pdf    *fpdf.Fpdf
	on     sheet
	paper  Paper
	number string
	encode func(string) string
	pages  int // in all
}

func newBook(on sheet, o PatternOptions) *book {
	pdf := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: on.width, Ht: on.height}})
	made := o.Made.UTC()
	if o.Made.IsZero() {
		made = time.Unix(0, 0).UTC()
	}
	pdf.SetCreationDate(made)
	pdf.SetModificationDate(made)
	pdf.SetCatalogSort(true)
	pdf.SetProducer("Perchbook", false)
	pdf.SetTitle(titled("Patterns at full size", o.Number), false)
	pdf.SetLang("en")
	pdf.SetMargins(0, 0, 0)
	pdf.SetAutoPageBreak(false, 0)
	pdf.SetLineJoinStyle("round")
	return &book{pdf, on, o.Paper, o.Number, pdf.UnicodeTranslatorFromDescriptor(""), 1}
}

// titled adds the number to a title if there is one.
func titled(title, number string) string {
	if number == "" {
		return title
	}
	return title + ", " + number
}

// print adds a piece's pages.
func (b *book) print(l laid) {
	for row := range l.rows {
		for column := range l.columns {
			if l.number(column, row) > 0 {
				b.page(l, column, row)
			}
		}
	}
}

func (b *book) page(l laid, column, row int) {
	b.pdf.AddPage()
	if column == 0 && row == 0 {
		b.pdf.Bookmark(l.name, 0, -1)
	}
	area, part := b.on.area(), l.at(column, row)
	paper := leaf{b.pdf, b.encode, 1, point{area.left - part.left, area.top - part.top}, area}
	b.pdf.ClipRect(area.left, area.top, area.width(), area.height(), false)
	drawing := paper.moved(l.shift)
	paper.register(l)
	l.draw(drawing)
	l.detail(drawing, b.number)
	b.block(paper.moved(l.block), l)
	b.pdf.ClipEnd()
	tile := ""
	if l.columns*l.rows > 1 {
		tile = fmt.Sprintf(", row %d of %d, column %d of %d", row+1, l.rows, column+1, l.columns)
	}
	b.foot(titled(l.name, b.number) + tile)
}

// foot writes the line under a page.
func (b *book) foot(what string) {
	page := leaf{b.pdf, b.encode, 1, point{}, box{0, 0, b.on.width, b.on.height}}
	f, y := sans(8), b.on.height-paperMargin-0.3*sans(8).high()
	page.line(pencil, point{paperMargin, y - 4}, point{b.on.width - paperMargin, y - 4})
	page.write(f, point{paperMargin, y}, what)
	end := fmt.Sprintf("%s at 100 %%, page %d of %d", b.paper, b.pdf.PageNo(), b.pages)
	page.write(f, point{b.on.width - paperMargin - page.width(f, end), y}, end)
}
