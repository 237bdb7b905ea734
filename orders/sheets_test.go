package orders

import (
	"encoding/json"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/fitting"
)

func TestSignOff(t *testing.T) {
	s, _ := newStore(t)
	c := sent(t, s, nil)
	w, err := s.SaveWorking(ctx, Working{CommissionID: c.ID, Figures: hat, Note: "knot low"})
	require.NoError(t, err)
	f, err := s.Fitted(ctx, c.ID)
	require.NoError(t, err)
	sheet, err := s.SignOff(ctx, c.ID, w.Version, "Wren", "she asked for it")
	require.NoError(t, err)
	assert.Equal(t, 1, sheet.Number)
	assert.Equal(t, "Wren", sheet.SignedBy)
	assert.Equal(t, wednesday, sheet.Signed)
	assert.Equal(t, hat, sheet.Figures)
	assert.Equal(t, "knot low", sheet.Note)
	in, out, err := sheet.Read()
	require.NoError(t, err)
	assert.Equal(t, f.Settled.Result, out, "the result as she saw it")
	again, err := fitting.Solve(in)
	require.NoError(t, err, "the sheet's input needs no more advice")
	assert.InDelta(t, out.Elastic.Cut.Millimetres(), again.Result.Elastic.Cut.Millimetres(), 1e-9, "and gives the same hat again")

	sheets, err := s.Sheets(ctx, c.ID)
	require.NoError(t, err)
	require.Equal(t, []FitSheet{sheet}, sheets, "it reads back as it was signed")
	c, err = s.Commission(ctx, c.ID)
	require.NoError(t, err)
	assert.Equal(t, Proposed, c.Stage)
	history, err := s.History(ctx, c.ID)
	require.NoError(t, err)
	assert.Equal(t, Move{From: Measured, To: Proposed, By: "Wren", Why: "fit sheet 1", At: wednesday}, history[len(history)-1])
	letters, err := s.Letters(ctx, c.ClientID)
	require.NoError(t, err)
	require.Len(t, letters, 1, "the client is told")
	assert.Equal(t, ToCopy, letters[0].State)
	assert.Contains(t, letters[0].Body, "{link}")
}

func TestALaterSheetIsSaidToBeAChange(t *testing.T) {
	s, _ := newStore(t)
	c := sent(t, s, nil)
	for range 2 {
		f, err := s.Fitted(ctx, c.ID)
		require.NoError(t, err)
		_, err = s.SignOff(ctx, c.ID, f.Working.Version, "Wren", "she asked for it")
		require.NoError(t, err)
	}
	letters, err := s.Letters(ctx, c.ClientID)
	require.NoError(t, err)
	require.Len(t, letters, 2)
	assert.Contains(t, letters[0].Body, "now has a design")
	assert.Contains(t, letters[1].Body, "has changed")
}

func TestSignedOnceHoweverOftenItIsPressed(t *testing.T) {
	s, _ := newStore(t)
	c := sent(t, s, nil)
	w, err := s.SaveWorking(ctx, Working{CommissionID: c.ID, Figures: hat})
	require.NoError(t, err)
	var wait sync.WaitGroup
	failed := make([]error, 8)
	for i := range failed {
		wait.Go(func() { _, failed[i] = s.SignOff(ctx, c.ID, w.Version, "Wren", "she asked for it") })
	}
	wait.Wait()
	won := 0
	for _, err := range failed {
		if err == nil {
			won++
			continue
		}
		require.ErrorIs(t, err, ErrConflict)
	}
	require.Equal(t, 1, won, "one signature counts")
	sheets, err := s.Sheets(ctx, c.ID)
	require.NoError(t, err)
	require.Len(t, sheets, 1)
	letters, err := s.Letters(ctx, c.ClientID)
	require.NoError(t, err)
	require.Len(t, letters, 1, "and one letter is written")
}

func TestWhatIsSignedIsWhatWasLookedAt(t *testing.T) {
	s, _ := newStore(t)
	c := sent(t, s, nil)
	w, err := s.SaveWorking(ctx, Working{CommissionID: c.ID, Figures: hat})
	require.NoError(t, err)
	_, err = s.AddCard(ctx, MeasureCard{CommissionID: c.ID, TakenBy: ByMaker, Girth: []float64{590}, NapeToCrown: []float64{240}})
	require.NoError(t, err)
	_, err = s.SignOff(ctx, c.ID, w.Version, "Wren", "she asked for it")
	require.ErrorIs(t, err, ErrConflict, "a card was added since she looked")
}

