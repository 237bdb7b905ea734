package orders

import (
	"context"
	"errors"
	"fmt"
	"time"

	"gorm.io/gorm"
	"gorm.io/gorm/clause"
)

// Together runs f in one transaction: all that it does is kept, or nothing when it fails. Inside
// another transaction it undoes only its own part.
func (s *Store) Together(ctx context.Context, f func(*Store) error) error {
	return s.writes(ctx).Transaction(func(tx *gorm.DB) error {
		bound := *s
		bound.write, bound.read = tx, tx
		return f(&bound)
	})
}

// Once runs f in one transaction, and only if nothing from source was handled before; else ErrSeen
// and nothing is changed.
func (s *Store) Once(ctx context.Context, source string, f func(*Store) error) error {
	return s.Together(ctx, func(s *Store) error {
		err := s.writes(ctx).Create(&handledRow{Source: source, At: millis(s.now())}).Error
		if errors.Is(err, gorm.ErrDuplicatedKey) {
			return ErrSeen
		} else if err != nil {
			return fmt.Errorf("mark %s handled: %w", source, err)
		}
		return f(s)
	})
}

// together is Together for a function with a result.
func together[T any](ctx context.Context, s *Store, f func(*Store) (T, error)) (T, error) {
	var result T
	err := s.Together(ctx, func(s *Store) (err error) {
		result, err = f(s)
		return err
	})
	if err != nil {
		var none T
		return none, err
	}
	return result, nil
}

// A query is a statement being put together.
type query = gorm.DB

// expression is a value worked out by the database.
func expression(sql string, values ...any) any { return gorm.Expr(sql, values...) }

// ordered is an order that takes values.
func ordered(sql string, values ...any) clause.Expression {
	return clause.OrderBy{Expression: clause.Expr{SQL: sql, Vars: values, WithoutParentheses: true}}
}

func (s *Store) reads(ctx context.Context) *query  { return s.read.WithContext(ctx) }
func (s *Store) writes(ctx context.Context) *query { return s.write.WithContext(ctx) }

// one reads the only row of a query, or ErrNotFound.
func one[Row any](q *query) (Row, error) {
	var row Row
	err := q.Take(&row).Error
	if errors.Is(err, gorm.ErrRecordNotFound) {
		err = ErrNotFound
	}
	return row, err
}

// many reads the rows of a query and turns each into what it stands for.
func many[Row, T any](q *query, turn func(Row) T) ([]T, error) {
	var rows []Row
	if err := q.Find(&rows).Error; err != nil {
		return nil, err
	}
	list := make([]T, len(rows))
	for i, row := range rows {
		list[i] = turn(row)
	}
	return list, nil
}

// replace writes a whole row over the one with that id, which must still be of the version that was
// read; else ErrConflict.
func replace[Row any](q *query, row *Row, id string, version int) error {
	res := q.Model(new(Row)).Where("id = ? and version = ?", id, version).Select("*").Updates(row)
	if res.Error == nil && res.RowsAffected == 0 {
		return ErrConflict
	}
	return res.Error
}

// keepOnly writes the only row of a table of settings: adds it where nothing was saved yet and nobody had
// seen it otherwise, else replaces the version that was read.
func keepOnly[Row any](q *query, row *Row, saved, read int) error {
	if saved == 0 && read == 0 {
		return q.Create(row).Error
	}
	return replace(q, row, "1", read)
}

// addIfNew adds a row unless one with its key is there.
func addIfNew(q *query, row any) error {
	return q.Clauses(clause.OnConflict{DoNothing: true}).Create(row).Error
}

// put adds a row, or writes it over the one with its key.
func put(q *query, row any) error {
	return q.Clauses(clause.OnConflict{UpdateAll: true}).Create(row).Error
}

// taken says whether a statement failed because what must be single is there already.
func taken(err error) bool { return errors.Is(err, gorm.ErrDuplicatedKey) }

func millis(t time.Time) int64 {
	if t.IsZero() {
		return 0
	}
	return t.UnixMilli()
}

func moment(ms int64) time.Time {
	if ms == 0 {
		return time.Time{}
	}
	return time.UnixMilli(ms).UTC()
}

// clock is the present to the millisecond, as it can be kept.
func (s *Store) clock() time.Time { return moment(millis(s.now())) }
