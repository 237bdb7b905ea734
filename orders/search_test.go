package orders

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func namesFound(t testing.TB, s *Store, typed string) []string {
	t.Helper()
	f, err := s.Search(ctx, typed, 0)
	require.NoError(t, err, typed)
	names := []string{}
	for _, c := range f.Clients {
		names = append(names, c.Name)
	}
	return names
}

func TestSearchForgivesSlipsInNames(t *testing.T) {
	s, _ := newStore(t)
	for _, name := range []string{"Nella Quillfeather", "Orla Thimblewick", "Zoë Marshlantern", "Ann Reed"} {
		sent(t, s, map[string]string{"name": name})
	}
	for typed, want := range map[string]string{
		"Quillfeather": "Nella Quillfeather", "quilfeather": "Nella Quillfeather", "Quillfeahter": "Nella Quillfeather",
		"nela quilfether": "Nella Quillfeather", "quillf": "Nella Quillfeather", "Thimbelwick": "Orla Thimblewick",
		"Tihmblewick": "Orla Thimblewick", "marshlantern zoë": "Zoë Marshlantern", "ann": "Ann Reed", "read": "Ann Reed",
	} {
		assert.Equal(t, []string{want}, namesFound(t, s, typed), "typed %q", typed)
	}
	for _, typed := range []string{"", "  ", "--", "Bob", "xyzzy", "quill thimble", `" OUR "`, "NEAR/2", "*"} {
		assert.Empty(t, namesFound(t, s, typed), "typed %q", typed)
	}
}

func TestSearchFindsLettersNotesAndCommissions(t *testing.T) {
	s, _ := newStore(t)
	c := sent(t, s, map[string]string{"name": "Nella Quillfeather"})
	sent(t, s, map[string]string{"name": "Orla Thimblewick"})
	_, err := s.Write(ctx, c.ID, "The dupion in Moss has come, and the petersham too.")
	require.NoError(t, err)
	_, err = s.Receive(ctx, c.ID, "Could the quill stand to the left?")
	require.NoError(t, err)
	_, err = s.AddCard(ctx, MeasureCard{CommissionID: c.ID, TakenBy: ByMaker, Girth: []float64{575}, NapeToCrown: []float64{231}, Note: "a tender spot behind the ear"})
	require.NoError(t, err)
	for typed, want := range map[string]string{
		"moss dupion": FoundLetter, "stand LEFT": FoundLetter, "tend spot": FoundNote, c.Number: FoundCommission, "petersham": FoundLetter,
	} {
		f, err := s.Search(ctx, typed, 0)
		require.NoError(t, err, typed)
		require.Len(t, f.Texts, 1, "typed %q", typed)
		assert.Equal(t, want, f.Texts[0].Kind, "typed %q", typed)
		assert.Equal(t, c.ID, f.Texts[0].Commission.ID, "typed %q", typed)
	}
	f, err := s.Search(ctx, "dupion", 0)
	require.NoError(t, err)
	assert.Equal(t, []Excerpt{{"The ", false}, {"dupion", true}, {" in Moss has come, and the petersham too.", false}}, f.Texts[0].Excerpt)
	f, err = s.Search(ctx, "dupion velvet", 0)
	require.NoError(t, err)
	assert.Empty(t, f.Texts, "every word must stand there")
}

func TestSearchFollowsEveryChange(t *testing.T) {
	s, _ := newStore(t)
	c := sent(t, s, map[string]string{"name": "Nella Quillfeather"})
	_, err := s.Answer(ctx, c.DraftID, "name", Answer{Value: "Nella Bramblecote", Said: "Nella Bramblecote"})
	require.NoError(t, err)
	assert.Equal(t, []string{"Nella Bramblecote"}, namesFound(t, s, "bramble"))
	assert.Empty(t, namesFound(t, s, "quillfeather"), "her former name")
	require.NoError(t, s.Erase(ctx, c.ID))
	assert.Empty(t, namesFound(t, s, "bramblecote"), "erased")
}

func TestSearchGivesPagesOfOneSize(t *testing.T) {
	s, _ := newStore(t)
	c := sent(t, s, nil)
	for i := range 2*mostTexts + 3 {
		_, err := s.Write(ctx, c.ID, fmt.Sprintf("the ribbon number %d", i))
		require.NoError(t, err)
	}
	seen, before := map[string]bool{}, 0
	for page := 0; page == 0 || before > 0; page++ {
		f, err := s.Search(ctx, "ribbon", before)
		require.NoError(t, err)
		require.LessOrEqual(t, len(f.Texts), mostTexts)
		for _, text := range f.Texts {
			seen[text.Excerpt[len(text.Excerpt)-1].Text] = true
		}
		before = f.Next
	}
	assert.Len(t, seen, 2*mostTexts+3, "each once, over all pages")
}

// Whatever is typed finds something or nothing, and fails never.
func FuzzSearch(f *testing.F) {
	s, _ := newStore(f)
	sent(f, s, map[string]string{"name": "Nella Quillfeather"})
	for _, typed := range []string{"quill", `"`, "a AND b", "NEAR/", "body:x", "26-001", "é\x00\x02", "*", "' or 1=1", strings.Repeat("ab ", 90)} {
		f.Add(typed)
	}
	f.Fuzz(func(t *testing.T, typed string) {
		_, err := s.Search(ctx, typed, 0)
		require.NoError(t, err, "typed %q", typed)
	})
}

// The restricted distance of Damerau by its recursive definition.
func slowSlips(a, b []rune) int {
	if len(a) == 0 || len(b) == 0 {
		return len(a) + len(b)
	}
	m, n := len(a)-1, len(b)-1
	least := min(slowSlips(a[:m], b)+1, slowSlips(a, b[:n])+1, slowSlips(a[:m], b[:n])+btoi(a[m] != b[n]))
	if m > 0 && n > 0 && a[m] == b[n-1] && a[m-1] == b[n] {
		least = min(least, slowSlips(a[:m-1], b[:n-1])+1)
	}
	return least
}

func TestSlipsBetweenAgreesWithItsDefinition(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := []rune(rapid.StringMatching("[abc]{1,6}").Draw(t, "typed"))
		b := []rune(rapid.StringMatching("[abc]{1,6}").Draw(t, "name"))
		want := slowSlips(a, b)
		for n := len(a); n < len(b); n++ {
			want = min(want, slowSlips(a, b[:n]))
		}
		require.Equal(t, want, slipsBetween(a, b), "%s for %s", string(a), string(b))
	})
}
