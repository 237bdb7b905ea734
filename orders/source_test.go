package orders

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A hat size is kept with half a step of doubt beside a tape's own, which reaches the hat's figures.
func TestAHatSizeIsCoarserThanATapeToTheEnd(t *testing.T) {
	s, _ := newStore(t)
	q := question(t, "girth")
	for typed, step := range map[string]float64{"7 1/8 US": 25.4 * math.Pi / 8, "UK 7": 25.4 * math.Pi / 8, "taille française 5": 10, "57 EU": 10} {
		a, p := q.Parse(Said{Text: []string{"6 7/8 US", typed}, Enough: true}, intakeDay)
		require.Nil(t, p, "%s: %s", typed, said(p))
		assert.True(t, a.Source.HatSize, "%s is no tape", typed)
		_, sd := a.Doubt()
		assert.InDelta(t, math.Sqrt(36+9+step*step/4), sd, 1e-9, "a tape laid once, and half a step: %s", typed)
		assert.Contains(t, q.Show(a), "coarser than a tape: give or take 1.7 cm", "and she is told: %s", typed)
	}
	bySize, p := q.Parse(Said{Text: []string{"7 1/8 US"}, Enough: true}, intakeDay)
	require.Nil(t, p)
	d := begun(t, s, nil)
	_, err := s.Answer(ctx, d.ID, "girth", bySize)
	require.NoError(t, err)
	c, err := s.Send(ctx, d.ID)
	require.NoError(t, err)
	cards, err := s.Cards(ctx, c.ID)
	require.NoError(t, err)
	require.Len(t, cards, 1)
	assert.Equal(t, map[string]Source{"girth": bySize.Source}, cards[0].Sources, "the card says so")
	coarse, err := s.Fitted(ctx, c.ID)
	require.NoError(t, err)
	require.NotNil(t, coarse.Input.Measures.Doubts.Girth)

	byTape, p := q.Parse(Said{Text: []string{"568.5 mm"}, Enough: true}, intakeDay)
	require.Nil(t, p)
	_, err = s.Answer(ctx, d.ID, "girth", byTape)
	require.NoError(t, err)
	fine, err := s.Fitted(ctx, c.ID)
	require.NoError(t, err)
	assert.Nil(t, fine.Input.Measures.Doubts.Girth, "a tape takes its place")
	assert.Greater(t, coarse.Proposal.Result.Elastic.PlusMinus, fine.Proposal.Result.Elastic.PlusMinus, "the same girth, and the elastic is less sure")
}

func TestWhatTheMakerTapesTakesThePlaceOfAHatSize(t *testing.T) {
	client := MeasureCard{TakenBy: ByClient, Girth: []float64{568.5}, NapeToCrown: []float64{230}, Sources: map[string]Source{"girth": hatSizeSource(10)}}
	mine := MeasureCard{TakenBy: ByMaker, Girth: []float64{571}, NapeToCrown: []float64{231}}
	for _, cards := range [][]MeasureCard{{client, mine}, {mine, client}} {
		force := merge(cards)
		assert.Equal(t, mine.Girth, force.Girth)
		assert.Empty(t, force.Sources, "her own tape is a tape")
	}
	mine.Girth = nil
	assert.Equal(t, client.Sources, merge([]MeasureCard{mine, client}).Sources, "what she did not tape stays a hat size")
	assert.Equal(t, map[string]Source{"girth": hatSizeSource(10)}, client.Sources, "and no card was changed")
}
