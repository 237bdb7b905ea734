package fitting

import (
	"errors"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestTapesThatAgreeAndOnesThatDoNot(t *testing.T) {
	head, err := NewHead(Measures{Girth: new(Length(570)), NapeToCrown: new(Length(228))})
	require.NoError(t, err)
	ears := head.EarToEar(SexUnknown)
	taken := func(girth, nape, ear Length) Measures {
		return Measures{Girth: &girth, NapeToCrown: &nape, EarToEar: &ear, TakenBy: Client, Readings: 3}
	}
	c, err := CheckTapes(taken(570, 228, ears))
	require.NoError(t, err)
	assert.True(t, c.Agree(), "a head's own tapes are %.2f off", c.Off)
	assert.InDelta(t, 0, c.Off, 1e-6)
	for _, wrong := range []Length{-40, 40} {
		c, err = CheckTapes(taken(570, 228, ears+wrong))
		require.NoError(t, err)
		assert.False(t, c.Agree(), "%+.0f mm is off", wrong)
		assert.Equal(t, "measures.ear_to_ear_mm", c.Field)
		assert.Equal(t, ears+wrong, c.Taken)
		assert.InDelta(t, ears.Millimetres(), c.Others.Millimetres(), 1, "the other two make it what it is")
	}
	c, err = CheckTapes(Measures{Girth: new(Length(570)), NapeToCrown: new(Length(228))})
	require.NoError(t, err)
	assert.True(t, c.Agree() && c.Field == "", "two tapes check nothing")

	_, err = CheckTapes(taken(570, 120, ears))
	var refused Refusal
	require.True(t, errors.As(err, &refused), "no head is as flat as that")
	assert.Equal(t, "measures.nape_to_crown_mm", refused.Field)
}

// What the check names is what the cautions name.
func TestTheCheckIsTheCautions(t *testing.T) {
	for _, ear := range []Length{310, 325, 347, 370, 385} {
		m := Measures{Girth: new(Length(570)), NapeToCrown: new(Length(228)), EarToEar: &ear, TakenBy: Client, Readings: 3}
		c, err := CheckTapes(m)
		require.NoError(t, err)
		tp, err := readTapes(m)
		require.NoError(t, err)
		spoken := false
		for _, n := range aboutHead(m, tp, tp.head()) {
			spoken = spoken || n.Field == c.Field
		}
		assert.Equal(t, !c.Agree(), spoken, "ear to ear of %.0f mm", ear)
	}
}
