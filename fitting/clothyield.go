package fitting

import "math"

// Yield is how many hats alike a roll gives.
type Yield struct {
	Hats         int     `json:"hats"`
	Parts        int     `json:"strip_parts"` // that the longest strip is then joined of
	Unjoined     int     `json:"unjoined"`    // hats, if no strip is joined that reaches across in one
	AreaHats     int     `json:"area_hats"`   // whose pieces together are as large as the roll: no lay gives more
	UsedFraction float64 `json:"used_fraction"`
}

// YieldOf tells how many times the pieces can be cut from the cloth, by the same
// rule as [LayOf] and at least one when they fit: up to four hats are laid into
// each other, and then block after block. More cloth never gives fewer. The error
// is a [Refusal] when a size is out of bounds.
func YieldOf(pieces []Piece, cloth Cloth) (Yield, error) {
	size, err := cloth.Size()
	if err != nil {
		return Yield{}, err
	}
	if err := checkPieces(pieces); err != nil {
		return Yield{}, err
	}
	var y Yield
	all := size.Width.Millimetres() * size.Length.Millimetres()
	c := cutting{levels: levelsOf(pieces)}
	for n, l := range c.levels {
		area := l.area(pieces)
		if n == 0 {
			y.AreaHats = int(all/area + edgeSlack)
		}
		for i := range bedWidths {
			if hats := c.hats(l, i, size); hats > y.Hats {
				y.Hats, y.Parts, y.UsedFraction = hats, l.joined(), float64(hats)*area/all
			}
		}
		if n == 0 {
			y.Unjoined = y.Hats
		}
	}
	return y, nil
}

// Yield tells how many of this hat a cloth gives, with the layers and the trimming
// that in asks for. The error is a [Refusal] when a size is out of bounds.
func (s Solution) Yield(in Input, cloth Cloth) (Yield, error) {
	return YieldOf(s.Pieces(in.Hat.Layers, given(in.Hat.Trim, usualTrim)), cloth)
}

// hats that the cloth gives when the level lies on beds of the width, side by side.
func (c *cutting) hats(l *level, i int, size ClothSize) int {
	wide, across, along := l.width(i), size.Width.Millimetres()+edgeSlack, size.Length.Millimetres()+edgeSlack
	if wide > max(across, along) {
		return 0
	}
	var blocks []float64
	for m := 1; m == 1 || m <= blockHats && m*len(l.parts) <= mostPieces; m++ {
		blocks = append(blocks, c.length(l.times(m), i))
	}
	for m := len(blocks) - 2; m >= 0; m-- {
		blocks[m] = min(blocks[m], blocks[m+1])
	}
	return max(int(across/wide)*blocksIn(along, blocks), int(along/wide)*blocksIn(across, blocks))
}

// blocksIn is how many hats lie in the length, a block of m+1 of them taking
// blocks[m].
func blocksIn(length float64, blocks []float64) int {
	takes := []float64{0}
	for n := 1; ; n++ {
		least := math.Inf(1)
		for m, b := range blocks[:min(n, len(blocks))] {
			least = min(least, takes[n-m-1]+b)
		}
		if !(least <= length) {
			return n - 1
		}
		takes = append(takes, least)
	}
}

// times is the level for so many hats at once.
func (l *level) times(m int) *level {
	if m == 1 {
		return l
	}
	more := &level{least: l.least}
	for range m {
		more.parts = append(more.parts, l.parts...)
	}
	more.sort()
	return more
}

// joined is of how many parts the longest strip is.
func (l *level) joined() int {
	most := 1
	for _, p := range l.parts {
		most = max(most, p.of)
	}
	return most
}

// area of all parts in mm².
func (l *level) area(pieces []Piece) float64 {
	sum := 0.0
	for _, p := range l.parts {
		sum += p.placed(pieces[p.piece], spot{}).area()
	}
	return sum
}
