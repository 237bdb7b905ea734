package server

import (
	"net/http"
	"net/url"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/orders"
)

// goodPace is the form as a milliner would fill it in.
func goodPace(more ...string) url.Values {
	v := say("version", "0", "deposit_days", "7", "cloth_days", "21", "making_days", "4", "drying_days", "1", "finishing_days", "2", "posting_days", "5",
		"spare_days", "3", "week", "22,5", "left-agreed", "8", "left-in-hand", "5:30", "left-fitting", "2", "left-finishing", "1", "rush_fee", "60")
	for name, values := range say(more...) {
		v[name] = values
	}
	return v
}

func TestThePaceIsKeptAndShown(t *testing.T) {
	b := signedInBench(t)
	shows(t, b.see("/workroom/studio"), `href="/workroom/studio/pace"`)
	shows(t, b.see("/workroom/studio/pace"), "usual figures")
	page := b.accepted("/workroom/studio/pace", goodPace())
	hides(t, page, "usual figures")
	p, err := b.store.Pace(t.Context())
	require.NoError(t, err)
	assert.Equal(t, 1350, p.WeekMinutes)
	assert.Equal(t, 330, p.Left[orders.InHand])
	assert.Equal(t, orders.Amount(6000), p.RushFee)
	assert.Equal(t, orders.Currency("EUR"), p.Currency)
	for _, typed := range []string{`value="22.5"`, `value="5.5"`, `value="60.00"`, `value="21"`} {
		shows(t, page, typed)
	}
	shows(t, b.refused(http.StatusConflict, "/workroom/studio/pace", goodPace()), "Somebody changed the settings meanwhile")
}

func TestFiguresThatCannotBeMeantStandBesideTheirField(t *testing.T) {
	b := signedInBench(t)
	for key, typed := range map[string][]string{
		"cloth_days":     {"-1", "121", "NaN", "1e9", "", "three", "2.5", "99999999999999999999"},
		"week":           {"-4", "169", "NaN", "Inf", "7:60", "7:5", "1.5:30", "four", "999999999999"},
		"left-fitting":   {"-1", "201", "nan", "9"},
		"rush_fee":       {"-1", "1e3", "NaN", "99999999999", "1,280"},
		"finishing_days": {"∞"},
	} {
		for _, what := range typed {
			page := b.refused(http.StatusUnprocessableEntity, "/workroom/studio/pace", goodPace(key, what))
			shows(t, page, `id="f-`+key+`-problem"`)
			if what != "" {
				shows(t, page, `value="`+what+`"`)
			}
		}
	}
	p, err := b.store.Pace(t.Context())
	require.NoError(t, err)
	assert.Zero(t, p.Version, "nothing was kept")
}

// A client is told the truth about her day, kindly, and only once the milliner has set her lead times.
func TestAClientIsToldWhetherThereIsTime(t *testing.T) {
	s := newClientSite(t)
	s.studio()
	hat, c := s.sent() // on 1 March for 12 June 2027
	hides(t, s.see(hat), "There is time")
	p, err := s.store.Pace(t.Context())
	require.NoError(t, err)
	p.WeekMinutes, p.RushFee = 60*60, 6000
	p, err = s.store.SavePace(t.Context(), p)
	require.NoError(t, err)
	shows(t, s.see(hat+"?arrived=1"), "There is time to make it: you and the studio should have agreed by")
	p.WeekMinutes = 3 * 60
	p, err = s.store.SavePace(t.Context(), p)
	require.NoError(t, err)
	shows(t, s.see(hat), "The weeks before your day are full. It can say yes with a rush fee of EUR 60.00, or it has to say no.")
	s.now = time.Date(2027, 5, 10, 9, 0, 0, 0, time.UTC)
	shows(t, s.see(hat), "Your day is near.")
	s.now = time.Date(2027, 6, 9, 9, 0, 0, 0, time.UTC)
	shows(t, s.see(hat), "please don’t count on it")
	s.now = time.Date(2027, 6, 13, 9, 0, 0, 0, time.UTC)
	hides(t, s.see(hat), `class="truth"`)
	_ = c
}

func TestTheCommissionShowsItsLatestDates(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, map[string]string{"day": "2026-06-06"})
	plan := group(t, b.see(room(c)), "plan")
	shows(t, plan, "Late. It should have been agreed by")
	shows(t, plan, "▲ missed")
	shows(t, plan, "usual lead times")
	b.accepted("/workroom/studio/pace", goodPace())
	plan = group(t, b.see(room(c)), "plan")
	shows(t, plan, "Say no, or ask for the rush fee.")
	hides(t, plan, "usual lead times")
	open := b.enquiry(orders.DoorWeb, map[string]string{"day": orders.NotFixed})
	hides(t, b.see(room(open)), `id="plan"`)
}
