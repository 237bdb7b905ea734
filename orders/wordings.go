package orders

import (
	"context"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"time"
	"unicode/utf8"
)

// A Wording is what a kind of letter says, with named fields in braces.
type Wording struct {
	Kind, Name, Body string
	Usual            bool  // ours; the milliner has written none of her own
	Version          int   // of her own; 0 for ours
	At               Stage // a move to this stage may send it; "" for none
}

// Kinds of letters that have a wording.
const (
	TapesWanted   = "tapes"
	DesignReady   = "design"
	DesignChanged = "changed"
	FittingTime   = "fitting"
	HatReady      = "ready"
	HatWorn       = "worn"
)

// usualWordings are ours, in the order of a commission.
var usualWordings = []Wording{
	{Kind: TapesWanted, Name: "Tapes asked for again", At: Enquiry,
		Body: "Dear {name},\nfor your hat {number} we still need: {missing}. Your page shows with drawings where the tape runs: {link}\n{studio}"},
	{Kind: DesignReady, Name: "Design ready", Body: "Your hat now has a design: where it sits, its size and its brim. See it on your page: {link}"},
	{Kind: DesignChanged, Name: "Design changed", Body: "The design of your hat has changed. See how it is now on your page: {link}"},
	{Kind: FittingTime, Name: "Fitting offered", At: InFitting,
		Body: "Dear {name},\nyour hat {number} can be tried on. Choose an hour that suits you on your page: {link}\n{studio}"},
	{Kind: HatReady, Name: "Ready for collection", At: Ready,
		Body: "Dear {name},\nyour hat {number} is finished. Choose an hour to collect it, or ask us to post it, on your page: {link}\n{studio}"},
	{Kind: HatWorn, Name: "With the hat", At: HandedOver,
		Body: "Dear {name},\nwe hope that you enjoy your hat. How to wear and keep it stands on your page: {link}\n{studio}"},
}

// WordingFields name what a wording may hold, each with what it stands for.
var WordingFields = []Option{
	{"name", "the client’s name"}, {"number", "the commission’s number"}, {"occasion", "the occasion"}, {"day", "the day it is worn"},
	{"missing", "the tapes still wanting"}, {"hour", "the next appointment"}, {"studio", "your studio’s name"}, {"link", "the client’s own page"},
}

// Told says whether a move to that stage has a wording to go with it.
func Told(st Stage) bool {
	return slices.ContainsFunc(usualWordings, func(w Wording) bool { return st != "" && w.At == st })
}

type wordingRow struct {
	Kind    string `gorm:"primaryKey"`
	Body    string
	Version int
}

func (wordingRow) TableName() string { return "wordings" }

// Wordings lists the wording of every kind, hers or ours, in the order of a commission.
func (s *Store) Wordings(ctx context.Context) ([]Wording, error) {
	rows, err := many(s.reads(ctx), func(r wordingRow) wordingRow { return r })
	if err != nil {
		return nil, fmt.Errorf("wordings: %w", err)
	}
	list := slices.Clone(usualWordings)
	for i := range list {
		at := slices.IndexFunc(rows, func(r wordingRow) bool { return r.Kind == list[i].Kind })
		if list[i].Usual = at < 0; at >= 0 {
			list[i].Body, list[i].Version = rows[at].Body, rows[at].Version
		}
	}
	return list, nil
}

// Wording reads that of one kind; ErrNotFound when there is no such kind.
func (s *Store) Wording(ctx context.Context, kind string) (Wording, error) {
	list, err := s.Wordings(ctx)
	if err != nil {
		return Wording{}, err
	}
	i := slices.IndexFunc(list, func(w Wording) bool { return w.Kind == kind })
	if i < 0 {
		return Wording{}, fmt.Errorf("wording %q: %w", kind, ErrNotFound)
	}
	return list[i], nil
}

