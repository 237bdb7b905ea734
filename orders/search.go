package orders

import (
	"context"
	"fmt"
	"strings"
	"time"
	"unicode"
)

// Found is what a search came upon.
type Found struct {
	Clients []FoundClient // by name, the nearest first
	Texts   []FoundText   // newest first
	Next    int           // to go on from for more texts; 0 when there are none
}

// FoundClient is a client whose name is what was typed, or nearly, with her newest commissions.
type FoundClient struct {
	ID, Name    string
	Commissions []Commission
}

// FoundText is a commission, a letter or a note of the bench in which all that was typed stands.
type FoundText struct {
	Kind       string // FoundCommission, FoundLetter or FoundNote
	Commission Commission
	At         time.Time
	Excerpt    []Excerpt
}

// What a text may be.
const (
	FoundCommission = "commission"
	FoundLetter     = "letter"
	FoundNote       = "note"
)

// Excerpt is a piece of a text; Hit says that it was looked for.
type Excerpt struct {
	Text string
	Hit  bool
}

const (
	mostSought       = 100 // letters of what is looked for
	mostTexts        = 25  // of one page
	mostClients      = 12
	mostOfOneClient  = 3
	mostNamesCompare = 400 // that share parts with what was typed
)

// Search looks for clients by name, forgiving a slip or two, and for texts that hold a word beginning
// with each of the words typed. before is Found.Next of the page before, 0 at first. The number of
// statements is the same however much there is. Nothing typed finds nothing.
func (s *Store) Search(ctx context.Context, typed string, before int) (Found, error) {
	words := wordsOf(typed)
	if len(words) == 0 {
		return Found{}, nil
	}
	var f Found
	var err error
	if before == 0 {
		if f.Clients, err = s.clientsNamed(ctx, words); err != nil {
			return f, fmt.Errorf("search names: %w", err)
		}
	}
	if f.Texts, f.Next, err = s.textsWith(ctx, words, before); err != nil {
		return f, fmt.Errorf("search texts: %w", err)
	}
	return f, nil
}

// wordsOf are the runs of letters and digits of what was typed, in small letters: nothing in them
// means anything to the index but itself.
func wordsOf(typed string) []string {
	if r := []rune(typed); len(r) > mostSought {
		typed = string(r[:mostSought])
	}
	return strings.FieldsFunc(strings.ToLower(typed), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
}

type foundRow struct {
	Searched  int
	FoundKind string
	Excerpt   string
	At        int64
	Row       namedRow `gorm:"embedded"`
}

// Around a hit in an excerpt. Nobody types these, and nothing that is typed keeps them.
const hitBegins, hitEnds = "\x02", "\x03"

// textsWith reads one page of texts from the index of words.
func (s *Store) textsWith(ctx context.Context, words []string, before int) ([]FoundText, int, error) {
	q := s.named(ctx).Select(`searched.id as searched, searched.kind as found_kind,
			snippet(words, ?, ?, '…', -1, 24) as excerpt,
			coalesce((select at from letters where searched.kind = 'letter' and letters.id = searched.subject),
				(select signed from fit_sheets where searched.kind = 'sheet' and fit_sheets.id = searched.subject),
				(select taken from measure_cards where searched.kind = 'card' and measure_cards.id = searched.subject),
				(select at from notes where searched.kind = 'card' and notes.id = searched.subject), 0) as at,
			commissions.*, clients.name as client_name, drafts.door`, hitBegins, hitEnds).
		Joins("join searched on commissions.id = coalesce(searched.commission_id, "+
			"(select id from commissions c where c.client_id = searched.client_id order by c.year desc, c.running desc limit 1))").
		Joins("join words on words.docid = searched.id").
		Where("words match ? and searched.kind <> 'client'", strings.Join(words, "* ")+"*")
	if before > 0 {
		q = q.Where("words.docid < ?", before)
	}
	rows, err := many(q.Order("words.docid desc").Limit(mostTexts+1), func(r foundRow) foundRow { return r })
	if err != nil {
		return nil, 0, err
	}
	next := 0
	if len(rows) > mostTexts {
		rows = rows[:mostTexts]
		next = rows[mostTexts-1].Searched
	}
	texts := make([]FoundText, len(rows))
	for i, r := range rows {
		texts[i] = FoundText{Kind: kindFound(r.FoundKind), Commission: r.Row.commission(), At: moment(r.At), Excerpt: excerpt(r.Excerpt)}
	}
	return texts, next, nil
}

func kindFound(kind string) string {
	switch kind {
	case FoundCommission, FoundLetter:
		return kind
	}
	return FoundNote
}

// excerpt takes the marked text apart.
func excerpt(marked string) []Excerpt {
	var pieces []Excerpt
	for marked != "" {
		before, rest, hit := strings.Cut(marked, hitBegins)
		if before != "" {
			pieces = append(pieces, Excerpt{before, false})
		}
		if !hit {
			break
		}
		within, after, _ := strings.Cut(rest, hitEnds)
		pieces, marked = append(pieces, Excerpt{within, true}), after
	}
	return pieces
}
