package orders

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"time"
)

// A Notice is the privacy notice, part by part, as page and chat show it. The English must stay here, where
// the catalogues look for it.
type Notice []NoticePart

// A NoticePart is one heading of the notice with what stands under it.
type NoticePart struct{ Heading, Text Phrase }

// PrivacyNotice is what a client agrees to before anything is stored. It follows the studio's name and the
// times that the milliner has set.
func (s *Store) PrivacyNotice(ctx context.Context) (Notice, error) {
	st, err := s.Studio(ctx)
	if err != nil {
		return nil, err
	}
	k, err := s.Keeping(ctx)
	if err != nil {
		return nil, err
	}
	return Notice{
		{Say("What is kept, and why"), Say("Your name and one way to reach you; the occasion; the measurements of your head; how you wear your hair; and whatever else you choose to add. Photographs are never asked for, only welcome. All of it serves one end: a hat that fits you.")},
		{Say("Who sees it"), Say("%s and nobody else. It stays on the studio’s own machine and in the backups that the studio makes of it; these pages load nothing from anywhere else. Only if you choose to write by a messenger do your messages pass through that messenger’s own servers.", st.Name)},
		{Say("How long"), Say("While your hat is being made. Your measurements, your face and your photographs are kept for %d months after it was handed over, in case it needs mending or you want another; then the studio erases them, or writes down on your page why it keeps them longer. You can erase them sooner. Answers that you never send in are erased %d days after the last one, and you can erase them yourself before that. A backup made earlier holds what was erased until it is replaced.", k.Months, k.DraftDays)},
		{Say("Your rights"), Say("You may have a copy of everything, have it corrected, and have it erased. On your own page you can do all of that yourself, and erase a note about your health or your faith by itself.")},
	}, nil
}

// Wording is the whole notice as one text, with what is asked in the end, as put by say, which speaks one
// language.
func (n Notice) Wording(say func(Phrase) string) string {
	q, _ := Questions.Find(privacy)
	return say(Phrase{English: q.Hint}) + "\n\n" + n.Body(say) + "\n\n" + say(Phrase{English: q.Label})
}

// Body is the parts of the notice as one text.
func (n Notice) Body(say func(Phrase) string) string {
	var parts []string
	for _, p := range n {
		parts = append(parts, say(p.Heading), say(p.Text))
	}
	return strings.Join(parts, "\n\n")
}

// English is the language in which a wording stands that no door has put into another.
const English = "en"

// A Consented is a consent given: which wording, in which language, and when.
type Consented struct {
	Question, Language, Wording string
	Version                     int
	At                          time.Time
}

type noticeRow struct {
	Version                     int `gorm:"primaryKey"`
	Question, Language, Wording string
	Since                       int64
}

func (noticeRow) TableName() string { return "notices" }

type consentRow struct {
	ID                int
	DraftID, Question string
	Version           int
	At                int64
}

func (consentRow) TableName() string { return "consents" }

// Agree keeps that a client has agreed to a wording. One that was not shown before gets the next version.
func (s *Store) Agree(ctx context.Context, draftID, question, language, wording string) error {
	return s.Together(ctx, func(s *Store) error {
		shown, err := one[noticeRow](s.reads(ctx).Where("question = ? and language = ? and wording = ?", question, language, wording))
		if errors.Is(err, ErrNotFound) {
			shown = noticeRow{Question: question, Language: language, Wording: wording, Since: millis(s.now())}
			err = s.writes(ctx).Create(&shown).Error
		}
		if err == nil {
			err = s.writes(ctx).Create(&consentRow{DraftID: draftID, Question: question, Version: shown.Version, At: millis(s.now())}).Error
		}
		if err != nil {
			return fmt.Errorf("keep a consent of draft %s: %w", draftID, err)
		}
		return nil
	})
}

type consentedRow struct {
	Notice noticeRow `gorm:"embedded"`
	At     int64
}

// Consents lists what was agreed to in a draft, oldest first.
func (s *Store) Consents(ctx context.Context, draftID string) ([]Consented, error) {
	q := s.reads(ctx).Table("consents").Select("notices.*, consents.at").Joins("join notices on notices.version = consents.version").
		Where("consents.draft_id = ?", draftID).Order("consents.id")
	list, err := many(q, func(r consentedRow) Consented {
		return Consented{r.Notice.Question, r.Notice.Language, r.Notice.Wording, r.Notice.Version, moment(r.At)}
	})
	if err != nil {
		return nil, fmt.Errorf("consents of draft %s: %w", draftID, err)
	}
	return list, nil
}

// AgreedTo is the privacy notice that the holder of a draft has agreed to last; the zero Consented when that
// was before wordings were kept.
func (s *Store) AgreedTo(ctx context.Context, draftID string) (Consented, error) {
	all, err := s.Consents(ctx, draftID)
	var last Consented
	for _, c := range all {
		if c.Question == privacy {
			last = c
		}
	}
	return last, err
}

// Outdated says whether what a draft's holder has agreed to is no longer what the notice says in the language
// in which it was read; put speaks that language.
func (s *Store) Outdated(ctx context.Context, draftID string, put func(language string, p Phrase) string) (bool, error) {
	agreed, err := s.AgreedTo(ctx, draftID)
	if err != nil {
		return false, err
	}
	n, err := s.PrivacyNotice(ctx)
	return agreed.Wording != n.Wording(func(p Phrase) string { return put(agreed.Language, p) }), err
}
