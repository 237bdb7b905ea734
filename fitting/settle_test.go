package fitting

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func baseReason(t *testing.T, in Input) (Result, string) {
	r, err := Fit(in)
	require.NoError(t, err)
	require.Equal(t, "hat.base_mm", r.Reasons[0].Field)
	return r, r.Reasons[0].Says
}

func TestBaseLandsOnABlock(t *testing.T) {
	in := wearers()["round face at the races"] // with a rule of 4 in
	free, says := baseReason(t, in)
	wanted := free.Base.Diameter
	require.Nil(t, free.Base.Block)
	require.NotContains(t, says, "block")
	for name, row := range map[string]struct {
		blocks []Length
		want   Length // 0: freehand
	}{
		"the nearest of three": {[]Length{wanted - 12, wanted + 2, wanted + 9}, wanted + 2},
		"not under the rule":   {[]Length{101, wanted + 15}, wanted + 15},
		"none near":            {[]Length{60, 180}, 0},
		"only one that cannot be used for the hats": {[]Length{250}, 0},
	} {
		in.Workroom.Blocks = row.blocks
		r, says := baseReason(t, in)
		if row.want == 0 {
			assert.Equal(t, wanted, r.Base.Diameter, name)
			assert.Nil(t, r.Base.Block, name)
			assert.Contains(t, says, "freehand: on no block", name)
			continue
		}
		require.NotNil(t, r.Base.Block, name)
		assert.Equal(t, row.want, *r.Base.Block, name)
		assert.Equal(t, row.want, r.Base.Diameter, name)
		assert.Contains(t, says, inCentimetres(row.want)+" (", name)
		assert.Contains(t, says, "on a block of the workroom's; freehand it would be "+inCentimetres(wanted), name)
		assert.GreaterOrEqual(t, r.View.Ahead, clearView, name)
		assert.GreaterOrEqual(t, r.Placement.TapeLineToRim, clearBrow, name)
	}
}

// Another base is another hat: the other figures are advised anew for it.
func TestHatIsAdvisedForItsBlock(t *testing.T) {
	in := wearers()["nothing said"]
	free, _ := baseReason(t, in)
	in.Workroom.Blocks = []Length{free.Base.Diameter - 15}
	landed, _ := baseReason(t, in)
	assert.NotEqual(t, free.Brim.Slope, landed.Brim.Slope)
	in.Workroom.Blocks, in.Hat.Base = nil, landed.Base.Block
	given, err := Fit(in)
	require.NoError(t, err)
	assert.InDelta(t, float64(given.Brim.Slope), float64(landed.Brim.Slope), 1e-4, "as when that base is given")
}

func TestGivenBaseKnowsItsBlock(t *testing.T) {
	in := readCase(t, "right-tilt-steep-brim")
	in.Workroom.Blocks = []Length{100, 120}
	r, err := Fit(in)
	require.NoError(t, err)
	require.NotNil(t, r.Base.Block)
	require.Equal(t, Length(120), *r.Base.Block)
	in.Workroom.Blocks = []Length{100, 121}
	r, err = Fit(in)
	require.NoError(t, err)
	require.Nil(t, r.Base.Block)
	for _, wrong := range []Length{-1, 0, 10, 500} {
		in.Workroom.Blocks = []Length{wrong}
		_, err = Fit(in)
		requireRefused(t, err, "workroom.blocks_mm")
	}
}

func TestSideByTheWorkroomsCustom(t *testing.T) {
	in := wearers()["nothing said"]
	in.Workroom.Side = Left
	assert.Contains(t, reasonsOf(t, in)["hat.sideways_deg"], "to her own left, by the workroom's custom")
	in.Hair.Parting = PartedRight
	assert.Contains(t, reasonsOf(t, in)["hat.sideways_deg"], "to her own right, where her hair is parted")
	in.Hair.Parting, in.Workroom.Side = "", Right
	assert.Contains(t, reasonsOf(t, in)["hat.sideways_deg"], "to her own right, by tradition")
	in.Workroom.Side = Middle
	_, err := Fit(in)
	requireRefused(t, err, "workroom.side")
}
