package orders

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestTheMakersTapesGoBeforeTheClients(t *testing.T) {
	s, clock := newStore(t)
	c := sent(t, s, map[string]string{"ear_to_ear": "350.0"})
	clock.add(time.Hour)
	_, err := s.AddCard(ctx, MeasureCard{CommissionID: c.ID, TakenBy: ByMaker, Girth: []float64{575}})
	require.NoError(t, err)
	force, err := s.cardInForce(ctx, c.ID)
	require.NoError(t, err)
	assert.Equal(t, []float64{575}, force.Girth, "the maker's girth")
	assert.Equal(t, []float64{230, 231, 229}, force.NapeToCrown, "the client's nape tape, for want of another")
	assert.Equal(t, ByClient, force.TakenBy, "one of the needed tapes is still the client's")

	clock.add(time.Hour)
	_, err = s.AddCard(ctx, MeasureCard{CommissionID: c.ID, TakenBy: ByMaker, NapeToCrown: []float64{228.4}, HeadLength: 190.3, HeadBreadth: 150})
	require.NoError(t, err)
	_, err = s.Answer(ctx, c.DraftID, "girth", Answer{Value: "560.0"})
	require.NoError(t, err)
	force, err = s.cardInForce(ctx, c.ID)
	require.NoError(t, err)
	assert.Equal(t, []float64{575}, force.Girth, "the client's later tape does not replace the maker's")
	assert.Equal(t, []float64{228.4}, force.NapeToCrown)
	assert.Equal(t, []float64{350}, force.EarToEar, "what the maker has not taken stays")
	assert.Equal(t, ByMaker, force.TakenBy, "both needed tapes are the maker's")
	assert.InDelta(t, 190.3, force.HeadLength, 1e-9, "callipers are kept to a tenth of a millimetre")
	assert.InDelta(t, 150, force.HeadBreadth, 1e-9)
}

func TestAMakersCardMeasuresAnEnquiry(t *testing.T) {
	s, _ := newStore(t)
	c := sent(t, s, map[string]string{"girth": Later, "nape": Later})
	_, err := s.AddCard(ctx, MeasureCard{CommissionID: c.ID, TakenBy: ByMaker, Girth: []float64{575}})
	require.NoError(t, err)
	c, err = s.Commission(ctx, c.ID)
	require.NoError(t, err)
	require.Equal(t, Enquiry, c.Stage, "one tape is not enough")
	card, err := s.AddCard(ctx, MeasureCard{CommissionID: c.ID, TakenBy: ByMaker, NapeToCrown: []float64{228}, Note: " snug "})
	require.NoError(t, err)
	assert.Equal(t, "snug", card.Note)
	assert.Equal(t, wednesday, card.Taken)
	c, err = s.Commission(ctx, c.ID)
	require.NoError(t, err)
	require.Equal(t, Measured, c.Stage)
	history, err := s.History(ctx, c.ID)
	require.NoError(t, err)
	require.Equal(t, ByMaker, history[len(history)-1].By, "who measured is in the history")
}

func TestACardThatCannotBe(t *testing.T) {
	s, _ := newStore(t)
	c := sent(t, s, nil)
	for name, wrong := range map[string]struct {
		card MeasureCard
		key  string
	}{
		"nothing on it":      {MeasureCard{}, "girth"},
		"no number":          {MeasureCard{Girth: []float64{math.NaN()}}, "girth"},
		"endless":            {MeasureCard{Girth: []float64{math.Inf(1)}}, "girth"},
		"inches":             {MeasureCard{Girth: []float64{570, 22.5}}, "girth"},
		"nape too long":      {MeasureCard{NapeToCrown: []float64{900}}, "nape"},
		"ear to ear of 0":    {MeasureCard{EarToEar: []float64{0}}, "ear_to_ear"},
		"negative callipers": {MeasureCard{Girth: []float64{570}, HeadLength: -190}, "head_length"},
		"breadth of a barn":  {MeasureCard{Girth: []float64{570}, HeadBreadth: math.NaN()}, "head_breadth"},
	} {
		wrong.card.CommissionID, wrong.card.TakenBy = c.ID, ByMaker
		_, err := s.AddCard(ctx, wrong.card)
		t.Log(name, problem(t, err, wrong.key).Text)
	}
	_, err := s.AddCard(ctx, MeasureCard{CommissionID: c.ID, TakenBy: "nobody", Girth: []float64{570}})
	require.Error(t, err, "someone took it")
	_, err = s.AddCard(ctx, MeasureCard{CommissionID: newID(), TakenBy: ByMaker, Girth: []float64{570}})
	require.ErrorIs(t, err, ErrNotFound)
	cards, err := s.Cards(ctx, c.ID)
	require.NoError(t, err)
	require.Len(t, cards, 1, "none of them was kept")
}

func TestHairMeasuredOtherwiseIsNoted(t *testing.T) {
	s, _ := newStore(t)
	cards, err := s.Cards(ctx, sent(t, s, map[string]string{"hair_measured": "no"}).ID)
	require.NoError(t, err)
	require.Contains(t, cards[0].Note, "hair")
}

// What was measured, signed or done is kept by the database itself, whoever asks it.
func TestRecordsCannotBeRewritten(t *testing.T) {
	s, _ := newStore(t)
	signed(t, s)
	for _, table := range []string{"measure_cards", "fit_sheets", "moves"} {
		var rows int
		require.NoError(t, s.reads(ctx).Table(table).Select("count(*)").Scan(&rows).Error)
		require.Positive(t, rows, "%s has something to protect", table)
		err := s.writes(ctx).Exec("update " + table + " set commission_id = commission_id").Error
		require.ErrorContains(t, err, "never changed", "%s can be changed", table)
		err = s.writes(ctx).Exec("delete from " + table).Error
		require.ErrorContains(t, err, "never removed", "%s can be emptied", table)
	}
}
