package bot

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/orders"
)

func TestNothingMoreIsKeptBeforeAChangedNoticeIsAgreedTo(t *testing.T) {
	st := State{Begun: true, Outdated: true, Notice: "Kept for 7 months.", Answers: orders.Answers{"privacy": {Value: orders.Yes}}}
	change, said := Turn(st, Heard{Text: "57"})
	assert.Empty(t, change.Save)
	assert.Empty(t, change.Heard, "not even what was said")
	assert.False(t, change.Agree)
	require.Len(t, said, 1)
	assert.Contains(t, said[0].Text, "Kept for 7 months.")
	assert.Contains(t, said[0].Text, "has changed")

	change, said = Turn(st, Heard{Press: "no:privacy"})
	assert.False(t, change.Agree)
	assert.Contains(t, said[0].Text, "nothing more")

	change, said = Turn(st, Heard{Press: "privacy=yes"})
	assert.True(t, change.Agree)
	assert.Nil(t, change.Begin, "no second draft is begun")
	assert.Contains(t, said[0].Text, "Who will wear the hat?")
}
