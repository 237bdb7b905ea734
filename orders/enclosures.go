package orders

import (
	"bytes"
	"context"
	"fmt"
	"slices"
)

type letterPhotoRow struct {
	ID, LetterID string
	JPEG         []byte `gorm:"column:jpeg"`
}

func (letterPhotoRow) TableName() string { return "letter_photos" }

type letterPaperRow struct {
	ID, LetterID string
	PDF          []byte `gorm:"column:pdf"`
}

func (letterPaperRow) TableName() string { return "letter_papers" }

// What may go with one letter (our choices).
const (
	MostEnclosed = 4
	MostPDF      = 8 << 20 // bytes
)

// enclosures are clean photographs, and PDF files as they came: nothing here ever opens one.
type enclosures struct{ photos, papers [][]byte }

// toEnclose tells uploads apart by what is in them, whatever they are called; a *Problem with key
// "enclosed" says what can't go with a letter.
func toEnclose(uploads [][]byte) (enclosures, error) {
	var e enclosures
	if len(uploads) > MostEnclosed {
		return e, NewProblem("enclosed", "At most %d files go with one letter.", MostEnclosed)
	}
	for _, upload := range uploads {
		if bytes.HasPrefix(upload, []byte("%PDF-")) {
			if why := wrongPDF(upload); !why.Empty() {
				return e, why.beside("enclosed")
			}
			e.papers = append(e.papers, upload)
			continue
		}
		clean, why := develop(upload)
		if !why.Empty() {
			return e, why.beside("enclosed")
		}
		e.photos = append(e.photos, clean)
	}
	return e, nil
}

// wrongPDF says what is wrong with a file that begins as a PDF does. By ISO 32000-1, 7.5.5, it ends with
// %%EOF; common readers look for that in the last 1024 bytes.
func wrongPDF(file []byte) Phrase {
	switch {
	case len(file) > MostPDF:
		return Say("A PDF file may have %d MB at most. Please send a smaller one.", MostPDF>>20)
	case !bytes.Contains(file[max(0, len(file)-1024):], []byte("%%EOF")):
		return Say("This PDF file is damaged or only part of it has arrived. Please send it again.")
	}
	return Phrase{}
}

// enclose keeps what goes with a letter.
func (s *Store) enclose(ctx context.Context, l *Letter, e enclosures) error {
	for _, jpeg := range e.photos {
		row := letterPhotoRow{newID(), l.ID, jpeg}
		if err := s.writes(ctx).Create(&row).Error; err != nil {
			return fmt.Errorf("photograph of letter %s: %w", l.ID, err)
		}
		l.Photos = append(l.Photos, row.ID)
	}
	for _, pdf := range e.papers {
		row := letterPaperRow{newID(), l.ID, pdf}
		if err := s.writes(ctx).Create(&row).Error; err != nil {
			return fmt.Errorf("paper of letter %s: %w", l.ID, err)
		}
		l.Papers = append(l.Papers, row.ID)
	}
	return nil
}

// withEnclosures adds to letters the names of what goes with them, in two queries.
func (s *Store) withEnclosures(ctx context.Context, list []Letter, which any) ([]Letter, error) {
	for table, add := range map[string]func(*Letter, string){
		"letter_photos": func(l *Letter, id string) { l.Photos = append(l.Photos, id) },
		"letter_papers": func(l *Letter, id string) { l.Papers = append(l.Papers, id) },
	} {
		rows, err := many(s.reads(ctx).Table(table).Select("id, letter_id").Where("letter_id in (?)", which).Order("rowid"), func(r letterPhotoRow) letterPhotoRow { return r })
		if err != nil {
			return nil, err
		}
		for _, r := range rows {
			if i := slices.IndexFunc(list, func(l Letter) bool { return l.ID == r.LetterID }); i >= 0 {
				add(&list[i], r.ID)
			}
		}
	}
	return list, nil
}

// LetterPhoto reads a photograph that went with a letter, and says whose letter about which commission;
// ErrNotFound when there is none.
func (s *Store) LetterPhoto(ctx context.Context, photoID string) (jpeg []byte, l Letter, err error) {
	row, err := one[letterPhotoRow](s.reads(ctx).Where("id = ?", photoID))
	if err == nil {
		l, err = s.letter(ctx, row.LetterID)
	}
	if err != nil {
		return nil, Letter{}, fmt.Errorf("photograph %s: %w", photoID, err)
	}
	return row.JPEG, l, nil
}

// LetterPaper reads a PDF file that went with a letter, as it came, and says whose letter about which
// commission; ErrNotFound when there is none.
func (s *Store) LetterPaper(ctx context.Context, paperID string) (pdf []byte, l Letter, err error) {
	row, err := one[letterPaperRow](s.reads(ctx).Where("id = ?", paperID))
	if err == nil {
		l, err = s.letter(ctx, row.LetterID)
	}
	if err != nil {
		return nil, Letter{}, fmt.Errorf("paper %s: %w", paperID, err)
	}
	return row.PDF, l, nil
}

func (s *Store) letter(ctx context.Context, id string) (Letter, error) {
	row, err := one[letterRow](s.reads(ctx).Where("id = ?", id))
	return row.letter(), err
}
