package orders

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func inEnglish(_ string, p Phrase) string { return p.String() }

func TestTheWordingThatSheAgreedToIsKept(t *testing.T) {
	s, clock := newStore(t)
	d, second := begun(t, s, nil), begun(t, s, nil)
	n, err := s.PrivacyNotice(ctx)
	require.NoError(t, err)
	first, err := s.AgreedTo(ctx, d.ID)
	require.NoError(t, err)
	assert.Equal(t, Consented{"privacy", English, n.Wording(Phrase.String), 1, wednesday}, first)
	assert.Contains(t, first.Wording, "24 months")
	same, err := s.AgreedTo(ctx, second.ID)
	require.NoError(t, err)
	assert.Equal(t, 1, same.Version, "the same words are the same version")
	old, err := s.Outdated(ctx, d.ID, inEnglish)
	require.NoError(t, err)
	require.False(t, old)

	clock.add(time.Hour)
	require.NoError(t, s.SaveKeeping(ctx, Keeping{Months: 6, DraftDays: 60}))
	old, err = s.Outdated(ctx, d.ID, inEnglish)
	require.NoError(t, err)
	require.True(t, old, "the milliner has changed what she agreed to")
	n, err = s.PrivacyNotice(ctx)
	require.NoError(t, err)
	require.NoError(t, s.Agree(ctx, d.ID, "privacy", English, n.Wording(Phrase.String)))
	now, err := s.AgreedTo(ctx, d.ID)
	require.NoError(t, err)
	assert.Equal(t, 2, now.Version, "the version rises")
	assert.Equal(t, wednesday.Add(time.Hour), now.At)
	old, err = s.Outdated(ctx, d.ID, inEnglish)
	require.NoError(t, err)
	assert.False(t, old)
	all, err := s.Consents(ctx, d.ID)
	require.NoError(t, err)
	assert.Equal(t, []Consented{first, now}, all, "what she agreed to before stays known")

	require.NoError(t, s.writes(ctx).Exec("delete from consents where draft_id = ?", second.ID).Error) // as before wordings were kept
	old, err = s.Outdated(ctx, second.ID, inEnglish)
	require.NoError(t, err)
	assert.True(t, old)
}
