package draw_test

import (
	"bytes"
	"io"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/fitting/draw"
)

var tapeWords = draw.PaperTapeWords{Language: "en", Title: "Paper tape", Card: "Lay a bank card here.", Steps: []string{"Print at 100 %.", "Cut."}, Glue: "glue here"}

// marks are the middles, in mm, of the short lines that cross a band x from left to right, between y and y.
func (l leaf) marks(left, right, from, to float64) []float64 {
	var all []float64
	for _, y := range l.acrossLines(int(left*pixelsPerMM), int(right*pixelsPerMM)) {
		if mm := y / pixelsPerMM; mm >= from && mm <= to {
			all = append(all, mm)
		}
	}
	return all
}

// Printed at full size each centimetre, each inch and the rectangle of a card are as long as they say, on
// paper of both kinds, read back by another program.
func TestAPaperTapeIsTrue(t *testing.T) {
	for _, paper := range []draw.Paper{draw.A4, draw.Letter} {
		var pdf bytes.Buffer
		require.NoError(t, draw.PaperTape(&pdf, paper, tapeWords))
		all := leaves(t, pdf.Bytes(), paper)
		require.Len(t, all, 1, "%s: one page", paper)
		page := all[0]
		for strip := range 4 {
			left := 10 + float64(strip)*24
			const top = 24.0
			// between 4 and 5 mm from the left edge only whole centimetres reach; from 14.5 mm on to 16 only whole inches
			cm := page.marks(left+4.2, left+5.2, top+5, top+199)
			require.Len(t, cm, 19, "%s, strip %d: centimetres", paper, strip+1)
			for i, y := range cm {
				assert.InDelta(t, top+10*float64(i+1), y, 0.1, "%s: %d cm", paper, 20*strip+i+1)
			}
			inches := page.marks(left+14.8, left+15.8, top+0.5, top+199)
			first := math.Floor(200*float64(strip)/25.4) + 1
			require.GreaterOrEqual(t, len(inches), 7, "%s, strip %d: inches", paper, strip+1)
			for i, y := range inches {
				assert.InDelta(t, top+(first+float64(i))*25.4-200*float64(strip), y, 0.1, "%s: %.0f in", paper, first+float64(i))
			}
			millimetres := page.marks(left+0.6, left+1.8, top+0.5, top+199.5)
			assert.Len(t, millimetres, 199, "%s, strip %d: millimetres", paper, strip+1)
		}
		const cardLeft = 10 + 104.0
		across := page.marks(cardLeft+30, cardLeft+32, 20, 24+60)
		require.GreaterOrEqual(t, len(across), 2)
		assert.InDelta(t, 53.98, nearestTo(across, 24+53.98)-nearestTo(across, 24), 0.1, "%s: height of the card", paper)
		down := page.turned().marks(24+45, 24+50, cardLeft-2, cardLeft+90)
		assert.InDelta(t, 85.60, nearestTo(down, cardLeft+85.60)-nearestTo(down, cardLeft), 0.1, "%s: width of the card", paper)
		for _, words := range []string{"Paper tape", "bank card", "79", "31", "glue"} {
			assert.Contains(t, page.text, words, "%s", paper)
		}
	}
	assert.ErrorIs(t, draw.PaperTape(io.Discard, "A3", tapeWords), draw.ErrNoPaper)
}

func nearestTo(all []float64, want float64) float64 {
	best := math.Inf(1)
	for _, x := range all {
		if math.Abs(x-want) < math.Abs(best-want) {
			best = x
		}
	}
	return best
}

func TestAPaperTapeIsTheSameEachTime(t *testing.T) {
	var a, b bytes.Buffer
	require.NoError(t, draw.PaperTape(&a, draw.A4, tapeWords))
	require.NoError(t, draw.PaperTape(&b, draw.A4, tapeWords))
	assert.Equal(t, a.String(), b.String())
	assert.True(t, strings.HasPrefix(a.String(), "%PDF-"))
}
