package orders

import (
	"bytes"
	"context"
	"crypto/hmac"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// listName is the list of erasures, within the data folder and beside backups. It is no part of the
// database, so that one that is put back from a backup does not bring back what was erased since.
const listName = "perchbook.erased"

const aboutList = "# Erasures, without names. A database that is older is made to follow them when it is opened. Keep this file beside it.\n"

// Kinds of what is erased by itself.
const (
	aCommission = "commission"
	aDraft      = "draft"
	aNote       = "note" // a private answer, named by draft and question
	aPhotograph = "photograph"
)

// present selects what of a kind is there to be erased.
var present = map[string]string{
	aCommission: "select id from commissions",
	aDraft:      "select id from drafts",
	aNote:       "select draft_id || '/' || question from answers",
	aPhotograph: "select id from photos",
	aMeasure:    "select id from commissions",
}

// An erasure is one line of the list. The mark is a keyed hash of what was erased: nobody without the
// database it came from can tell whose it was.
type erasure struct{ id, kind, mark string }

func (e erasure) String() string { return e.id + " " + e.kind + " " + e.mark }

// A followedRow says that this database has followed a line of the list.
type followedRow struct {
	Erasure string `gorm:"primaryKey"`
}

func (followedRow) TableName() string { return "followed" }

func (s *Store) sealed(kind, id string) string {
	h := hmac.New(sha256.New, s.key)
	h.Write([]byte("erased\x00" + kind + "\x00" + id))
	return hex.EncodeToString(h.Sum(nil))
}

// enlist puts an erasure on the list, and on the disk, before the transaction that erases ends: when that
// is cut short, the next start finishes it.
func (s *Store) enlist(ctx context.Context, kind, id string) error {
	e := erasure{newID(), kind, s.sealed(kind, id)}
	if err := extend(s.list(), e); err != nil {
		return fmt.Errorf("list an erasure: %w", err)
	}
	return s.writes(ctx).Create(&followedRow{e.id}).Error
}

func (s *Store) list() string { return filepath.Join(filepath.Dir(s.file), listName) }

// followErasures carries out again what is on the list and not yet done in this database, as after a
// restore.
func (s *Store) followErasures(ctx context.Context) error {
	all, err := listed(s.list())
	if err != nil || len(all) == 0 {
		return err
	}
	followed, err := many(s.reads(ctx), func(r followedRow) string { return r.Erasure })
	if err != nil {
		return err
	}
	slices.Sort(followed)
	all = slices.DeleteFunc(all, func(e erasure) bool { _, done := slices.BinarySearch(followed, e.id); return done })
	for _, e := range all {
		if err := s.Together(ctx, func(s *Store) error { return s.follow(ctx, e) }); err != nil {
			return fmt.Errorf("erase a %s again: %w", e.kind, err)
		}
	}
	if len(all) == 0 {
		return nil
	}
	return s.scrub(ctx)
}

// follow carries one line out, unless another process has done so meanwhile.
func (s *Store) follow(ctx context.Context, e erasure) error {
	if err := s.writes(ctx).Create(&followedRow{e.id}).Error; taken(err) {
		return nil
	} else if err != nil {
		return err
	}
	var ids []string
	if err := s.reads(ctx).Raw(present[e.kind]).Scan(&ids).Error; err != nil {
		return err
	}
	for _, id := range ids {
		if s.sealed(e.kind, id) == e.mark {
			return s.eraseAgain(ctx, e.kind, id)
		}
	}
	return nil
}

func (s *Store) eraseAgain(ctx context.Context, kind, id string) error {
	switch kind {
	case aCommission:
		return s.eraseCommission(ctx, id, "")
	case aDraft:
		err := s.eraseDraft(ctx, id)
		if errors.Is(err, ErrConflict) { // it was sent in when the erasing had failed
			return nil
		}
		return err
	case aMeasure:
		return s.eraseMeasures(ctx, id)
	case aNote:
		draftID, key, _ := strings.Cut(id, "/")
		return s.eraseNote(ctx, draftID, key)
	}
	return s.erasePhoto(ctx, id)
}

// listed reads a list; none is an empty one. A line that was cut short is passed over: nobody was told
// that its erasure was done.
func listed(file string) ([]erasure, error) {
	body, err := os.ReadFile(file)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	} else if err != nil {
		return nil, fmt.Errorf("read the list of erasures: %w", err)
	}
	var all []erasure
	for line := range strings.Lines(string(body)) {
		f := strings.Fields(line)
		if len(f) == 3 && len(f[0]) == 26 && len(f[2]) == 2*sha256.Size && present[f[1]] != "" {
			all = append(all, erasure{f[0], f[1], f[2]})
		}
	}
	return all, nil
}

// extend adds lines to a list and brings them to the disk.
func extend(file string, more ...erasure) error {
	f, err := os.OpenFile(file, os.O_CREATE|os.O_RDWR|os.O_APPEND, 0o600)
	if err != nil {
		return err
	}
	defer func() { _ = f.Close() }()
	var text bytes.Buffer
	if whole, err := endsWhole(f, &text); err != nil {
		return err
	} else if !whole {
		text.WriteByte('\n') // else the next line would be lost in the one that was cut short
	}
	for _, e := range more {
		fmt.Fprintln(&text, e)
	}
	if _, err := f.Write(text.Bytes()); err != nil {
		return err
	}
	if err := f.Sync(); err != nil {
		return err
	}
	return syncPath(filepath.Dir(file))
}

// endsWhole says whether the last line is finished; an empty list is given its heading.
func endsWhole(f *os.File, text *bytes.Buffer) (bool, error) {
	info, err := f.Stat()
	if err != nil {
		return false, err
	}
	if info.Size() == 0 {
		text.WriteString(aboutList)
		return true, nil
	}
	last := make([]byte, 1)
	_, err = f.ReadAt(last, info.Size()-1)
	return last[0] == '\n', err
}

// joinLists adds to one list what only the other has.
func joinLists(from, to string) error {
	theirs, err := listed(from)
	if err != nil {
		return err
	}
	ours, err := listed(to)
	if err != nil {
		return err
	}
	theirs = slices.DeleteFunc(theirs, func(e erasure) bool { return slices.Contains(ours, e) })
	if len(theirs) == 0 {
		return nil
	}
	if err := extend(to, theirs...); err != nil {
		return fmt.Errorf("keep the list of erasures: %w", err)
	}
	return nil
}
