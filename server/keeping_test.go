package server

import (
	"net/http"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/orders"
)

func TestTheNoticeFollowsWhatTheMillinerKeeps(t *testing.T) {
	b := signedInBench(t)
	shows(t, b.see("/begin"), "24 months after it was handed over")
	shows(t, b.see("/workroom/studio"), `href="/workroom/studio/keeping"`)
	for key, wrong := range map[string]string{"months": "0", "draft_days": "1000"} {
		typed := map[string]string{"months": "6", "draft_days": "30", key: wrong}
		page := b.refused(http.StatusUnprocessableEntity, "/workroom/studio/keeping", say("version", "0", "months", typed["months"], "draft_days", typed["draft_days"]))
		shows(t, page, `value="`+wrong+`"`)
		shows(t, page, `href="#f-`+key+`"`)
	}
	b.accepted("/workroom/studio/keeping", say("version", "0", "months", "6", "draft_days", "30"))
	assert.Equal(t, http.StatusConflict, b.post("/workroom/studio/keeping", say("version", "0", "months", "9", "draft_days", "30")).status)
	page := b.see("/begin")
	shows(t, page, "6 months after it was handed over")
	shows(t, page, "erased 30 days after the last one")
}

func TestTodayAsksWhetherMeasurementsShouldGo(t *testing.T) {
	b := signedInBench(t)
	c, second := b.enquiry(orders.DoorWeb, map[string]string{"name": "Odile Marrowby"}), b.enquiry(orders.DoorWeb, map[string]string{"name": "Pim Fennick"})
	b.photograph(c)
	shows(t, b.see(room(c)), `href="`+room(c)+`/measurements"`)
	shows(t, b.see(room(c)+"/measurements"), "under way")
	assert.Equal(t, http.StatusConflict, b.post(room(c)+"/measurements/erase", nil).status)
	recent := b.enquiry(orders.DoorWeb, nil)
	for i, com := range []orders.Commission{c, second, recent} {
		com = b.commission(com.ID)
		_, err := b.store.At(b.now.AddDate(-2, 0, 20*i-30)).Move(t.Context(), com.ID, com.Version, orders.Withdrawn, "Wren", "called off")
		require.NoError(t, err)
	}
	hers := b.hatOf(c)
	shows(t, b.see(b.hatOf(recent)+"/kept"), "That is until")
	shows(t, b.see(room(recent)+"/measurements"), "They are kept until")
	today := b.see("/workroom")
	hides(t, today, `href="`+room(recent)+`/measurements"`)
	shows(t, today, "Measurements to let go")
	shows(t, today, `href="`+room(c)+`/measurements"`)

	page := b.see(room(c) + "/measurements")
	shows(t, page, "has passed")
	shows(t, page, "1 photograph")
	shows(t, b.refused(http.StatusUnprocessableEntity, room(c)+"/measurements/keep", say("why", " ")), "Write why they are still needed")
	shows(t, b.accepted(room(second)+"/measurements/keep", say("why", "Pim wants a second hat")), "Pim wants a second hat")
	shows(t, b.see(b.hatOf(second)+"/kept"), "Pim wants a second hat")
	page = b.accepted(room(c)+"/measurements/erase", nil)
	shows(t, page, "Nothing is left to be erased")
	hides(t, b.see("/workroom"), "Measurements to let go")
	shows(t, b.see(hers+"/kept"), "Measurements of yours were erased on")
	own := b.see(hers)
	hides(t, own, "Round the head")
	hides(t, own, "Not answered yet")
	d, err := b.store.Draft(t.Context(), c.DraftID)
	require.NoError(t, err)
	assert.Empty(t, d.Answers["girth"])
	shows(t, b.see(room(c)), "Odile Marrowby")
	b.see(room(c) + "/settle")
	b.see(room(c) + "/measure")
}
