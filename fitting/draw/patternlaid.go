package draw

// laid is a piece with its place in the book.
type laid struct {
	piece
	grid
	numbers []int // of its pages, row by row; 0 where there would be nothing on it
	block   point // the title block's place on the piece's paper
	shift   point // where the drawing's own nought lies there
}

// layOut gives each piece its pages.
func (b *book) layOut(pieces []piece) []laid {
	var all []laid
	for _, p := range pieces {
		l := b.on.lay(p)
		for row := range l.rows {
			for column := range l.columns {
				number := 0
				if l.used(column, row) {
					b.pages++
					number = b.pages
				}
				l.numbers = append(l.numbers, number)
			}
		}
		all = append(all, l)
	}
	return all
}

// lay places a piece and its title block on as much paper as they need.
func (s sheet) lay(p piece) laid {
	l := laid{piece: p}
	size := p.size
	if p.beside {
		l.block.x = size.width() + blockGap
		l.shift = point{-size.left, -size.top}
		l.grid = s.gridFor(l.block.x+blockWide, max(size.height(), blockHigh))
		return l
	}
	middle, right := l.under(s, 0.5), l.under(s, 1)
	if right.pages() < middle.pages() {
		return right
	}
	return middle
}

// under places the piece under its title block, some part of the free width from
// the left, and as far up as the block lets it: it may have a free corner.
func (l laid) under(s sheet, part float64) laid {
	size := l.size
	wide, high := max(size.width(), blockWide), size.height()+blockHigh+blockGap
	for up := 0.0; up <= blockHigh+blockGap; up++ {
		g := s.gridFor(wide, high-up)
		shift := point{part*(g.whole().width()-size.width()) - size.left, high - up - size.height() - size.top}
		if up > 0 && l.blocked(shift, g.tile.x-overlap) {
			break
		}
		l.grid, l.shift = g, shift
	}
	return l
}

// pages counts those that are printed.
func (l laid) pages() int {
	n := 0
	for i := range l.columns * l.rows {
		if l.used(i%l.columns, i/l.columns) {
			n++
		}
	}
	return n
}

// blocked says whether the piece, so shifted, would come under the title block.
func (l laid) blocked(shift point, wide float64) bool {
	const step = 2 * near
	for x := 0.0; x <= wide; x += step {
		for y := 0.0; y <= blockHigh+blockGap-near; y += step {
			if l.covers(point{x, y}.minus(shift)) {
				return true
			}
		}
	}
	return false
}

func (l laid) number(column, row int) int { return l.numbers[row*l.columns+column] }

// used says whether something of the piece lies on a page's own part, up to its
// seams. The first page is always used: it has the title block.
func (l laid) used(column, row int) bool {
	const step = 2 * near // no piece is narrower, by covers
	own := l.at(column, row).grown(-overlap / 2)
	for x := own.left; x <= own.right; x += step {
		for y := own.top; y <= own.bottom; y += step {
			if l.covers(point{x, y}.minus(l.shift)) {
				return true
			}
		}
	}
	return column == 0 && row == 0
}

// apart says whether neither the piece nor the title block lies near p.
func (l laid) apart(p point) bool { return !l.covers(p.minus(l.shift)) && l.clear(p) }

// clear says whether no edge of the piece lies near p, nor the title block.
func (l laid) clear(p point) bool {
	const around = 7.0
	inside := l.covers(p.minus(l.shift))
	for i := range 8 {
		if l.covers(p.plus(up(float64(i)*quarter/2).times(around)).minus(l.shift)) != inside {
			return false
		}
	}
	return p.y > blockHigh+around || p.x > l.block.x+blockWide+around
}
