package orders

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The line is read in the order in which it is asked, with the hour that is offered now and until when.
func TestTheLineOfThoseWhoWait(t *testing.T) {
	s, clock := newStore(t)
	c := sent(t, s, nil)
	first, second := sent(t, s, nil), sent(t, s, nil)
	far := friday.AddDate(0, 0, 14)
	a := booked(t, s, c, far)
	require.NoError(t, s.WaitFor(ctx, first.ID, Fitting, InPerson))
	clock.add(time.Hour)
	require.NoError(t, s.WaitFor(ctx, second.ID, Fitting, ByVideo))
	line := func(most int) ([]Turn, int) {
		list, total, err := s.WaitLine(ctx, most)
		require.NoError(t, err)
		return list, total
	}
	list, total := line(1)
	require.Len(t, list, 1)
	assert.Equal(t, 2, total, "how many wait in all")
	assert.Nil(t, list[0].Offer, "nothing has fallen free yet")

	_, err := s.CancelHers(ctx, c.ID, a.ID)
	require.NoError(t, err)
	list, _ = line(5)
	require.Len(t, list, 2)
	assert.Equal(t, []string{first.ID, second.ID}, []string{list[0].CommissionID, list[1].CommissionID}, "who came first is asked first")
	assert.Equal(t, first.Number, list[0].CommissionNumber)
	assert.Equal(t, first.ClientName, list[0].ClientName)
	assert.Equal(t, Wait{Fitting, ByVideo, clock.now().UTC()}, list[1].Wait)
	require.NotNil(t, list[0].Offer, "the freed hour is offered to the first")
	assert.Nil(t, list[1].Offer, "and to nobody else")
	assert.True(t, list[0].Offer.Start.Equal(far), "offered %s", list[0].Offer.Start)
	assert.True(t, list[0].Offer.Expires.Equal(clock.now().Add(OfferedFor)), "offered until %s", list[0].Offer.Expires)

	clock.add(OfferedFor)
	list, _ = line(5)
	assert.Nil(t, list[0].Offer, "an offer that has expired is none, swept away or not")
	require.NoError(t, s.PassOffers(ctx))
	list, _ = line(5)
	require.NotNil(t, list[1].Offer, "it has passed to the next")
}

func TestHeldHoursOfAWeek(t *testing.T) {
	s, clock := newStore(t)
	c := sent(t, s, nil)
	hold := held(t, s, c, friday)
	hours := func(from time.Time) []HeldHour {
		list, err := s.HeldHours(ctx, from, from.AddDate(0, 0, 7))
		require.NoError(t, err)
		return list
	}
	list := hours(friday.AddDate(0, 0, -3))
	require.Len(t, list, 1)
	assert.Equal(t, HeldHour{hold, c.Number, c.ClientName}, list[0])
	assert.Empty(t, hours(hold.End), "another week")
	assert.Len(t, hours(hold.End.Add(-time.Minute)), 1, "one that runs into the week")
	clock.add(HeldFor)
	assert.Empty(t, hours(friday.AddDate(0, 0, -3)), "kept no longer")
}
