package orders

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	_ "image/png" // photographs may be PNG files
	"slices"
	"strings"

	"github.com/disintegration/imaging"
)

// What is taken for a photograph. Modelling choices, the bytes within what the server lets in.
const (
	mostBytes   = 12 << 20
	mostPixels  = 50 << 20 // a few bytes of memory each while it is decoded
	longestEdge = 1600     // of what is kept, in pixels
	mostPhotos  = 8        // by one client for one question
	quality     = 85
)

// decoding lets one photograph be decoded at a time, so that many at once cannot fill the memory.
var decoding = make(chan struct{}, 1)

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

// develop turns an upload into a clean JPEG, or says in the client's words why it cannot be one. The
// size in pixels is read before anything is decoded: a small file can hold an enormous picture.
func develop(upload []byte) (clean []byte, why Phrase) {
	if len(upload) > mostBytes {
		return nil, Say("This file is larger than %d MB. Please send a smaller photograph.", mostBytes>>20)
	}
	if tooNew(upload) {
		return nil, Say("This is a HEIC or AVIF file, which cannot be opened here. Set your telephone's camera to JPEG " +
			"(on some telephones \"most compatible\"), or send a screenshot of the picture.")
	}
	size, format, err := image.DecodeConfig(bytes.NewReader(upload))
	switch {
	case err != nil || format != "jpeg" && format != "png":
		return nil, Say("This is no photograph that can be opened here. Please send a JPEG or a PNG file.")
	case size.Width < 1 || size.Height < 1 || size.Width > mostPixels/size.Height:
		return nil, Say("This photograph has too many pixels. Please send a smaller one.")
	}
	decoding <- struct{}{}
	defer func() { <-decoding }()
	picture, err := imaging.Decode(bytes.NewReader(upload), imaging.AutoOrientation(true))
	if err != nil {
		return nil, Say("This photograph is damaged or only part of it has arrived. Please send it again.")
	}
	var out bytes.Buffer
	if err := jpeg.Encode(&out, onWhite(imaging.Fit(picture, longestEdge, longestEdge, imaging.Lanczos)), &jpeg.Options{Quality: quality}); err != nil {
		return nil, Say("This photograph could not be kept. Please send another one.")
	}
	return out.Bytes(), Phrase{}
}

// onWhite puts white behind what is transparent, which JPEG would turn black.
func onWhite(picture image.Image) image.Image {
	flat := image.NewRGBA(picture.Bounds())
	draw.Draw(flat, flat.Bounds(), image.NewUniform(color.White), image.Point{}, draw.Src)
	draw.Draw(flat, flat.Bounds(), picture, picture.Bounds().Min, draw.Over)
	return flat
}

// tooNew recognises the file family of HEIC and AVIF by the brand in its first box.
func tooNew(upload []byte) bool {
	if len(upload) < 12 || string(upload[4:8]) != "ftyp" {
		return false
	}
	return slices.Contains([]string{"heic", "heix", "heim", "heis", "hevc", "hevx", "mif1", "msf1", "avif", "avis"}, string(upload[8:12]))
}
