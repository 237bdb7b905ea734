package orders

import (
	"cmp"
	"context"
	"slices"
	"strings"
)

// clientsNamed are the clients who have each of the words in their names, or something near it.
func (s *Store) clientsNamed(ctx context.Context, words []string) ([]FoundClient, error) {
	var parts []string
	for _, w := range words {
		parts = append(parts, partsOf(w)...)
	}
	type row struct{ ID, Name string }
	shared := s.reads(ctx).Table("name_parts").Select("client_id, count(*) as shared").Where("part in ?", parts).
		Group("client_id").Order("shared desc, client_id").Limit(mostNamesCompare)
	alike, err := many(s.reads(ctx).Table("(?) as near", shared).Select("clients.id, clients.name").
		Joins("join clients on clients.id = near.client_id"), func(r row) row { return r })
	if err != nil {
		return nil, err
	}
	slips := map[string]int{}
	alike = slices.DeleteFunc(alike, func(r row) bool {
		n, near := slipsIn(words, wordsOf(r.Name))
		slips[r.ID] = n
		return !near
	})
	slices.SortFunc(alike, func(a, b row) int {
		return cmp.Or(cmp.Compare(slips[a.ID], slips[b.ID]), strings.Compare(a.Name, b.Name), strings.Compare(a.ID, b.ID))
	})
	found := make([]FoundClient, 0, mostClients)
	for _, r := range alike[:min(len(alike), mostClients)] {
		found = append(found, FoundClient{ID: r.ID, Name: r.Name})
	}
	return found, s.addNewest(ctx, found)
}

// addNewest gives each client her newest commissions.
func (s *Store) addNewest(ctx context.Context, found []FoundClient) error {
	place := map[string]int{}
	ids := make([]string, len(found))
	for i, f := range found {
		place[f.ID], ids[i] = i, f.ID
	}
	newest := s.reads(ctx).Table("commissions").Where("client_id in ?", ids).
		Select("id, row_number() over (partition by client_id order by year desc, running desc) as age")
	list, err := many(s.named(ctx).Joins("join (?) as newest on newest.id = commissions.id and newest.age <= ?", newest, mostOfOneClient).
		Order("commissions.year desc, commissions.running desc"), namedRow.commission)
	for _, c := range list {
		f := &found[place[c.ClientID]]
		f.Commissions = append(f.Commissions, c)
	}
	return err
}

// partsOf are the three letters that follow one another in a word, its ends counted in, as the
// triggers keep them for names.
func partsOf(word string) []string {
	r := []rune(" " + word + " ")
	var parts []string
	for i := range len(r) - 2 {
		parts = append(parts, string(r[i:i+3]))
	}
	if len(r) > 3 { // the beginning of a name not typed to its end
		parts = parts[:len(parts)-1]
	}
	return parts
}

// slipsIn counts the slips by which each word differs from the nearest of a name. near says that they
// are few enough to be slips: none in three letters, one in up to five, two in longer words.
func slipsIn(words, name []string) (slips int, near bool) {
	for _, w := range words {
		least := len(w) + 1
		for _, n := range name {
			least = min(least, slipsBetween([]rune(w), []rune(n)))
		}
		if least > allowedSlips(len([]rune(w))) {
			return 0, false
		}
		slips += least
	}
	return slips, true
}

func allowedSlips(letters int) int {
	switch {
	case letters <= 3:
		return 0
	case letters <= 5:
		return 1
	}
	return 2
}

// slipsBetween is how many letters must be put in, left out, exchanged or swapped with the next one to
// come from what was typed to a name or to its beginning (Damerau 1964, the restricted distance).
func slipsBetween(typed, name []rune) int {
	var before, last []int // rows of the table for one and two letters less of what was typed
	row := make([]int, len(name)+1)
	for j := range row {
		row[j] = j
	}
	for i, a := range typed {
		before, last = last, row
		row = make([]int, len(name)+1)
		row[0] = i + 1
		for j, b := range name {
			row[j+1] = min(last[j+1]+1, row[j]+1, last[j]+btoi(a != b))
			if i > 0 && j > 0 && a == name[j-1] && typed[i-1] == b {
				row[j+1] = min(row[j+1], before[j-1]+1)
			}
		}
	}
	if len(typed) < len(name) {
		return slices.Min(row[len(typed):])
	}
	return row[len(name)]
}

func btoi(b bool) int {
	if b {
		return 1
	}
	return 0
}
