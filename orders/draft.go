package orders

import (
	"context"
	"fmt"
	"time"
)

type draftRow struct {
	ID         string
	Generation int
	Door       string
	Begun      int64
	Changed    int64
	Language   string
}

func (draftRow) TableName() string { return "drafts" }

type answerRow struct {
	DraftID   string `gorm:"primaryKey"`
	Question  string `gorm:"primaryKey"`
	Value     string
	Said      string
	Confirmed bool
	Source    Source `gorm:"serializer:json"`
}

func (answerRow) TableName() string { return "answers" }

func rowOfAnswer(draftID, key string, a Answer) *answerRow {
	return &answerRow{DraftID: draftID, Question: key, Value: a.Value, Said: a.Said, Confirmed: a.Confirmed, Source: a.Source}
}

func (r answerRow) answer() Answer {
	return Answer{Value: r.Value, Said: r.Said, Confirmed: r.Confirmed, Source: r.Source}
}

type amendmentRow struct {
	ID       int
	DraftID  string
	Question string
	Was      Answer `gorm:"serializer:json"`
	Now      Answer `gorm:"serializer:json"`
	At       int64
}

func (amendmentRow) TableName() string { return "amendments" }

// An Amendment is one answer that was given or changed after the draft had been sent in.
type Amendment struct {
	Key      string
	Was, Now Answer
	At       time.Time
}

// privacy is the question whose consent comes before anything is stored.
const privacy = "privacy"

// Begin starts a draft with the consent to the privacy notice as it reads in English, without which nothing
// is stored.
func (s *Store) Begin(ctx context.Context, door string, consent Answer) (Draft, error) {
	n, err := s.PrivacyNotice(ctx)
	if err != nil {
		return Draft{}, err
	}
	return s.BeginIn(ctx, door, consent, English, n.Wording(Phrase.String))
}

// BeginIn is Begin with the wording that was shown, in its language.
func (s *Store) BeginIn(ctx context.Context, door string, consent Answer, language, wording string) (Draft, error) {
	if consent.Value != "yes" {
		return Draft{}, NewProblem(privacy, "Please agree to the privacy notice first; until then nothing is kept.")
	}
	row := draftRow{ID: newID(), Door: door, Begun: millis(s.now()), Changed: millis(s.now())}
	return together(ctx, s, func(s *Store) (Draft, error) {
		if err := s.writes(ctx).Create(&row).Error; err != nil {
			return Draft{}, fmt.Errorf("begin draft: %w", err)
		}
		if err := put(s.writes(ctx), rowOfAnswer(row.ID, privacy, consent)); err != nil {
			return Draft{}, fmt.Errorf("begin draft %s: %w", row.ID, err)
		}
		if err := s.Agree(ctx, row.ID, privacy, language, wording); err != nil {
			return Draft{}, err
		}
		return s.Draft(ctx, row.ID)
	})
}

// Draft reads a draft with its answers; ErrNotFound when there is none.
func (s *Store) Draft(ctx context.Context, id string) (Draft, error) {
	row, err := one[draftRow](s.reads(ctx).Where("id = ?", id))
	if err != nil {
		return Draft{}, fmt.Errorf("draft %s: %w", id, err)
	}
	d := Draft{ID: row.ID, Generation: row.Generation, Door: row.Door, Language: row.Language, Begun: moment(row.Begun), Changed: moment(row.Changed), Answers: Answers{}}
	var answers []answerRow
	if err := s.reads(ctx).Where("draft_id = ?", id).Find(&answers).Error; err != nil {
		return Draft{}, fmt.Errorf("answers of draft %s: %w", id, err)
	}
	for _, a := range answers {
		d.Answers[a.Question] = a.answer()
	}
	err = s.reads(ctx).Model(&commissionRow{}).Where("draft_id = ?", id).Select("id").Scan(&d.CommissionID).Error
	if err != nil {
		return Draft{}, fmt.Errorf("commission of draft %s: %w", id, err)
	}
	return d, nil
}

// Answer keeps one answer. Given after the draft was sent in, it also brings the commission up to
// date: what changed is kept, other tapes make a new measure card, signed fit sheets stay. A private
// answer is a *Problem without its consent, and is erased when that is taken back.
func (s *Store) Answer(ctx context.Context, draftID, key string, a Answer) (Draft, error) {
	q, known := Questions.Find(key)
	if !known {
		return Draft{}, fmt.Errorf("answer in draft %s: no such question: %w", draftID, ErrNotFound)
	}
	erased := 0
	d, err := together(ctx, s, func(s *Store) (Draft, error) {
		d, err := s.Draft(ctx, draftID)
		if err == nil {
			err = q.consented(a, d.Answers)
		}
		if err != nil {
			return Draft{}, err
		}
		was := d.Answers[key]
		if _, known := d.Answers[key]; known && was == a {
			return d, nil
		}
		if err := put(s.writes(ctx), rowOfAnswer(draftID, key, a)); err != nil {
			return Draft{}, fmt.Errorf("answer in draft %s: %w", draftID, err)
		}
		d.Answers[key], d.Changed = a, s.clock()
		if err := s.writes(ctx).Model(&draftRow{}).Where("id = ?", draftID).Updates(map[string]any{"changed": millis(d.Changed)}).Error; err != nil {
			return Draft{}, fmt.Errorf("date the change of draft %s: %w", draftID, err)
		}
		if erased, err = s.eraseWithdrawn(ctx, d, key); err != nil {
			return d, err
		}
		if q.Private() && was.Value != "" {
			if erased++; a.Value == "" {
				err = s.enlist(ctx, aNote, d.ID+"/"+key)
			}
		}
		if err != nil || d.CommissionID == "" {
			return d, err
		}
		return d, s.amend(ctx, d, key, was)
	})
	if err == nil && erased > 0 {
		_ = s.scrub(ctx)
	}
	return d, err
}

// Amendments lists what the client added or changed after sending, oldest first; private answers
// are not among them.
func (s *Store) Amendments(ctx context.Context, draftID string) ([]Amendment, error) {
	list, err := many(s.reads(ctx).Where("draft_id = ?", draftID).Order("id"), func(r amendmentRow) Amendment {
		return Amendment{Key: r.Question, Was: r.Was, Now: r.Now, At: moment(r.At)}
	})
	if err != nil {
		return nil, fmt.Errorf("amendments of draft %s: %w", draftID, err)
	}
	return list, nil
}
