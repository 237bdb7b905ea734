package orders

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"perchbook/fitting"
)

// A FittingNote is what a fitting really gave. It is never changed; another one is added.
type FittingNote struct {
	ID, CommissionID string
	CommissionNumber string
	Sheet            int    // the fit sheet that was cut by
	Reel             string // that the elastic came from
	Posted           bool   // tried on at home
	Proposed, Real   fitting.Made
	Changed          string // what was changed at the fitting
	Comfort, Hold    string // as the client says; of Comforts and Holds, or "" when not asked
	Said             string // in her words
	Photos           []string
	By               string
	Noted            time.Time
}

// Comforts and Holds are what a client may say of her hat.
var (
	Comforts = []string{"comfortable", "a little tight", "too tight", "a little loose"}
	Holds    = []string{"stays where it is", "slips a little", "slips"}
)

type fittingNoteRow struct {
	ID             string
	CommissionID   string
	Sheet          int
	Reel           string
	Posted         bool
	Proposed, Made fitting.Made `gorm:"serializer:json"`
	Changed        string
	Comfort, Hold  string
	Said           string
	NotedBy        string
	Noted          int64
}

func (fittingNoteRow) TableName() string { return "fitting_notes" }

// numberedNoteRow is a note with its commission's number.
type numberedNoteRow struct {
	Row           fittingNoteRow `gorm:"embedded"`
	Year, Running int
}

func (n numberedNoteRow) note() FittingNote {
	r := n.Row
	return FittingNote{
		ID: r.ID, CommissionID: r.CommissionID, CommissionNumber: number(n.Year, n.Running), Sheet: r.Sheet, Reel: r.Reel, Posted: r.Posted,
		Proposed: r.Proposed, Real: r.Made, Changed: r.Changed, Comfort: r.Comfort, Hold: r.Hold, Said: r.Said, By: r.NotedBy, Noted: moment(r.Noted),
	}
}

type fittingPhotoRow struct {
	ID, NoteID string
	JPEG       []byte `gorm:"column:jpeg"`
}

func (fittingPhotoRow) TableName() string { return "fitting_photos" }

type learningRow struct {
	ID  int
	Off bool
}

func (learningRow) TableName() string { return "learning" }

func (s *Store) notes(ctx context.Context) *query {
	return s.reads(ctx).Table("fitting_notes").Select("fitting_notes.*, commissions.year, commissions.running").
		Joins("join commissions on commissions.id = fitting_notes.commission_id").Order("fitting_notes.noted desc, fitting_notes.id")
}

// FittingNotes lists a commission's notes, the newest first, with the names of their photographs.
func (s *Store) FittingNotes(ctx context.Context, commissionID string) ([]FittingNote, error) {
	list, err := many(s.notes(ctx).Where("commission_id = ?", commissionID), numberedNoteRow.note)
	if err != nil {
		return nil, fmt.Errorf("fitting notes of commission %s: %w", commissionID, err)
	}
	ids := make([]string, len(list))
	for i, n := range list {
		ids[i] = n.ID
	}
	photos, err := many(s.reads(ctx).Select("id, note_id").Where("note_id in ?", ids).Order("id"), func(r fittingPhotoRow) fittingPhotoRow { return r })
	if err != nil {
		return nil, fmt.Errorf("fitting photographs of commission %s: %w", commissionID, err)
	}
	for _, p := range photos {
		n := &list[slices.Index(ids, p.NoteID)]
		n.Photos = append(n.Photos, p.ID)
	}
	return list, nil
}

// FittingPhoto reads a photograph of a fitting; ErrNotFound when it is of another commission.
func (s *Store) FittingPhoto(ctx context.Context, commissionID, photoID string) ([]byte, error) {
	row, err := one[fittingPhotoRow](s.reads(ctx).Where("id = ? and note_id in (select id from fitting_notes where commission_id = ?)", photoID, commissionID))
	if err != nil {
		return nil, fmt.Errorf("fitting photograph %s: %w", photoID, err)
	}
	return row.JPEG, nil
}

