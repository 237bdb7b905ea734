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
// checks it before it takes that name. The list of erasures goes beside it. The workroom may go on working
// meanwhile.
func (s *Store) Backup(ctx context.Context, file string) error {
	err := replicate(ctx, file, func(part string) error { return copyTo(ctx, s.file, part) })
	if err == nil {
		err = joinLists(s.list(), filepath.Join(filepath.Dir(file), listName))
	}
	if err != nil {
		return fmt.Errorf("backup: %w", err)
	}
	return nil
}

// Restore puts a backup into folder dir, where no database may be, with the list of erasures that lies
// beside it. The next Open erases from it again what it must not bring back.
func Restore(ctx context.Context, file, dir string) error {
	err := os.MkdirAll(dir, 0o700)
	if err == nil {
		err = withoutRemains(dir)
	}
	if err == nil {
		err = joinLists(filepath.Join(filepath.Dir(file), listName), filepath.Join(dir, listName))
	}
	if err == nil {
		err = replicate(ctx, filepath.Join(dir, fileName), func(part string) error { return copyTo(ctx, file, part) })
	}
	if err != nil {
		return fmt.Errorf("restore: %w", err)
	}
	return nil
}

// withoutRemains refuses a folder in which a log of another database lies: it would be read into the one
// that is put beside it.
func withoutRemains(dir string) error {
	for _, end := range []string{"", "-wal", "-shm"} {
		file := filepath.Join(dir, fileName+end)
		if _, err := os.Lstat(file); err == nil {
			return fmt.Errorf("%s is there: move it and its companions away, but leave %s where it is", file, listName)
		} else if !errors.Is(err, fs.ErrNotExist) {
			return err
		}
	}
	return nil
}

// replicate lets copy write beside the new file, and gives what it wrote the file's name only when
// it is sound.
func replicate(ctx context.Context, file string, copy func(part string) error) error {
	if _, err := os.Lstat(file); err == nil {
		return fmt.Errorf("%s is there already and is left alone", file)
	} else if !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	folder, err := os.MkdirTemp(filepath.Dir(file), ".perchbook-backup-") // 0700, on the same disk
	if err != nil {
		return err
	}
	defer func() { _ = os.RemoveAll(folder) }()
	part := filepath.Join(folder, "part.db")
	if err := copy(part); err != nil {
		return err
	}
	if err := verify(ctx, part); err != nil {
		return err
	}
	return finish(part, file)
}

// alone opens a file for one statement; the Store's own readers may not even write a copy.
func alone(file string) (*sql.DB, error) {
	return sql.Open("sqlite3", (&url.URL{Scheme: "file", Path: file, RawQuery: "mode=ro&_busy_timeout=5000"}).String())
}

func copyTo(ctx context.Context, file, part string) error {
	db, err := alone(file)
	if err != nil {
		return err
	}
	defer func() { _ = db.Close() }()
	if _, err := db.ExecContext(ctx, "vacuum into ?", part); err != nil {
		return fmt.Errorf("copy: %w", err)
	}
	return nil
}

// verify lets SQLite read all of a copy.
func verify(ctx context.Context, file string) error {
	db, err := alone(file)
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
