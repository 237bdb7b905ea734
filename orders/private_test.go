package orders

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// healthNote gives a consent and a note to a draft or to a commission's.
func healthNote(t testing.TB, s *Store, draftID string) {
	t.Helper()
	for _, a := range []struct{ key, value string }{{"health_consent", Yes}, {"health", "latex makes me itch"}} {
		_, err := s.Answer(ctx, draftID, a.key, Answer{Value: a.value, Said: a.value})
		require.NoError(t, err, a.key)
	}
}

// traces counts the rows of answers and amendments that tell of the note.
func traces(t *testing.T, s *Store, draftID string) (n int64) {
	t.Helper()
	for table, where := range map[string]string{"answers": "value <> ''", "amendments": "true"} {
		var rows int64
		require.NoError(t, s.reads(ctx).Table(table).Where("draft_id = ? and question = ? and "+where, draftID, "health").Count(&rows).Error)
		n += rows
	}
	return n
}

func TestTakingTheConsentBackErasesTheNote(t *testing.T) {
	s, _ := newStore(t)
	unsent, c := begun(t, s, nil).ID, sent(t, s, nil)
	for when, draftID := range map[string]string{"before sending": unsent, "after sending": c.DraftID} {
		healthNote(t, s, draftID)
		require.EqualValues(t, 1, traces(t, s, draftID), "%s: it stands in one place", when)
		d, err := s.Answer(ctx, draftID, "health_consent", Answer{Said: "no"})
		require.NoError(t, err, when)
		assert.NotContains(t, d.Answers, "health", when)
		d, err = s.Draft(ctx, draftID)
		require.NoError(t, err)
		assert.NotContains(t, d.Answers, "health", "%s: the stored one too", when)
		assert.Equal(t, "no", d.Answers["health_consent"].Said, "%s: her no is kept", when)
		assert.Zero(t, traces(t, s, draftID), "%s: no trace is left", when)
	}
}

func TestTheNoteIsErasedByItself(t *testing.T) {
	s, _ := newStore(t)
	c := sent(t, s, nil)
	healthNote(t, s, c.DraftID)
	q := question(t, "health")
	d, err := s.Answer(ctx, c.DraftID, "health", q.Skip())
	require.NoError(t, err)
	assert.Equal(t, Yes, d.Answers["health_consent"].Value, "nothing else goes with it")
	assert.Zero(t, traces(t, s, c.DraftID))
}

func TestNoNoteWithoutItsConsent(t *testing.T) {
	s, _ := newStore(t)
	c := sent(t, s, nil)
	_, err := s.Answer(ctx, c.DraftID, "health", Answer{Value: "latex", Said: "latex"})
	problem(t, err, "health_consent")
	assert.Zero(t, traces(t, s, c.DraftID))
}

func TestMirroredIsAskedOnlyOfPhotographs(t *testing.T) {
	q := question(t, "mirrored")
	assert.False(t, q.Applies(Answers{}), "without any")
	assert.False(t, q.Applies(Answers{"photographs": {}}), "when she has left them out")
	assert.True(t, q.Applies(Answers{"photographs": {Value: "a b"}}))
}

func TestANoteOfFaithNeedsItsOwnYes(t *testing.T) {
	s, _ := newStore(t)
	c := sent(t, s, nil)
	healthNote(t, s, c.DraftID)
	_, err := s.Answer(ctx, c.DraftID, "faith", Answer{Value: "a scarf under it", Said: "a scarf under it"})
	problem(t, err, "faith_consent")
	for key, value := range map[string]string{"faith_consent": Yes} {
		_, err = s.Answer(ctx, c.DraftID, key, Answer{Value: value, Said: value})
		require.NoError(t, err)
	}
	_, err = s.Answer(ctx, c.DraftID, "faith", Answer{Value: "a scarf under it", Said: "a scarf under it"})
	require.NoError(t, err)
	d, err := s.Answer(ctx, c.DraftID, "faith_consent", Answer{Said: "no"})
	require.NoError(t, err)
	assert.Empty(t, d.Answers["faith"])
	assert.NotEmpty(t, d.Answers["health"].Value, "the note on health stays")
	require.False(t, strings.Contains(onDisk(t, s), "a scarf under it"), "it is still in the file")
}