// NoteFitting keeps a fitting note with photographs as they were uploaded. It finds by itself what had
// been proposed for the newest fit sheet, before anything was learned. A *Problem has as its key what is
// wrong: made, comfort, hold, changed, said or photographs.
func (s *Store) NoteFitting(ctx context.Context, n FittingNote, uploads [][]byte, by string) (FittingNote, error) {
	pictures, err := developAll(uploads)
	if err != nil {
		return n, err
	}
	if err := n.check(len(uploads)); err != nil {
		return n, err
	}
	return together(ctx, s, func(s *Store) (FittingNote, error) {
		sheets, err := s.Sheets(ctx, n.CommissionID)
		if err != nil {
			return n, err
		}
		if len(sheets) == 0 {
			return n, &Problem{Key: "made", Text: "There is no fit sheet to compare with. Sign one off first."}
		}
		newest := sheets[len(sheets)-1]
		if n.Proposed, err = newest.beforeLearning(); err != nil {
			return n, err
		}
		row := fittingNoteRow{
			ID: newID(), CommissionID: n.CommissionID, Sheet: newest.Number, Reel: strings.TrimSpace(n.Reel), Posted: n.Posted, Proposed: n.Proposed, Made: n.Real,
			Changed: strings.TrimSpace(n.Changed), Comfort: n.Comfort, Hold: n.Hold, Said: strings.TrimSpace(n.Said), NotedBy: by, Noted: millis(s.now()),
		}
		if err := s.writes(ctx).Create(&row).Error; err != nil {
			return n, fmt.Errorf("note fitting of commission %s: %w", n.CommissionID, err)
		}
		for _, jpeg := range pictures {
			if err := s.writes(ctx).Create(&fittingPhotoRow{newID(), row.ID, jpeg}).Error; err != nil {
				return n, fmt.Errorf("photograph of fitting note %s: %w", row.ID, err)
			}
		}
		n.ID, n.Sheet, n.By, n.Noted = row.ID, row.Sheet, by, moment(row.Noted)
		return n, nil
	})
}

func (n FittingNote) check(photographs int) error {
	_, refused := fitting.Learn(fitting.Learned{Fittings: []fitting.FittingNote{{Real: n.Real}}})
	long := func(text string) bool { return len([]rune(text)) > longestNote }
	for _, c := range []struct {
		ok        bool
		key, text string
	}{
		{refused == nil, "made", "No hat has such a figure."},
		{n.Comfort == "" || slices.Contains(Comforts, n.Comfort), "comfort", "Choose one of these."},
		{n.Hold == "" || slices.Contains(Holds, n.Hold), "hold", "Choose one of these."},
		{!long(n.Changed), "changed", fmt.Sprintf("Keep this under %d letters.", longestNote)},
		{!long(n.Said), "said", fmt.Sprintf("Keep this under %d letters.", longestNote)},
		{photographs <= mostPhotos, "photographs", fmt.Sprintf("%d photographs at most are kept with one note.", mostPhotos)},
		{n.Real != (fitting.Made{}) || n.Changed+n.Comfort+n.Hold+n.Said != "" || photographs > 0, "made", "Write down at least one thing that the fitting gave."},
	} {
		if !c.ok {
			return &Problem{Key: c.key, Text: c.text}
		}
	}
	return nil
}

// beforeLearning are the figures that the engine proposed for the sheet's client by itself, and for the
// hat that was settled the elastic.
func (f FitSheet) beforeLearning() (fitting.Made, error) {
	in, settled, err := f.Read()
	if err != nil {
		return fitting.Made{}, err
	}
	cut := settled.Elastic.Cut - settled.Elastic.Learned
	m := fitting.Made{ElasticCut: &cut}
	in.Learned.Off = true
	h := &in.Hat
	h.Base, h.Forward, h.Sideways, h.BrimWidth, h.BrimSlope = nil, nil, nil, nil, nil
	advice, err := fitting.Advise(in)
	if errors.As(err, new(fitting.Refusal)) {
		return m, nil // nothing was proposed; she settled it by herself
	}
	hat := advice.Hat
	m.Base, m.Forward, m.Sideways, m.Slope = hat.Base, hat.Forward, hat.Sideways, hat.BrimSlope
	return m, err
}

// mostLessons is how many of the newest fittings a proposal goes by: what was done years ago says little
// of how she works now. Our choice.
const mostLessons = 200

// Fittings lists the newest notes of all commissions, as many as a proposal goes by, and whether it does.
func (s *Store) Fittings(ctx context.Context) (list []FittingNote, on bool, err error) {
	if list, err = many(s.notes(ctx).Limit(mostLessons), numberedNoteRow.note); err != nil {
		return nil, false, fmt.Errorf("newest fitting notes: %w", err)
	}
	switches, err := many(s.reads(ctx), func(r learningRow) bool { return r.Off })
	if err != nil {
		return nil, false, fmt.Errorf("whether to go by fittings: %w", err)
	}
	return list, len(switches) == 0 || !switches[0], nil
}

// Taught are notes as the engine is told of them.
func Taught(list []FittingNote) []fitting.FittingNote {
	told := make([]fitting.FittingNote, len(list))
	for i, n := range list {
		told[i] = fitting.FittingNote{Reel: n.Reel, Proposed: n.Proposed, Real: n.Real}
	}
	return told
}

// teach tells the engine of the newest fittings, if it is to go by them.
func (s *Store) teach(ctx context.Context, l *fitting.Learned) error {
	list, on, err := s.Fittings(ctx)
	if l.Off = !on; on {
		l.Fittings = Taught(list)
	}
	return err
}

// SetLearning says whether proposals go by what the fittings gave.
func (s *Store) SetLearning(ctx context.Context, on bool) error {
	if err := put(s.writes(ctx), &learningRow{1, !on}); err != nil {
		return fmt.Errorf("switch learning: %w", err)
	}
	return nil
}
