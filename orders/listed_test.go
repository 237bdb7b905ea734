package orders

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gorm.io/gorm"
)

// crowd puts many commissions into a store at once: one in ten is open, on few days, so that the day alone
// does not tell them apart.
func crowd(t testing.TB, s *Store, n int) {
	t.Helper()
	numbers := "with recursive k (i) as (select 1 union all select i + 1 from k where i < @n) "
	at := map[string]any{"n": n, "at": millis(s.now())}
	for _, statement := range []string{
		"insert into clients (id, name, reach, version) " + numbers + "select printf('c%025d', i), 'Client ' || i, 'c@post.example', 1 from k",
		"insert into drafts (id, generation, door, begun, changed) " + numbers + "select printf('d%025d', i), 1, 'web', @at, @at from k",
		`insert into commissions (id, year, running, client_id, draft_id, kind, stage, occasion, day, generation, version, made) ` + numbers + `
			select printf('m%025d', i), 2026, i, printf('c%025d', i), printf('d%025d', i), 'made',
			case when i % 10 = 0 then (case i % 3 when 0 then 'measured' else 'in hand' end) else (case i % 2 when 0 then 'handed over' else 'lapsed' end) end,
			'races', case when i % 7 = 0 then 'later' else printf('2027-%02d-%02d', 1 + i % 5, 1 + i % 9) end, 1, 1, @at from k`,
	} {
		require.NoError(t, s.writes(ctx).Exec(statement, at).Error)
	}
}

// However the list is walked, every commission of it stands on one page, in one order, and the way back
// shows the same pages.
func TestTheListIsWalkedInPages(t *testing.T) {
	s, _ := newStore(t)
	crowd(t, s, 700)
	all, err := s.Commissions(ctx)
	require.NoError(t, err)
	for _, stage := range []Stage{"", Measured, InHand, HandedOver, Lapsed, Ready} {
		want := slices.DeleteFunc(slices.Clone(all), func(c Commission) bool {
			return stage == "" && (c.Stage.Closed() || c.Stage == HandedOver) || stage != "" && c.Stage != stage
		})
		if stage == HandedOver || stage == Lapsed {
			slices.Reverse(want)
		}
		var got []Commission
		var pages []Listing
		for from := ""; ; {
			page, err := s.List(ctx, stage, from, false, 9)
			require.NoError(t, err)
			require.LessOrEqual(t, len(page.Commissions), 9)
			got, pages = append(got, page.Commissions...), append(pages, page)
			if from = page.After; from == "" {
				break
			}
		}
		require.Equal(t, len(want), len(got), "all of %q", stage)
		for i := range want {
			require.Equal(t, want[i].Number, got[i].Number, "place %d of %q", i, stage)
		}
		require.Empty(t, pages[0].Before, "nothing stands before the first page")
		for i := len(pages) - 1; i > 0; i-- {
			back, err := s.List(ctx, stage, pages[i].Before, true, 9)
			require.NoError(t, err)
			require.Equal(t, pages[i-1], back, "page %d of %q from behind", i-1, stage)
		}
	}
}

func TestTheListAsksNoMoreWhenThereIsMore(t *testing.T) {
	ran := 0
	s, err := Open(ctx, t.TempDir(), Settings{Ran: func() { ran++ }})
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, s.Close()) })
	crowd(t, s, 3000)
	page, err := s.List(ctx, "", "", false, 50)
	require.NoError(t, err)
	before := ran
	page, err = s.List(ctx, "", page.After, false, 50)
	require.NoError(t, err)
	require.Len(t, page.Commissions, 50)
	assert.Equal(t, 2, ran-before, "queries of a page")
	for _, stage := range []Stage{"", InHand, Lapsed} {
		assert.NotContains(t, planOf(t, s, stage), "TEMP B-TREE", "%q is read in order and not sorted", stage)
	}
}

// planOf is how the database means to read the list from its middle.
func planOf(t *testing.T, s *Store, stage Stage) string {
	t.Helper()
	statement := s.read.ToSQL(func(tx *gorm.DB) *gorm.DB {
		dry := Store{read: tx}
		return dry.listed(ctx, stage, commissionRow{ID: "m", Day: "2027-03-04", Year: 2026, Running: 30}, false).Limit(51).Find(&[]namedRow{})
	})
	var steps []struct{ Detail string }
	require.NoError(t, s.reads(ctx).Raw("explain query plan "+statement).Scan(&steps).Error)
	require.NotEmpty(t, steps)
	return fmt.Sprint(steps)
}

func TestTheDatabaseKeepsCount(t *testing.T) {
	s, _ := newStore(t)
	check := func(when string) {
		all, err := s.Commissions(ctx)
		require.NoError(t, err)
		want := map[Stage]int{}
		for _, c := range all {
			want[c.Stage]++
		}
		got, err := s.Standing(ctx)
		require.NoError(t, err)
		require.Equal(t, want, got, when)
	}
	check("in an empty workroom")
	c, other := signed(t, s), sent(t, s, nil)
	check("after sending and signing")
	c = walk(t, s, c, Agreed, InHand)
	walk(t, s, other, Withdrawn)
	check("after moves")
	_, err := s.Revoke(ctx, c.ID)
	require.NoError(t, err)
	check("after a change that is no move")
	require.NoError(t, s.Erase(ctx, c.ID))
	check("after one was erased")
}
