package orders

import (
	"encoding/json"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestACopyHoldsEverything(t *testing.T) {
	s, clock := newStore(t)
	c := lived(t, s, "Quill")
	lived(t, s, "Marsh")
	a := fitted(t, s, c, "Quill", tomorrow)
	clock.add(time.Hour)
	copied, err := s.Copy(ctx, c.ID)
	require.NoError(t, err)
	text, err := json.Marshal(copied)
	require.NoError(t, err)
	assert.NotContains(t, string(text), "Marsh", "somebody else stands in it")
	assert.NotContains(t, string(text), "null", "what there is none of is an empty list")
	var again Copy
	require.NoError(t, json.Unmarshal(text, &again))
	assert.Equal(t, copied, again, "what is read from the file is what was put in")

	assert.Equal(t, clock.now().UTC(), copied.Copied)
	assert.Equal(t, []string{"Nella Quill", "Quill@post.example"}, []string{copied.Name, copied.Reach})
	assert.Equal(t, []CopiedChat{{ChannelTelegram, "Quill"}}, copied.Chats)
	require.Len(t, copied.Commissions, 1)
	k := copied.Commissions[0]
	assert.Equal(t, c.Number, k.Number)
	assert.Equal(t, Finishing, k.Stage)
	assert.Contains(t, k.Answers, CopiedAnswer{Key: "girth", Question: question(t, "girth").Label, Said: given["girth"], Kept: given["girth"],
		Understood: "57.1 cm (22 1/2 in), the average of 57.0, 57.2 and 57.1"})
	assert.True(t, slices.ContainsFunc(k.Answers, func(a CopiedAnswer) bool { return a.Key == "health" && a.Kept != "" }), "her note on health is hers too")
	assert.NotEmpty(t, k.Changes)
	require.Len(t, k.Cards, 2)
	assert.Equal(t, []float64{575}, k.Cards[1].Girth)
	assert.Equal(t, "Quill has a tender spot", k.Cards[1].Note)
	assert.Equal(t, hat, k.Figures)
	require.Len(t, k.Sheets, 1)
	assert.Equal(t, "Quill likes it low", k.Sheets[0].Note)
	assert.Contains(t, string(k.Sheets[0].Result), "elastic")
	assert.Equal(t, []CopiedAppointment{{Fitting, InPerson, MoveAsked, "Quill can't come", a.Start, a.End, false}}, k.Appointments)
	require.Len(t, k.WaitsFor, 1)
	require.Len(t, k.HeldHours, 1)
	require.Len(t, k.History, 6)
	require.Len(t, k.Finishing, len(FinishingItems))
	assert.Equal(t, CopiedTick{wednesday, "pins", true, "Wren"}, k.Finishing[0])
	assert.Equal(t, Proposed, k.History[2].To)
	require.Len(t, k.Notes, 1)
	assert.Equal(t, CopiedNote{wednesday, "Wren", "Quill will pay in cash"}, k.Notes[0])
	require.Len(t, k.Quotations, 1)
	assert.Equal(t, "Nella Quill", k.Quotations[0].AcceptedBy)
	assert.Equal(t, map[string]string{"says": "Quill wants a second one"}, k.BeingQuoted)
	assert.Equal(t, []CopiedPayment{{1, "2027-01-05", "Nella Quill", "EUR", 8000, "cash"}}, k.Payments)
	require.Len(t, k.Photographs, 1)
	_, colours := seen(t, k.Photographs[0].JPEG)
	assert.Equal(t, [4]int{0, 1, 2, 3}, colours, "the picture can be looked at")

	letters, err := s.Letters(ctx, c.ClientID)
	require.NoError(t, err)
	require.Len(t, copied.Letters, len(letters))
	for i, l := range letters {
		assert.Equal(t, l.Body, copied.Letters[i].Text)
		assert.Len(t, copied.Letters[i].Photographs, len(l.Photos))
	}
	_, err = s.Copy(ctx, newID())
	require.ErrorIs(t, err, ErrNotFound)
}
