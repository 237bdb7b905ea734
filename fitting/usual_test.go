package fitting

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestTheUsualIsWhatIsTakenAnyway(t *testing.T) {
	in := Input{
		Measures: Measures{Girth: new(570 * Millimetre), NapeToCrown: new(230 * Millimetre)},
		Hat:      Hat{Base: new(115 * Millimetre), Forward: new(Angle(18)), Sideways: new(Angle(-22)), BrimWidth: new(60 * Millimetre), BrimSlope: new(Angle(60))},
	}
	left, err := Fit(in)
	require.NoError(t, err)
	said, err := Fit(in.Usual())
	require.NoError(t, err)
	assert.Equal(t, left, said, "said or left out it is the same hat")
	assert.Nil(t, in.Hat.Folds, "and the input stays as it was")

	in.Elastic = Cord{Rest: new(200 * Millimetre), Loaded: new(260 * Millimetre), Load: new(0.98)}
	in.Hat.Folds = new(2)
	usual := in.Usual()
	assert.Nil(t, usual.Elastic.WorkingStretch, "a reel that was tried says its own stretch")
	assert.Equal(t, 2, *usual.Hat.Folds, "what is given stays")
}
