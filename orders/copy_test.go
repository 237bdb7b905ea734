package orders

import (
	"encoding/base64"
	"encoding/json"
	"regexp"
	"slices"
	"strings"
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
		Understood: "57.1 cm (22 1/2 in), the average of 57.0, 57.2 and 57.1; good to ± 1.2 cm (1/2 in)"})
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

// notHers are columns that say nothing of her: names of other rows, how far the program has come, and the
// index of words, which repeats what stands elsewhere.
var notHers = map[string]bool{
	"chats.asking": true, "chats.pending": true, "letters.buttons": true,
}

// Whatever a table keeps of her in words or pictures must stand in her copy; a new column is met here.
func TestACopyHoldsEveryWordInEveryTable(t *testing.T) {
	s, _ := newStore(t)
	c := lived(t, s, "Quill")
	fitted(t, s, c, "Quill", tomorrow)
	everything, err := s.Copy(ctx, c.ID)
	require.NoError(t, err)
	body, err := json.Marshal(everything)
	require.NoError(t, err)
	looked := 0
	for table := range kept(t, s) {
		if table == "searched" || table == "name_parts" || strings.HasPrefix(table, "words") {
			continue
		}
		rows, err := s.reads(ctx).Table(table).Rows()
		require.NoError(t, err)
		columns, err := rows.Columns()
		require.NoError(t, err)
		for rows.Next() {
			values, into := make([]any, len(columns)), make([]any, len(columns))
			for i := range values {
				into[i] = &values[i]
			}
			require.NoError(t, rows.Scan(into...))
			for i, v := range values {
				name := table + "." + columns[i]
				if said, there := inCopy(v); there && !notHers[name] {
					looked++
					assert.True(t, strings.Contains(string(body), said), "%s is not in the copy: %.80s", name, said)
				}
			}
		}
		require.NoError(t, rows.Err())
		require.NoError(t, rows.Close())
	}
	require.Greater(t, looked, 100, "hardly anything was looked for")
}

// inCopy is how a value stands in a copy; names of rows and empty ones need not.
func inCopy(v any) (string, bool) {
	switch v := v.(type) {
	case string:
		if v == "" || v == "[]" || v == "{}" || v == "null" || regexp.MustCompile(`^([a-z2-7]{26} ?)+$`).MatchString(v) {
			return "", false
		}
		if json.Valid([]byte(v)) && strings.ContainsAny(v[:1], "{[") {
			return "", false // kept as a structure: TestACopyHoldsEverything
		}
		if strings.Trim(v, "0123456789. ") == "" {
			return "", false // readings, which are numbers in a copy: TestACopyHoldsEverything
		}
		text, err := json.Marshal(v)
		return strings.Trim(string(text), `"`), err == nil
	case []byte:
		return base64.StdEncoding.EncodeToString(v), len(v) > 100 // a picture
	}
	return "", false
}

func TestACopyOfWhatIsNotSentIn(t *testing.T) {
	s, _ := newStore(t)
	chat, err := s.Chat(ctx, ChannelTelegram, "Quill")
	require.NoError(t, err)
	chat.DraftID = begun(t, s, map[string]string{"name": "Nella Quill"}).ID
	_, err = s.SaveChat(ctx, chat)
	require.NoError(t, err)
	_, err = s.Hear(ctx, Letter{ChatID: chat.ID, Kind: LetterIntake, Body: "I am Quill"})
	require.NoError(t, err)
	healthNote(t, s, chat.DraftID)
	_, err = s.AddPhoto(ctx, chat.DraftID, photographs, asJPEG(t, quadrants(16, 16)))
	require.NoError(t, err)
	begun(t, s, map[string]string{"name": "Pim Marsh"})
	k, err := s.CopyDraft(ctx, chat.DraftID)
	require.NoError(t, err)
	assert.Equal(t, "Nella Quill", k.Name)
	assert.Equal(t, []CopiedChat{{ChannelTelegram, "Quill"}}, k.Chats)
	require.Len(t, k.Letters, 1)
	require.Len(t, k.Commissions, 1)
	assert.Len(t, k.Commissions[0].Photographs, 1)
	assert.True(t, slices.ContainsFunc(k.Commissions[0].Answers, func(a CopiedAnswer) bool { return a.Key == "health" && a.Said != "" }))
	text, err := json.Marshal(k)
	require.NoError(t, err)
	assert.NotContains(t, string(text), "null")
	assert.NotContains(t, string(text), "Marsh")
	_, err = s.CopyDraft(ctx, newID())
	require.ErrorIs(t, err, ErrNotFound)
}
