package orders

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestUnderstandWeighsAnAnswerAgainstTheOthers(t *testing.T) {
	nape, before := question(t, "nape"), Answers{"girth": {Value: "570.0 571.0 572.0"}}
	short := Said{Text: []string{"19", "19.1", "19"}}
	_, p := nape.Understand(short, before, wednesday)
	require.NotNil(t, p, "19 cm does not go with 57")
	assert.Equal(t, "nape", p.Key)
	assert.True(t, p.Confirmable, "she may know better")
	_, wanted := before["nape"]
	assert.False(t, wanted, "what was weighed is not kept yet")

	short.Sure = true
	kept, p := nape.Understand(short, before, wednesday)
	require.Nil(t, p, "she is sure")
	assert.Equal(t, Answer{Value: "190.0 191.0 190.0", Said: "19; 19.1; 19", Confirmed: true}, kept)

	before["nape"], short.Sure = kept, false
	again, p := nape.Understand(short, before, wednesday)
	require.Nil(t, p, "said again unchanged it is not asked about again")
	assert.Equal(t, kept, again)
	_, p = nape.Understand(Said{Text: []string{"19", "19", "19"}}, before, wednesday)
	assert.NotNil(t, p, "another value is")

	plain, p := nape.Understand(Said{Text: []string{"23", "23", "23"}, Sure: true}, before, wednesday)
	require.Nil(t, p)
	assert.False(t, plain.Confirmed, "what was never in doubt does not count as confirmed")
	girth := question(t, "girth")
	_, p = girth.Understand(Said{Text: []string{"61", "61", "61"}}, Answers{"nape": {Value: "210.0"}}, wednesday)
	assert.Nil(t, p, "the doubt stands beside the other tape, so that one question is not asked at two")
}
