package draw

import "math"

// sheet is a paper's size, upright, in millimetres.
type sheet struct{ width, height float64 }

var sheets = map[Paper]sheet{A4: {210, 297}, Letter: {215.9, 279.4}}

// What is kept free of a page. Most printers reach nearer to the edge than 10 mm
// (our choice).
const (
	paperMargin = 10.0
	footHigh    = 7.0  // for the line under each page
	overlap     = 10.0 // of a page with the next
)

// area is what is drawn on of a page.
func (s sheet) area() box {
	return box{paperMargin, paperMargin, s.width - paperMargin, s.height - paperMargin - footHigh}
}

// grid is how many pages a piece needs.
type grid struct {
	columns, rows int
	tile          point // size of each
}

func (s sheet) gridFor(width, height float64) grid {
	a := s.area()
	pages := func(size, tile float64) int {
		return max(1, int(math.Ceil((size-overlap)/(tile-overlap)-1e-9)))
	}
	return grid{pages(width, a.width()), pages(height, a.height()), point{a.width(), a.height()}}
}

// at is the part of the piece's paper that a page shows.
func (g grid) at(column, row int) box {
	x, y := float64(column)*(g.tile.x-overlap), float64(row)*(g.tile.y-overlap)
	return box{x, y, x + g.tile.x, y + g.tile.y}
}

// whole is all that the pages show together.
func (g grid) whole() box {
	end := g.at(g.columns-1, g.rows-1)
	return box{0, 0, end.right, end.bottom}
}

// seams are the lines, in the middle of each overlap, along which pages meet:
// down the paper and across it.
func (g grid) seams() (down, across []float64) {
	for i := 1; i < g.columns; i++ {
		down = append(down, g.at(i, 0).left+overlap/2)
	}
	for i := 1; i < g.rows; i++ {
		across = append(across, g.at(0, i).top+overlap/2)
	}
	return down, across
}
