package orders

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func three(mm string) Answer { return Answer{Value: mm + " " + mm + " " + mm} }

func TestTheThirdTapeChecksTheOthers(t *testing.T) {
	agree := Answers{"girth": three("570.0"), "nape": three("228.0"), "ear_to_ear": three("347.0")}.Agreement()
	assert.True(t, agree.Agree, agree.Text.String())
	assert.Contains(t, agree.Text.String(), "3 tapes agree")
	assert.Empty(t, agree.Again)

	off := Answers{"girth": three("570.0"), "nape": three("228.0"), "ear_to_ear": three("308.0")}.Agreement()
	assert.False(t, off.Agree)
	assert.Contains(t, off.Text.String(), "from ear to ear is about 3.8 cm (1 1/2 in) less than the others make it")
	assert.Equal(t, []string{"girth", "nape", "ear_to_ear"}, off.Again, "any of the three may be the one")
	long := Answers{"girth": three("570.0"), "nape": three("228.0"), "ear_to_ear": three("380.0")}.Agreement()
	assert.Contains(t, long.Text.String(), "more than the others make it")

	four := Answers{"girth": three("570.0"), "nape": three("228.0"), "ear_to_ear": three("347.0"), "brow_to_nape": three("410.0")}.Agreement()
	assert.Contains(t, four.Text.String(), "4 tapes do not quite agree")
	assert.Len(t, four.Again, 4)

	for name, a := range map[string]Answers{
		"nothing":               {},
		"two tapes":             {"girth": three("570.0"), "nape": three("228.0")},
		"no girth":              {"girth": once(Later), "nape": three("228.0"), "ear_to_ear": three("347.0"), "brow_to_nape": three("380.0")},
		"a head that cannot be": {"girth": three("570.0"), "nape": three("160.0"), "ear_to_ear": three("347.0")},
	} {
		assert.True(t, a.Agreement().Text.Empty(), "%s: nothing is checked", name)
	}
}

// What she kept after it was questioned stands marked on the card that the workroom reads.
func TestAKeptTapeIsMarkedOnTheCard(t *testing.T) {
	s, _ := newStore(t)
	q := question(t, "girth")
	kept, p := q.Parse(Said{Text: []string{"64", "64", "64"}, Sure: true}, intakeDay)
	require.Nil(t, p)
	d := begun(t, s, nil)
	_, err := s.Answer(t.Context(), d.ID, "girth", kept)
	require.NoError(t, err)
	c, err := s.Send(t.Context(), d.ID)
	require.NoError(t, err)
	cards, err := s.Cards(t.Context(), c.ID)
	require.NoError(t, err)
	require.Len(t, cards, 1)
	assert.True(t, cards[0].Sources["girth"].Questioned)
	assert.False(t, cards[0].Sources["nape"].Questioned, "the other was never asked about")
}
