package orders

import (
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// openOn puts a commission of the crowd to a stage and a day.
func openOn(t testing.TB, s *Store, i int, stage Stage, day string) string {
	t.Helper()
	id := fmt.Sprintf("m%025d", i)
	require.NoError(t, s.writes(ctx).Exec("update commissions set stage = ?, day = ? where id = ?", stage, day, id).Error)
	return id
}

func keptFor(t testing.TB, s *Store, id string, roll, length int) {
	t.Helper()
	require.NoError(t, s.Together(ctx, func(s *Store) error { return s.reserve(ctx, fabricated(t, s, id, roll, length), "Wren", true) }))
}

func aPlan(t testing.TB, s *Store) Plan {
	t.Helper()
	p, err := s.Plan(ctx)
	require.NoError(t, err)
	return p
}

func TestTheShoppingListSaysWhatIsMissingAndByWhen(t *testing.T) {
	s, _ := newStore(t)
	crowd(t, s, 9)
	enough, short, shorter := aRoll(t, s, RollCloth{Colour: "Ivory"}, 5000), aRoll(t, s, sage(), 1000), aRoll(t, s, RollCloth{Colour: "Rose"}, 100)
	keptFor(t, s, openOn(t, s, 1, Proposed, "2027-09-04"), enough.Number, 600)
	first := openOn(t, s, 2, Agreed, "2027-05-01")
	posted := openOn(t, s, 3, Proposed, "2027-05-02") // two days in the post sooner than the one before
	later, open := openOn(t, s, 4, Agreed, "2027-06-01"), openOn(t, s, 5, Proposed, NotFixed)
	require.NoError(t, s.writes(ctx).Create(&answerRow{DraftID: fmt.Sprintf("d%025d", 3), Question: "post_address", Value: "4 Capstan Steps"}).Error)
	for _, id := range []string{open, later, first, posted} {
		keptFor(t, s, id, short.Number, 400)
	}
	keptFor(t, s, openOn(t, s, 6, Agreed, "2027-04-01"), shorter.Number, 300)
	let := openOn(t, s, 7, Proposed, "2027-04-01")
	keptFor(t, s, let, shorter.Number, 500)
	require.NoError(t, s.releaseCloth(ctx, let, "Wren"))

	p := aPlan(t, s)
	needs, err := s.Needs(ctx, p, 5)
	require.NoError(t, err)
	require.Len(t, needs, 3)
	var said [][]int
	for _, n := range needs {
		said = append(said, []int{n.Of.Number, n.Hats, n.Agreed, n.Reserved, n.Of.Left, n.Missing(), len(n.Short)})
	}
	assert.Equal(t, [][]int{{shorter.Number, 1, 1, 300, 100, 200, 1}, {short.Number, 4, 2, 1600, 1000, 600, 2}, {enough.Number, 1, 0, 600, 5000, 0, 0}}, said, "what is missing soonest stands first")
	lacks := needs[1].Short
	assert.Equal(t, []string{later, open}, []string{lacks[0].ID, lacks[1].ID}, "the two that are needed first have their cloth")
	assert.Equal(t, []int{400, 200, 400, 400}, []int{lacks[0].Length, lacks[0].Lacks, lacks[1].Length, lacks[1].Lacks}, "of the first that is short a part is there")
	order, here := lacks[0].Dates(p)
	latest := p.Pace.latest(time.Date(2027, 6, 1, 0, 0, 0, 0, time.UTC), false, p.Days)
	assert.Equal(t, []time.Time{latest.By(ToPay), latest.By(ToHave)}, []time.Time{order, here})
	assert.True(t, order.Before(here))
	order, here = lacks[1].Dates(p)
	assert.True(t, order.IsZero() && here.IsZero(), "its day is not fixed")
	few, err := s.Needs(ctx, p, 1)
	require.NoError(t, err)
	assert.Len(t, few[1].Short, 1, "no more are named than asked for")
}

func TestPostedHatsNeedTheirClothSooner(t *testing.T) {
	s, _ := newStore(t)
	crowd(t, s, 2)
	r := aRoll(t, s, sage(), 400)
	keptFor(t, s, openOn(t, s, 1, Agreed, "2027-05-01"), r.Number, 400)
	posted := openOn(t, s, 2, Agreed, "2027-05-04")
	require.NoError(t, s.writes(ctx).Create(&answerRow{DraftID: fmt.Sprintf("d%025d", 2), Question: "post_address", Value: "4 Capstan Steps"}).Error)
	keptFor(t, s, posted, r.Number, 400)
	needs, err := s.Needs(ctx, aPlan(t, s), 5)
	require.NoError(t, err)
	assert.NotEqual(t, posted, needs[0].Short[0].ID, "though it is worn three days later, it goes by post and has to be cut first")
}

func TestHatsWithoutARollAreNamed(t *testing.T) {
	s, _ := newStore(t)
	crowd(t, s, 6)
	sheet := func(id string, length int) {
		row := sheetRow{ID: newID(), CommissionID: id, Number: 1, Input: "{}", Proposal: "null", Figures: map[string]float64{}, SignedBy: "Wren", Signed: 1, Result: fmt.Sprintf(`{"cloth":{"takes":{"length_mm":%d}}}`, length)}
		require.NoError(t, s.writes(ctx).Create(&row).Error)
	}
	later, first := openOn(t, s, 1, Agreed, "2027-06-01"), openOn(t, s, 2, Proposed, "2027-05-01")
	done, has := openOn(t, s, 3, InFitting, "2027-05-01"), openOn(t, s, 4, Agreed, "2027-05-01")
	openOn(t, s, 5, Proposed, "2027-05-01") // without a sheet
	sheet(later, 612)
	sheet(first, 480)
	sheet(done, 480)
	sheet(has, 480)
	keptFor(t, s, has, aRoll(t, s, sage(), 1000).Number, 400) // by its second sheet
	list, total, err := s.Unchosen(ctx, aPlan(t, s), 1)
	require.NoError(t, err)
	assert.Equal(t, 2, total)
	require.Len(t, list, 1)
	assert.Equal(t, []any{first, 480, 1}, []any{list[0].ID, list[0].Length, list[0].Sheet})
	list, _, err = s.Unchosen(ctx, aPlan(t, s), 5)
	require.NoError(t, err)
	assert.Equal(t, []any{later, 615}, []any{list[1].ID, list[1].Length}, "up to the half centimetre")
}

// However many commissions there are, the shopping list asks as little.
func TestTheShoppingListAsksNoMoreWhenThereIsMore(t *testing.T) {
	ran := 0
	s, err := Open(ctx, t.TempDir(), Settings{Ran: func() { ran++ }})
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, s.Close()) })
	crowd(t, s, 600)
	for i := range 4 {
		aRoll(t, s, RollCloth{Colour: fmt.Sprint("Colour ", i)}, 1000)
	}
	asked := func() int {
		p := aPlan(t, s)
		before := ran
		needs, err := s.Needs(ctx, p, 3)
		require.NoError(t, err)
		for _, n := range needs {
			require.LessOrEqual(t, len(n.Short), 3)
		}
		_, _, err = s.Unchosen(ctx, p, 10)
		require.NoError(t, err)
		return ran - before
	}
	for i := range 40 {
		keptFor(t, s, openOn(t, s, 10*i+1, Agreed, fmt.Sprintf("2027-05-%02d", 1+i%28)), 1+i%4, 300)
	}
	few := asked()
	for i := range 200 {
		keptFor(t, s, openOn(t, s, 2*i+200, Agreed, fmt.Sprintf("2027-06-%02d", 1+i%28)), 1+i%4, 300)
	}
	assert.Equal(t, few, asked())
	assert.Equal(t, 6, few)
}
