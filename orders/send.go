package orders

import (
	"context"
	"fmt"
	"maps"
	"reflect"
	"slices"
	"time"
)

// madeToOrder is the only kind of commission so far.
const madeToOrder = "made"

// Send turns a draft into a commission with client, measure card, history and, when she came by a
// chat, a letter. Sent twice it returns the same commission. A missing answer is a *Problem with its
// key. Answers whose question no longer applies are dropped.
func (s *Store) Send(ctx context.Context, draftID string) (Commission, error) {
	return together(ctx, s, func(s *Store) (Commission, error) {
		d, err := s.Draft(ctx, draftID)
		if err != nil {
			return Commission{}, err
		}
		if d.CommissionID != "" {
			return s.Commission(ctx, d.CommissionID)
		}
		if q, more := Questions.Missing(d.Answers); more {
			return Commission{}, NewProblem(q.Key, "“%s” is still to be answered before this can be sent.", Phrase{English: q.Label})
		}
		if err := s.dropUnasked(ctx, d); err != nil {
			return Commission{}, err
		}
		return s.commissionFrom(ctx, d)
	})
}

// dropUnasked removes answers to questions that no longer apply.
func (s *Store) dropUnasked(ctx context.Context, d Draft) error {
	for key := range d.Answers {
		if q, known := Questions.Find(key); known && q.Applies(d.Answers) {
			continue
		}
		gone := s.writes(ctx).Where("draft_id = ? and question = ?", d.ID, key).Delete(&answerRow{})
		if gone.Error != nil {
			return fmt.Errorf("drop an answer of draft %s: %w", d.ID, gone.Error)
		}
		delete(d.Answers, key)
	}
	return nil
}

// commissionFrom makes client and commission, and all that comes with them.
func (s *Store) commissionFrom(ctx context.Context, d Draft) (Commission, error) {
	client := clientRow{ID: newID(), Name: d.Answers["name"].Value, Reach: d.Answers["reach"].Value, Version: 1, Language: d.Language}
	if err := s.writes(ctx).Create(&client).Error; err != nil {
		return Commission{}, fmt.Errorf("make client of draft %s: %w", d.ID, err)
	}
	c, err := s.makeCommission(ctx, client.ID, d)
	if err != nil {
		return c, err
	}
	tie := s.writes(ctx).Model(&chatRow{}).Where("draft_id = ?", d.ID).Updates(map[string]any{"client_id": client.ID})
	if tie.Error != nil {
		return c, fmt.Errorf("tie chat of draft %s: %w", d.ID, tie.Error)
	}
	if err := s.receive(ctx, c, d); err != nil {
		return c, err
	}
	return s.Commission(ctx, c.ID) // it may have moved on by now
}

func (s *Store) makeCommission(ctx context.Context, clientID string, d Draft) (Commission, error) {
	zone, err := s.zone(ctx)
	if err != nil {
		return Commission{}, err
	}
	row := commissionRow{
		ID: newID(), Year: s.now().In(zone).Year(), ClientID: clientID, DraftID: d.ID, Kind: madeToOrder, Stage: Enquiry,
		Occasion: d.Answers["occasion"].Value, Day: d.Answers["day"].Value, Version: 1, Made: millis(s.now()),
	}
	last := s.reads(ctx).Raw("select coalesce(max(running), 0) from "+
		"(select year, running from commissions union all select year, running from erasures) where year = ?", row.Year)
	if err := last.Scan(&row.Running).Error; err != nil {
		return Commission{}, fmt.Errorf("number of the last commission: %w", err)
	}
	row.Running++
	if err := s.writes(ctx).Create(&row).Error; err != nil {
		return Commission{}, fmt.Errorf("make commission of draft %s: %w", d.ID, err)
	}
	return s.Commission(ctx, row.ID)
}

// receive begins the history, keeps the tapes, and thanks a client who can be written to.
func (s *Store) receive(ctx context.Context, c Commission, d Draft) error {
	begun := moveRow{CommissionID: c.ID, Entered: Enquiry, Who: ByClient, At: millis(s.now())}
	if err := s.writes(ctx).Create(&begun).Error; err != nil {
		return fmt.Errorf("history of commission %s: %w", c.ID, err)
	}
	if card := cardOf(d.Answers); !card.empty() {
		card.CommissionID = c.ID
		if err := s.keepCard(ctx, &card); err != nil {
			return err
		}
		if err := s.measuredNow(ctx, c, ByClient); err != nil {
			return err
		}
	}
	way, err := s.wayTo(ctx, c.ClientID)
	if err != nil || way.Channel == "" {
		return err
	}
	_, err = s.inform(ctx, c.ID, fmt.Sprintf("Thank you, your enquiry has arrived. It has the number %s. "+
		"On your own page you can see where the hat stands and add what you left out: {link}", c.Number))
	return err
}

// amend brings a commission up to date with one answer that was changed after sending.
func (s *Store) amend(ctx context.Context, d Draft, key string, was Answer) error {
	if q, _ := Questions.Find(key); !q.Private() {
		note := amendmentRow{DraftID: d.ID, Question: key, Was: was, Now: d.Answers[key], At: millis(s.now())}
		if err := s.writes(ctx).Create(&note).Error; err != nil {
			return fmt.Errorf("amend draft %s: %w", d.ID, err)
		}
	}
	c, err := s.Commission(ctx, d.CommissionID)
	if err != nil {
		return err
	}
	if err := s.setClient(ctx, c.ClientID, d.Answers); err != nil {
		return err
	}
	if c, err = s.setOccasion(ctx, c, d.Answers); err != nil {
		return err
	}
	if err := s.amendCard(ctx, c, d.Answers, key); err != nil {
		return err
	}
	return s.amendFit(ctx, c, d.Answers, key, was)
}

// amendFit makes the milliner look again before she signs, when the answer bears on the fit.
func (s *Store) amendFit(ctx context.Context, c Commission, a Answers, key string, was Answer) error {
	st, err := s.Studio(ctx)
	if err != nil {
		return err
	}
	before := maps.Clone(a)
	before[key] = was
	tape := slices.ContainsFunc(tapes, func(t tape) bool { return t.question == key })
	if !tape && key != "wearer" && reflect.DeepEqual(inputOf(before, MeasureCard{}, st), inputOf(a, MeasureCard{}, st)) {
		return nil
	}
	return s.bumpWorking(ctx, c.ID)
}

func (s *Store) setOccasion(ctx context.Context, c Commission, a Answers) (Commission, error) {
	occasion, day := a["occasion"].Value, a["day"].Value
	if occasion == c.Occasion && day == c.Day {
		return c, nil
	}
	return s.edit(ctx, c.ID, func(r *commissionRow) { r.Occasion, r.Day = occasion, day })
}

// amendCard adds a measure card when the changed answer was a tape.
func (s *Store) amendCard(ctx context.Context, c Commission, a Answers, key string) error {
	for _, t := range tapes {
		if card := cardOf(a); t.question == key && !card.empty() {
			card.CommissionID = c.ID
			if err := s.keepCard(ctx, &card); err != nil {
				return err
			}
			return s.measuredNow(ctx, c, ByClient)
		}
	}
	return nil
}

// zone is the studio's.
func (s *Store) zone(ctx context.Context) (*time.Location, error) {
	st, err := s.Studio(ctx)
	if err != nil {
		return nil, err
	}
	zone, err := time.LoadLocation(st.Zone)
	if err != nil {
		return nil, fmt.Errorf("studio's time zone: %w", err)
	}
	return zone, nil
}
