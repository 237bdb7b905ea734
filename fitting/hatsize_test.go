package fitting

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// The printed table, cm to US, UK and French: its US and UK columns stand so in
// two independent charts; common practice.
var printedSizes = []struct{ cm, us, uk, french float64 }{
	{52, 6.5, 6.375, 2.5}, {53, 6.625, 6.5, 3}, {54, 6.75, 6.625, 3.5}, {55, 6.875, 6.75, 4},
	{56, 7, 6.875, 4.5}, {57, 7.125, 7, 5}, {58, 7.25, 7.125, 5.5}, {59, 7.375, 7.25, 6},
	{60, 7.5, 7.375, 6.5}, {61, 7.625, 7.5, 7}, {62, 7.75, 7.625, 7.5},
}

func TestHatSizesOfThePrintedTable(t *testing.T) {
	for _, row := range printedSizes {
		girth := Length(row.cm) * Centimetre
		for system, size := range map[SizeSystem]float64{SizeUS: row.us, SizeUK: row.uk, SizeFrench: row.french} {
			assert.InDelta(t, size, SizeOfGirth(system, girth), 1e-12, "%v cm in %s", row.cm, system)
			back, err := GirthOfSize(system, size)
			require.NoError(t, err)
			assert.InDelta(t, row.cm, back.Centimetres(), 0.5, "%s %v", system, size)
		}
	}
}

func TestHatSizeThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		girth := Length(rapid.Float64Range(460, 690).Draw(t, "girth"))
		for system, step := range map[SizeSystem]Length{SizeUS: math.Pi / 8 * Inch, SizeUK: math.Pi / 8 * Inch, SizeFrench: Centimetre} {
			back, err := GirthOfSize(system, SizeOfGirth(system, girth))
			require.NoError(t, err)
			require.LessOrEqual(t, math.Abs(float64(back-girth)), float64(step/2)+1e-9, "%s", system)
		}
	})
}

func TestHatSizeOfNoHead(t *testing.T) {
	for _, c := range []struct {
		system SizeSystem
		size   float64
	}{{SizeUS, 57}, {SizeUK, 0}, {SizeFrench, math.NaN()}, {"EU", 57}, {"", 7}, {SizeFrench, math.Inf(1)}} {
		_, err := GirthOfSize(c.system, c.size)
		requireRefused(t, err, "measures.girth_mm")
	}
	assert.True(t, math.IsNaN(SizeOfGirth("EU", 570)))
}
