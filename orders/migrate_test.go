package orders

import (
	"database/sql"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Every database in testdata/db was written by a released program: the demonstration, backed up into
// a file named after its schema. A migration must bring each up to date and lose no row.
func TestDatabasesOfEveryReleaseStillOpen(t *testing.T) {
	files, err := filepath.Glob("../testdata/db/*.db")
	require.NoError(t, err)
	require.NotEmpty(t, files, "there is one of every release")
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			dir := t.TempDir()
			old, err := os.ReadFile(file)
			require.NoError(t, err)
			require.NoError(t, os.WriteFile(filepath.Join(dir, fileName), old, 0o600))
			before := rowsOf(t, filepath.Join(dir, fileName))
			s, _ := openAt(t, dir)
			for table, rows := range before {
				if table != "goose_db_version" {
					assert.Equal(t, rows, rowsOf(t, s.file)[table], "rows of %s", table)
				}
			}
			var broken int
			require.NoError(t, s.reads(ctx).Raw("select count(*) from pragma_foreign_key_check").Scan(&broken).Error)
			require.Zero(t, broken, "references that lead nowhere")
			readAll(t, s)
		})
	}
}

// rowsOf counts the rows of every table.
func rowsOf(t *testing.T, file string) map[string]int {
	t.Helper()
	db, err := sql.Open("sqlite3", file)
	require.NoError(t, err)
	defer func() { _ = db.Close() }()
	names, err := db.Query("select name from sqlite_master where type = 'table' and name not like 'sqlite_%'")
	require.NoError(t, err)
	var tables []string
	for names.Next() {
		var name string
		require.NoError(t, names.Scan(&name))
		tables = append(tables, name)
	}
	require.NoError(t, names.Err())
	counts := map[string]int{}
	for _, name := range tables {
		var n int
		require.NoError(t, db.QueryRow("select count(*) from "+name).Scan(&n))
		counts[name] = n
	}
	return counts
}

// readAll reads whatever the pages read.
func readAll(t *testing.T, s *Store) {
	t.Helper()
	all, err := s.Commissions(ctx)
	require.NoError(t, err)
	require.NotEmpty(t, all)
	var sheets, hours, letters int
	for _, c := range all {
		d, err := s.Draft(ctx, c.DraftID)
		require.NoError(t, err)
		require.NotEmpty(t, d.Answers)
		_, err = s.Fitted(ctx, c.ID)
		require.NoError(t, err)
		history, err := s.History(ctx, c.ID)
		require.NoError(t, err)
		require.Equal(t, c.Stage, history[len(history)-1].To, "the history ends where %s stands", c.Number)
		signed, err := s.Sheets(ctx, c.ID)
		require.NoError(t, err)
		for _, sheet := range signed {
			_, out, err := sheet.Read()
			require.NoError(t, err)
			require.Positive(t, out.Elastic.Cut.Millimetres())
		}
		booked, err := s.Appointments(ctx, c.ID)
		require.NoError(t, err)
		written, err := s.Letters(ctx, c.ClientID)
		require.NoError(t, err)
		sheets, hours, letters = sheets+len(signed), hours+len(booked), letters+len(written)
	}
	require.Positive(t, sheets*hours*letters, "sheets, appointments and letters were read")
}
