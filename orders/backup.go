package orders

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
)

// Backup writes a copy of everything, link key included, into a file that must not be there yet, and
// checks it before it takes that name. The workroom may go on working meanwhile.
func (s *Store) Backup(ctx context.Context, file string) error {
	if _, err := os.Lstat(file); err == nil {
		return fmt.Errorf("backup: %s is there already and is left alone", file)
	} else if !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("backup: %w", err)
	}
	folder, err := os.MkdirTemp(filepath.Dir(file), ".perchbook-backup-") // 0700, on the same disk
	if err != nil {
		return fmt.Errorf("backup: %w", err)
	}
	defer func() { _ = os.RemoveAll(folder) }()
	part := filepath.Join(folder, "part.db")
	if err := s.reads(ctx).Exec("vacuum into ?", part).Error; err != nil {
		return fmt.Errorf("backup: copy: %w", err)
	}
	if err := verify(ctx, part); err != nil {
		return fmt.Errorf("backup: %w", err)
	}
	if err := finish(part, file); err != nil {
		return fmt.Errorf("backup: %w", err)
	}
	return nil
}

// verify opens a copy by itself and lets SQLite read all of it.
func verify(ctx context.Context, file string) error {
	address := (&url.URL{Scheme: "file", Path: file, RawQuery: "mode=ro"}).String()
	db, err := sql.Open("sqlite3", address)
	if err != nil {
		return err
	}
	defer func() { _ = db.Close() }()
	var said string
	if err := db.QueryRowContext(ctx, "pragma integrity_check").Scan(&said); err != nil {
		return fmt.Errorf("check the copy: %w", err)
	}
	if said != "ok" {
		return fmt.Errorf("the copy is damaged: %s", said)
	}
	return nil
}

// finish brings a finished file to the disk and gives it its name.
func finish(part, file string) error {
	if err := os.Chmod(part, 0o600); err != nil {
		return err
	}
	if err := syncPath(part); err != nil {
		return err
	}
	if err := os.Rename(part, file); err != nil {
		return err
	}
	return syncPath(filepath.Dir(file))
}

func syncPath(path string) error {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	if err := f.Sync(); err != nil {
		_ = f.Close()
		return err
	}
	return f.Close()
}
