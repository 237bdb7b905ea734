package orders

import (
	"context"
	"fmt"
	"slices"
	"strings"
)

// mostPhotos of one client go with one question. A modelling choice.
const mostPhotos = 8

// AddPhoto keeps a photograph for a question of that kind: turned upright, shrunk, and encoded anew,
// so that nothing of the file is left but the picture. A *Problem with the question's key says what
// is wrong with the file.
func (s *Store) AddPhoto(ctx context.Context, draftID, key string, upload []byte) (Photo, error) {
	if q, known := Questions.Find(key); !known || q.Kind != Photograph {
		return Photo{}, fmt.Errorf("photograph for draft %s: %w", draftID, ErrNotFound)
	}
	if _, err := s.Draft(ctx, draftID); err != nil {
		return Photo{}, err
	}
	clean, why := develop(upload)
	if !why.Empty() {
		return Photo{}, why.beside(key)
	}
	row := photoRow{ID: newID(), DraftID: draftID, JPEG: clean, Added: millis(s.now())}
	return together(ctx, s, func(s *Store) (Photo, error) {
		err := s.setPhotos(ctx, draftID, key, func(ids []string) ([]string, error) {
			if len(ids) >= mostPhotos {
				return nil, NewProblem(key, "There are %d photographs already. Remove one before you add another.", mostPhotos)
			}
			return append(ids, row.ID), nil
		})
		if err != nil {
			return Photo{}, err
		}
		if err := s.writes(ctx).Create(&row).Error; err != nil {
			return Photo{}, fmt.Errorf("keep photograph %s: %w", row.ID, err)
		}
		return row.photo(), nil
	})
}

func (r photoRow) photo() Photo {
	return Photo{ID: r.ID, DraftID: r.DraftID, JPEG: r.JPEG, Added: moment(r.Added)}
}

// setPhotos changes the list of photographs that is the answer to a question.
func (s *Store) setPhotos(ctx context.Context, draftID, key string, f func([]string) ([]string, error)) error {
	d, err := s.Draft(ctx, draftID)
	if err != nil {
		return err
	}
	ids, err := f(strings.Fields(d.Answers[key].Value))
	if err != nil {
		return err
	}
	_, err = s.Answer(ctx, draftID, key, Answer{Value: strings.Join(ids, " "), Said: photosInWords(len(ids))})
	return err
}

func photosInWords(n int) string {
	if n == 0 {
		return ""
	}
	return photographCount(n).String()
}

// RemovePhoto erases a photograph, also from a database put back later; ErrNotFound when it is not among
// the answers to that question.
func (s *Store) RemovePhoto(ctx context.Context, draftID, key, photoID string) error {
	err := s.Together(ctx, func(s *Store) error {
		d, err := s.Draft(ctx, draftID)
		if err == nil && !slices.Contains(strings.Fields(d.Answers[key].Value), photoID) {
			err = ErrNotFound
		}
		if err == nil {
			err = s.erasePhoto(ctx, photoID)
		}
		if err != nil {
			return fmt.Errorf("erase photograph %s: %w", photoID, err)
		}
		return s.enlist(ctx, aPhotograph, photoID)
	})
	if err == nil {
		_ = s.scrub(ctx)
	}
	return err
}

// erasePhoto takes a photograph away, and its name out of the answer that holds it.
func (s *Store) erasePhoto(ctx context.Context, id string) error {
	row, err := one[photoRow](s.reads(ctx).Select("id", "draft_id").Where("id = ?", id))
	if err != nil {
		return err
	}
	d, err := s.Draft(ctx, row.DraftID)
	if err != nil {
		return err
	}
	for _, q := range Questions {
		if ids := strings.Fields(d.Answers[q.Key].Value); q.Kind == Photograph && slices.Contains(ids, id) {
			left := slices.DeleteFunc(ids, func(other string) bool { return other == id })
			if _, err := s.Answer(ctx, d.ID, q.Key, Answer{Value: strings.Join(left, " "), Said: photosInWords(len(left))}); err != nil {
				return err
			}
		}
	}
	return s.writes(ctx).Where("id = ?", id).Delete(&photoRow{}).Error
}

// Photo reads a photograph of a draft; ErrNotFound when it belongs to another.
func (s *Store) Photo(ctx context.Context, draftID, photoID string) (Photo, error) {
	row, err := one[photoRow](s.reads(ctx).Where("id = ? and draft_id = ?", photoID, draftID))
	if err != nil {
		return Photo{}, fmt.Errorf("photograph %s: %w", photoID, err)
	}
	return row.photo(), nil
}

// developAll turns uploads into clean pictures; a *Problem with key "photographs" says which can't be.
func developAll(uploads [][]byte) ([][]byte, error) {
	var pictures [][]byte
	for _, upload := range uploads {
		clean, why := develop(upload)
		if !why.Empty() {
			return nil, why.beside("photographs")
		}
		pictures = append(pictures, clean)
	}
	return pictures, nil
}