// SaveWording keeps the milliner's own wording of a kind; an empty body brings ours back. A *Problem with
// key "body" says what is wrong with it; ErrConflict when the version is old.
func (s *Store) SaveWording(ctx context.Context, kind, body string, version int) error {
	body = strings.TrimSpace(body)
	if p := CheckWording(body); p != nil && body != "" {
		return p
	}
	return s.Together(ctx, func(s *Store) error {
		now, err := s.Wording(ctx, kind)
		if err != nil {
			return err
		}
		if now.Version != version {
			return fmt.Errorf("wording %q: %w", kind, ErrConflict)
		}
		if body == "" {
			err = s.writes(ctx).Where("kind = ?", kind).Delete(&wordingRow{}).Error
		} else {
			err = put(s.writes(ctx), &wordingRow{kind, body, version + 1})
		}
		if err != nil {
			return fmt.Errorf("keep wording %q: %w", kind, err)
		}
		return nil
	})
}

// braced is a field as it is written, or a brace that belongs to none.
var braced = regexp.MustCompile(`\{[^{}]*\}|[{}]`)

// roomyWording leaves room for what the fields stand for.
const roomyWording = 2500

// CheckWording says what is wrong with a wording, nil when nothing is.
func CheckWording(body string) *Problem {
	no := func(text string) *Problem { return &Problem{Key: "body", Text: text} }
	switch n := utf8.RuneCountInString(body); {
	case strings.TrimSpace(body) == "":
		return no("Write something first.")
	case n > roomyWording:
		return no(fmt.Sprintf("This has %d letters; keep a wording under %d.", n, roomyWording))
	}
	for _, field := range braced.FindAllString(body, -1) {
		if len(field) == 1 {
			return no("A brace stands alone. A field has one on either side, such as {name}.")
		}
		if !slices.ContainsFunc(WordingFields, func(o Option) bool { return "{"+o.Value+"}" == field }) {
			return no("I do not know the field " + field + ". You can use " + fieldNames() + ".")
		}
	}
	return nil
}

func fieldNames() string {
	var all []string
	for _, o := range WordingFields {
		all = append(all, "{"+o.Value+"}")
	}
	return strings.Join(all[:len(all)-1], ", ") + " and " + all[len(all)-1]
}

// Fill puts what is known of a commission into a wording's fields. {link} stays, since a letter's text is
// kept without its private link.
func (s *Store) Fill(ctx context.Context, commissionID, body string) (string, error) {
	c, err := s.Commission(ctx, commissionID)
	if err != nil {
		return "", err
	}
	st, err := s.Studio(ctx)
	if err != nil {
		return "", err
	}
	card, err := s.cardInForce(ctx, c.ID)
	if err != nil {
		return "", err
	}
	hour, err := s.nextHour(ctx, c)
	if err != nil {
		return "", err
	}
	values := map[string]string{
		"name": c.ClientName, "number": c.Number, "occasion": occasionWords(c.Occasion), "day": dayWords(c.Day),
		"missing": missingWords(card), "hour": hour, "studio": st.Name,
	}
	return braced.ReplaceAllStringFunc(body, func(field string) string {
		if value, known := values[strings.Trim(field, "{}")]; known {
			return value
		}
		return field
	}), nil
}

func occasionWords(value string) string {
	if q, known := Questions.Find("occasion"); known {
		return q.Show(Answer{Value: value, Said: value})
	}
	return value
}

func dayWords(day string) string {
	t, err := time.Parse(dayLayout, day)
	if err != nil {
		return "a day not fixed yet"
	}
	return t.Format("Monday 2 January 2006")
}

func missingWords(card MeasureCard) string {
	var names []string
	for _, key := range card.missing() {
		q, _ := Questions.Find(key)
		names = append(names, q.Short)
	}
	if len(names) == 0 {
		return "no tape"
	}
	return strings.Join(names, " and ")
}

// nextHour says the commission's next appointment, or that there is none.
func (s *Store) nextHour(ctx context.Context, c Commission) (string, error) {
	booked, err := s.Appointments(ctx, c.ID)
	if err != nil {
		return "", err
	}
	for _, a := range booked {
		if a.State != Cancelled && a.End.After(s.now()) {
			return s.saidTo(ctx, c.ClientID, a.Start)
		}
	}
	return "no hour set yet", nil
}
