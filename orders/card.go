package orders

import (
	"context"
	"fmt"
	"math"
	"strings"
)

// Who may have taken a measure card.
const (
	ByClient = "client"
	ByMaker  = "maker"
)

// A tape is one measure of a card with the question that asks a client for it.
type tape struct {
	question string // "" for what only the maker takes
	name     string
	of       func(*MeasureCard) *[]float64
}

// tapes are the measures of a card that are read several times; the first two are needed.
var tapes = []tape{
	{"girth", "round the head", func(c *MeasureCard) *[]float64 { return &c.Girth }},
	{"nape", "nape to crown", func(c *MeasureCard) *[]float64 { return &c.NapeToCrown }},
	{"ear_to_ear", "ear to ear", func(c *MeasureCard) *[]float64 { return &c.EarToEar }},
	{"brow_to_nape", "brow to nape", func(c *MeasureCard) *[]float64 { return &c.BrowToNape }},
}

// missing lists the questions of the needed tapes that were not taken.
func (c MeasureCard) missing() []string {
	var keys []string
	for _, t := range tapes[:2] {
		if len(*t.of(&c)) == 0 {
			keys = append(keys, t.question)
		}
	}
	return keys
}

// empty says that nothing was taken at all.
func (c MeasureCard) empty() bool {
	for _, t := range tapes {
		if len(*t.of(&c)) > 0 {
			return false
		}
	}
	return c.HeadLength == 0 && c.HeadBreadth == 0
}

// cardOf is the card that a client's answers make.
func cardOf(a Answers) MeasureCard {
	c := MeasureCard{TakenBy: ByClient}
	for _, t := range tapes {
		*t.of(&c) = readings(a[t.question].Value)
		source := a[t.question].Source
		source.Questioned = a[t.question].Confirmed
		c.comes(t.question, source)
	}
	if a["hair_measured"].Value == "no" {
		c.Note = "Measured with her hair otherwise than on the day."
	}
	return c
}

// Cards lists a commission's measure cards, oldest first.
func (s *Store) Cards(ctx context.Context, commissionID string) ([]MeasureCard, error) {
	list, err := many(s.reads(ctx).Where("commission_id = ?", commissionID).Order("running"), cardRow.card)
	if err != nil {
		return nil, fmt.Errorf("cards of commission %s: %w", commissionID, err)
	}
	return list, nil
}

// AddCard adds a measure card that the maker or the client has taken. With both needed tapes an
// enquiry becomes measured. A *Problem names the tape that cannot be.
func (s *Store) AddCard(ctx context.Context, card MeasureCard) (MeasureCard, error) {
	if err := card.check(); err != nil {
		return MeasureCard{}, err
	}
	return together(ctx, s, func(s *Store) (MeasureCard, error) {
		c, err := s.Commission(ctx, card.CommissionID)
		if err != nil {
			return card, err
		}
		if err := s.keepCard(ctx, &card); err != nil {
			return card, err
		}
		if err := s.bumpWorking(ctx, c.ID); err != nil {
			return card, err
		}
		return card, s.measuredNow(ctx, c, card.TakenBy)
	})
}

// keepCard writes the card and gives it its id and date.
func (s *Store) keepCard(ctx context.Context, card *MeasureCard) error {
	card.ID, card.Taken, card.Note = newID(), s.clock(), strings.TrimSpace(card.Note)
	row := rowOfCard(*card)
	last := s.reads(ctx).Model(&cardRow{}).Select("coalesce(max(running), 0)")
	if err := last.Scan(&row.Running).Error; err != nil {
		return fmt.Errorf("number of the last card: %w", err)
	}
	row.Running++
	if err := s.writes(ctx).Create(&row).Error; err != nil {
		return fmt.Errorf("add card to commission %s: %w", card.CommissionID, err)
	}
	*card = row.card()
	return nil
}

// measuredNow moves an enquiry on when both needed tapes are there.
func (s *Store) measuredNow(ctx context.Context, c Commission, by string) error {
	if c.Stage != Enquiry {
		return nil
	}
	card, err := s.cardInForce(ctx, c.ID)
	if err != nil || len(card.missing()) > 0 {
		return err
	}
	_, err = s.enter(ctx, c, Measured, by, "")
	return err
}

// check refuses what no head can be; the likely and the unlikely are the engine's to judge.
func (c MeasureCard) check() error {
	if c.TakenBy != ByClient && c.TakenBy != ByMaker {
		return fmt.Errorf("card taken by %q: neither client nor maker", c.TakenBy)
	}
	if c.empty() {
		return &Problem{Key: "girth", Text: "Write at least one measure."}
	}
	for _, t := range tapes {
		q, _ := Questions.Find(t.question)
		for _, mm := range *t.of(&c) {
			if p := outside(t.question, t.name, mm, q.Min, q.Max); p != nil {
				return p
			}
		}
	}
	for _, calliper := range []struct {
		key, name string
		mm        float64
	}{{"head_length", "the head's length", c.HeadLength}, {"head_breadth", "the head's breadth", c.HeadBreadth}} {
		if p := outside(calliper.key, calliper.name, calliper.mm, 100, 260); calliper.mm != 0 && p != nil {
			return p
		}
	}
	return nil
}

func outside(key, name string, mm, least, most float64) error {
	if mm >= least && mm <= most {
		return nil
	}
	said := "That"
	if !math.IsNaN(mm) && !math.IsInf(mm, 0) {
		said = fmt.Sprintf("%.1f cm", mm/10)
	}
	return &Problem{Key: key, Text: fmt.Sprintf("%s cannot be %s: it lies between %.0f and %.0f cm. Please take it again.", said, name, least/10, most/10)}
}

// cardInForce is what is known of a head: for each tape the maker's newest readings, else the
// client's newest. It counts as the maker's when both needed tapes are. Its id and date are those of
// the newest card; without any card it is empty.
func (s *Store) cardInForce(ctx context.Context, commissionID string) (MeasureCard, error) {
	cards, err := s.Cards(ctx, commissionID)
	if err != nil || len(cards) == 0 {
		return MeasureCard{}, err
	}
	return merge(cards), nil
}

func merge(cards []MeasureCard) MeasureCard {
	var client, maker MeasureCard
	for _, c := range cards {
		if c.TakenBy == ByMaker {
			maker.lay(c)
		} else {
			client.lay(c)
		}
	}
	force := cards[len(cards)-1]
	force.TakenBy = ByClient
	if len(maker.missing()) == 0 {
		force.TakenBy = ByMaker
	}
	force.lay(client)
	force.lay(maker)
	return force
}

// lay puts what a card holds over what was known.
func (c *MeasureCard) lay(over MeasureCard) {
	for _, t := range tapes {
		if list := *t.of(&over); len(list) > 0 {
			*t.of(c) = list
			c.comes(t.question, over.Sources[t.question])
		}
	}
	if over.HeadLength != 0 {
		c.HeadLength = over.HeadLength
	}
	if over.HeadBreadth != 0 {
		c.HeadBreadth = over.HeadBreadth
	}
}
