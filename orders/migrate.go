package orders

import (
	"context"
	"embed"
	"fmt"
	"io/fs"

	"github.com/pressly/goose/v3"
	"gorm.io/gorm"
)

//go:embed migrations/*.sql
var migrationFiles embed.FS

// migrate brings the schema up to date, one transaction a file. It touches nothing when the file
// was written by a newer program, which knows columns that this one would lose.
func migrate(ctx context.Context, db *gorm.DB) error {
	pool, err := db.DB()
	if err != nil {
		return err
	}
	files, err := fs.Sub(migrationFiles, "migrations")
	if err != nil {
		return err
	}
	steps, err := goose.NewProvider(goose.DialectSQLite3, pool, files)
	if err != nil {
		return fmt.Errorf("read migrations: %w", err)
	}
	have, know, err := steps.GetVersions(ctx)
	if err != nil {
		return fmt.Errorf("schema version: %w", err)
	}
	if have > know {
		return fmt.Errorf("the file has schema %d and this program knows schemas up to %d: use the newer program", have, know)
	}
	if _, err := steps.Up(ctx); err != nil {
		return fmt.Errorf("migrate from schema %d: %w", have, err)
	}
	return nil
}
