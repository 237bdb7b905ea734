package orders

import (
	"context"
	"fmt"
	"log/slog"
	"net/url"
	"os"
	"path/filepath"
	"time"

	"gorm.io/driver/sqlite"
	"gorm.io/gorm"
	"gorm.io/gorm/logger"
)

// fileName is the database within the data folder.
const fileName = "perchbook.db"

// A Store keeps everything the workroom knows, in one SQLite file. It is safe for use by several
// goroutines, and several processes may open the same folder.
//
// Inside Once and Together use only the Store that is handed over: the outer one would wait for it.
type Store struct {
	write  *gorm.DB // one connection, so that writers queue here and not in the database
	read   *gorm.DB // several; inside a transaction the same as write
	file   string
	now    func() time.Time
	origin string
	mail   bool
	key    []byte // of private links
}

// Settings are what a Store is told from outside.
type Settings struct {
	Now    func() time.Time // nil: time.Now
	Origin string           // public address put into links, "http://localhost:8017"
	Log    *slog.Logger     // slow statements, without their values; nil: slog.Default
	Mail   bool             // letters can go by mail
	Ran    func()           // called after every statement, so that a test can count them; nil: nothing

	Existing bool // open only a database that is there: a mistyped folder is no new workroom
}

// Open opens or makes the database in folder dir, made so that only its owner may enter, brings its
// schema up to date, and erases from it again what was erased after it had been backed up. It fails when
// the file was made by a newer program.
func Open(ctx context.Context, dir string, set Settings) (*Store, error) {
	if set.Now == nil {
		set.Now = time.Now
	}
	if set.Log == nil {
		set.Log = slog.Default()
	}
	file, err := place(dir, set.Existing)
	if err != nil {
		return nil, err
	}
	s := &Store{file: file, now: set.Now, origin: set.Origin, mail: set.Mail}
	if err := s.connect(ctx, file, slowOnly(set.Log, time.Second, set.Ran)); err != nil {
		_ = s.Close()
		return nil, fmt.Errorf("open %s: %w", file, err)
	}
	return s, nil
}

func (s *Store) connect(ctx context.Context, file string, log slow) (err error) {
	if s.write, err = dial(file, writing, 1, log); err != nil {
		return err
	}
	if err = migrate(ctx, s.write); err != nil {
		return err
	}
	if s.read, err = dial(file, reading, 8, log); err != nil {
		return err
	}
	if err = checkSettings(ctx, s.write, s.read); err != nil {
		return err
	}
	if s.key, err = s.linkKey(ctx); err != nil {
		return err
	}
	return s.followErasures(ctx)
}

// place makes the folder and the file, both for their owner only; the file's companions inherit that.
// A folder that is there already keeps its own rights.
func place(dir string, existing bool) (string, error) {
	if _, err := os.Stat(filepath.Join(dir, fileName)); existing && err != nil {
		return "", fmt.Errorf("no workroom is kept in %s: %w", dir, err)
	}
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return "", fmt.Errorf("data folder: %w", err)
	}
	file, err := filepath.Abs(filepath.Join(dir, fileName))
	if err != nil {
		return "", fmt.Errorf("data folder: %w", err)
	}
	f, err := os.OpenFile(file, os.O_CREATE|os.O_RDWR, 0o600)
	if err != nil {
		return "", fmt.Errorf("data file: %w", err)
	}
	return file, f.Close()
}

// Settings go into the address: the pool opens connections later, which a PRAGMA statement would
// not reach.
const (
	writing = "_journal_mode=WAL&_foreign_keys=1&_synchronous=FULL&_busy_timeout=5000&_secure_delete=on&_txlock=immediate&_stmt_cache_size=100"
	reading = "mode=ro&_query_only=1&_foreign_keys=1&_busy_timeout=5000&_stmt_cache_size=100"
)

func dial(file, settings string, most int, log slow) (*gorm.DB, error) {
	address := (&url.URL{Scheme: "file", Path: file, RawQuery: settings}).String()
	db, err := gorm.Open(sqlite.Open(address), &gorm.Config{TranslateError: true, Logger: log})
	if err != nil {
		return nil, err
	}
	pool, err := db.DB()
	if err != nil {
		return nil, err
	}
	pool.SetMaxOpenConns(most)
	pool.SetMaxIdleConns(most)
	return db, nil
}

// checkSettings asks the database what it made of the addresses, since it ignores what it does not
// understand.
func checkSettings(ctx context.Context, write, read *gorm.DB) error {
	for _, want := range []struct {
		db          *gorm.DB
		name, value string
	}{
		{write, "journal_mode", "wal"}, {write, "foreign_keys", "1"}, {write, "synchronous", "2"},
		{write, "busy_timeout", "5000"}, {write, "secure_delete", "1"}, {read, "query_only", "1"}, {read, "busy_timeout", "5000"},
	} {
		var got string
		if err := want.db.WithContext(ctx).Raw("pragma " + want.name).Scan(&got).Error; err != nil {
			return fmt.Errorf("pragma %s: %w", want.name, err)
		}
		if got != want.value {
			return fmt.Errorf("pragma %s is %q and must be %q", want.name, got, want.value)
		}
	}
	return nil
}

// At is the same Store with its clock standing at t, for filling a demonstration with a past.
func (s *Store) At(t time.Time) *Store {
	then := *s
	then.now = func() time.Time { return t }
	return &then
}

// Close lets go of the file. Nothing may use the Store afterwards.
func (s *Store) Close() error {
	var first error
	for _, db := range []*gorm.DB{s.read, s.write} { // the writer last: it folds the log into the file
		if db == nil {
			continue
		}
		pool, err := db.DB()
		if err == nil {
			err = pool.Close()
		}
		if err != nil && first == nil {
			first = err
		}
	}
	return first
}

// Ping says whether the database answers.
func (s *Store) Ping(ctx context.Context) error {
	var one int
	return s.reads(ctx).Raw("select count(*) from secrets").Scan(&one).Error
}

// slow is a logger of slow statements. It keeps quiet about errors, which are returned and logged
// once by whoever decides about them, and never shows a statement's values.
type slow struct {
	logger.Interface
	ran func()
}

func slowOnly(log *slog.Logger, after time.Duration, ran func()) slow {
	if ran == nil {
		ran = func() {}
	}
	return slow{logger.NewSlogLogger(log, logger.Config{LogLevel: logger.Warn, SlowThreshold: after, ParameterizedQueries: true}), ran}
}

func (l slow) LogMode(level logger.LogLevel) logger.Interface {
	return slow{l.Interface.LogMode(level), l.ran}
}

func (l slow) Trace(ctx context.Context, begin time.Time, what func() (string, int64), _ error) {
	l.ran()
	l.Interface.Trace(ctx, begin, what, nil)
}

// ParamsFilter drops the values. gorm looks for it by name, and embedding the interface hides it.
func (l slow) ParamsFilter(_ context.Context, sql string, _ ...any) (string, []any) { return sql, nil }
