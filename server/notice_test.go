package server

import (
	"net/http"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/orders"
)

func TestAReturningClientIsAskedAnewWhenTheNoticeHasChanged(t *testing.T) {
	s := newClientSite(t)
	base := s.begin()
	s.see(base + "/ask/you")
	require.NoError(t, s.store.SaveKeeping(t.Context(), orders.Keeping{Months: 7, DraftDays: 60}))
	for _, page := range []string{"/ask/you", "/check", "/more"} {
		assert.Equal(t, base+"/notice", s.get(base+page).location, "%s waits for her yes", page)
	}
	for _, page := range []string{"", "/kept", "/erase", "/copy"} {
		assert.Equal(t, http.StatusOK, s.get(base+page).status, "%q is hers without a new yes", page)
	}
	page := s.see(base + "/notice")
	shows(t, page, "has changed")
	shows(t, page, "7 months after it was handed over")
	assert.Equal(t, base+"/notice", s.post(base+"/notice", nil).location, "no yes is no yes")
	assert.Equal(t, base+"/notice", s.get(base+"/check").location)
	s.post(base+"/notice", say("privacy", "yes"))
	s.see(base + "/check")
	d := s.draft(base)
	agreed, err := s.store.AgreedTo(t.Context(), d.ID)
	require.NoError(t, err)
	assert.Contains(t, agreed.Wording, "7 months")
	assert.Equal(t, 2, agreed.Version)
}

func TestANoteIsKeptWithTheWordingOfItsConsent(t *testing.T) {
	s := newClientSite(t)
	base := s.begin()
	s.answerAll(base)
	s.post(base+"/ask/health_consent", say("health_consent", "yes"))
	all, err := s.store.Consents(t.Context(), s.draft(base).ID)
	require.NoError(t, err)
	require.Len(t, all, 2)
	assert.Equal(t, "health_consent", all[1].Question)
	assert.Contains(t, all[1].Wording, "can be erased by itself")
}
