package orders

import (
	"context"
	"fmt"
)

// Private says whether the question is asked under a consent of its own. Its answer is kept in one
// place only, so that it can be erased by itself.
func (q Question) Private() bool {
	on, found := Questions.Find(q.Only.Key)
	return found && on.Kind == Consent
}

// consented refuses to keep a private answer without its own consent.
func (q Question) consented(a Answer, given Answers) error {
	if q.Private() && a.Value != "" && !q.Applies(given) {
		return NewProblem(q.Only.Key, "This is kept only with a yes of its own. Please give that first.")
	}
	return nil
}

// eraseWithdrawn erases the private answers that hung on a consent which is no longer given, and says how
// many there were.
func (s *Store) eraseWithdrawn(ctx context.Context, d Draft, consent string) (n int, err error) {
	for _, q := range Questions {
		if !q.Private() || q.Only.Key != consent || q.Applies(d.Answers) || d.Answers[q.Key] == (Answer{}) {
			continue
		}
		for _, step := range []func() error{
			func() error { return s.eraseNote(ctx, d.ID, q.Key) },
			func() error { return s.enlist(ctx, aNote, d.ID+"/"+q.Key) },
			func() error { return s.enlist(ctx, aNote, d.ID+"/"+consent) }, // an older yes goes with it
		} {
			if err := step(); err != nil {
				return n, fmt.Errorf("erase a private answer of draft %s: %w", d.ID, err)
			}
		}
		delete(d.Answers, q.Key)
		n++
	}
	return n, nil
}

func (s *Store) eraseNote(ctx context.Context, draftID, key string) error {
	return s.writes(ctx).Where("draft_id = ? and question = ?", draftID, key).Delete(&answerRow{}).Error
}