func TestALaterSheetLeavesTheFormerAsItWas(t *testing.T) {
	s, _ := newStore(t)
	c := signed(t, s)
	c = walk(t, s, c, Agreed, InHand)
	first, err := s.Sheets(ctx, c.ID)
	require.NoError(t, err)
	_, err = s.Answer(ctx, c.DraftID, "girth", Answer{Value: "580.0 581.0 582.0"})
	require.NoError(t, err)
	second := settle(t, s, c)
	assert.Equal(t, 2, second.Number)
	sheets, err := s.Sheets(ctx, c.ID)
	require.NoError(t, err)
	require.Equal(t, []FitSheet{first[0], second}, sheets)
	require.NotEqual(t, first[0].Result, second.Result, "the new tape counts in the new sheet")
	c, err = s.Commission(ctx, c.ID)
	require.NoError(t, err)
	require.Equal(t, InHand, c.Stage, "the commission does not go back by itself")
	history, err := s.History(ctx, c.ID)
	require.NoError(t, err)
	require.Equal(t, Move{From: InHand, To: InHand, By: "Wren", Why: "fit sheet 2: she asked for it", At: wednesday}, history[len(history)-1])
	require.Equal(t, "she asked for it", sheets[1].Why, "the next sheet says why")
	require.Empty(t, sheets[0].Why, "the first has no former one")
}

func TestTheNextSheetNeedsAReason(t *testing.T) {
	s, _ := newStore(t)
	c := signed(t, s)
	w, err := s.working(ctx, c.ID)
	require.NoError(t, err)
	_, err = s.SignOff(ctx, c.ID, w.Version, "Wren", "  ")
	problem(t, err, "why")
	sheets, err := s.Sheets(ctx, c.ID)
	require.NoError(t, err)
	require.Len(t, sheets, 1, "nothing is signed without one")
}

func TestAChangeAfterSigningWaitsAndCanBePutBack(t *testing.T) {
	s, _ := newStore(t)
	c := walk(t, s, signed(t, s), Agreed)
	w, err := s.working(ctx, c.ID)
	require.NoError(t, err)
	w.Figures = map[string]float64{"hat.base_mm": 110}
	w, err = s.SaveWorking(ctx, w)
	require.NoError(t, err, "a change is kept beside the sheet")
	sheets, err := s.Sheets(ctx, c.ID)
	require.NoError(t, err)
	require.Equal(t, hat, sheets[0].Figures, "the signed sheet stands")
	_, err = s.Move(ctx, c.ID, c.Version, InHand, "Wren", "")
	problem(t, err, "guard") // which of the two is to be cut?
	_, err = s.PutBack(ctx, c.ID, w.Version-1)
	require.ErrorIs(t, err, ErrConflict)
	w, err = s.PutBack(ctx, c.ID, w.Version)
	require.NoError(t, err)
	require.Equal(t, hat, w.Figures)
	walk(t, s, c, InHand)
	bare := sent(t, s, nil)
	_, err = s.PutBack(ctx, bare.ID, 0)
	require.ErrorIs(t, err, ErrNotFound, "there is nothing to put back to")
}

func TestWhatCannotBeSigned(t *testing.T) {
	s, _ := newStore(t)
	for name, row := range map[string]struct {
		answers map[string]string
		figures map[string]float64
		key     string
	}{
		"a tape missing":      {map[string]string{"nape": Later}, hat, "nape"},
		"a child":             {map[string]string{"wearer": "child"}, hat, "wearer"},
		"a head that is none": {map[string]string{"nape": "320.0"}, hat, "measures.nape_to_crown_mm"},
		"figures that cannot be": {nil, map[string]float64{
			"hat.base_mm": 300, "hat.forward_deg": 18, "hat.sideways_deg": -22, "hat.brim_width_mm": 60, "hat.brim_slope_deg": 55}, "hat.base_mm"},
	} {
		c := sent(t, s, row.answers)
		w, err := s.SaveWorking(ctx, Working{CommissionID: c.ID, Figures: row.figures})
		require.NoError(t, err, name)
		_, err = s.SignOff(ctx, c.ID, w.Version, "Wren", "she asked for it")
		t.Log(name, problem(t, err, row.key).Text)
		sheets, err := s.Sheets(ctx, c.ID)
		require.NoError(t, err)
		require.Empty(t, sheets, name)
	}
	c := walk(t, s, signed(t, s), Lapsed)
	w, err := s.working(ctx, c.ID)
	require.NoError(t, err)
	_, err = s.SignOff(ctx, c.ID, w.Version, "Wren", "she asked for it")
	problem(t, err, "stage")
}

func TestASheetHoldsWholeDocuments(t *testing.T) {
	s, _ := newStore(t)
	c := sent(t, s, nil)
	sheet := settle(t, s, c)
	for name, document := range map[string][]byte{"input": sheet.Input, "proposal": sheet.Proposal, "result": sheet.Result} {
		require.True(t, json.Valid(document), "the %s is JSON", name)
	}
}
