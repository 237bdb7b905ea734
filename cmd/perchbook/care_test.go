package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/orders"
)

// tried runs one command line and returns its exit status and what it printed.
func tried(t *testing.T, args ...string) (int, string, string) {
	t.Helper()
	var out, errs bytes.Buffer
	code := run(t.Context(), args, strings.NewReader(""), &out, &errs)
	return code, out.String(), errs.String()
}

// What is backed up can be restored by putting the file into an empty data folder.
func TestBackupIsRestored(t *testing.T) {
	from, to := t.TempDir(), t.TempDir()
	store, err := orders.Open(t.Context(), from, orders.Settings{})
	require.NoError(t, err)
	require.NoError(t, fillDemo(t.Context(), store))
	was, err := store.Commissions(t.Context())
	require.NoError(t, err)
	defer store.Close() // the portal may run while it is backed up

	code, out, errs := tried(t, "backup", "--data", from, filepath.Join(to, "perchbook.db"))
	require.Zero(t, code, errs)
	assert.Contains(t, out, "Written and checked")

	again, err := orders.Open(t.Context(), to, orders.Settings{})
	require.NoError(t, err)
	defer again.Close()
	is, err := again.Commissions(t.Context())
	require.NoError(t, err)
	assert.Equal(t, was, is, "every commission came back")
	for _, c := range is {
		back, err := again.CommissionByLink(t.Context(), store.CommissionLink(c))
		require.NoError(t, err, "a private link opens after the restore")
		assert.Equal(t, c, back)
	}

	code, _, errs = tried(t, "backup", "--data", from, filepath.Join(to, "perchbook.db"))
	assert.Equal(t, 1, code, "an existing file is never written over")
	assert.NotEmpty(t, errs)
}

// What was erased after a backup stays erased when that backup is put back.
func TestRestoreFollowsTheErasures(t *testing.T) {
	data, kept := t.TempDir(), t.TempDir()
	store, err := orders.Open(t.Context(), data, orders.Settings{})
	require.NoError(t, err)
	require.NoError(t, fillDemo(t.Context(), store))
	all, err := store.Commissions(t.Context())
	require.NoError(t, err)
	backup := filepath.Join(kept, "monday.db")
	code, _, errs := tried(t, "backup", "--data", data, backup)
	require.Zero(t, code, errs)
	require.NoError(t, store.Erase(t.Context(), all[0].ID))
	require.NoError(t, store.Close())

	code, _, errs = tried(t, "restore", "--data", data, backup)
	require.Equal(t, 1, code, "a restore writes over no database")
	assert.Contains(t, errs, "perchbook.erased", "it says what to leave where it is")
	require.NoError(t, os.Remove(filepath.Join(data, "perchbook.db")))
	code, out, errs := tried(t, "restore", "--data", data, backup)
	require.Zero(t, code, errs)
	assert.Contains(t, out, "list of erasures")
	again, err := orders.Open(t.Context(), data, orders.Settings{})
	require.NoError(t, err)
	defer again.Close()
	is, err := again.Commissions(t.Context())
	require.NoError(t, err)
	assert.Len(t, is, len(all)-1)
	_, err = again.Commission(t.Context(), all[0].ID)
	require.ErrorIs(t, err, orders.ErrNotFound)
}

func TestMistypedFolderIsNotBackedUp(t *testing.T) {
	nowhere := filepath.Join(t.TempDir(), "mistyped")
	for _, args := range [][]string{{"backup", "--data", nowhere, filepath.Join(t.TempDir(), "copy.db")}, {"key", "--data", nowhere}} {
		code, _, errs := tried(t, args...)
		assert.Equal(t, 1, code, "%s", args[0])
		assert.NotEmpty(t, errs)
		_, err := os.Stat(nowhere)
		assert.True(t, os.IsNotExist(err), "%s makes no new workroom", args[0])
	}
}

func TestCommandLinesThatAreNotUnderstood(t *testing.T) {
	for _, args := range [][]string{{}, {"serv"}, {"backup"}, {"serve", "now"}, {"serve", "--proxy", "localhost"},
		{"serve", "--public-url", "hats.example"}, {"serve", "--public-url", "https://hats.example/path"}, {"key", "--lasts"}} {
		code, _, errs := tried(t, args...)
		assert.Equal(t, 2, code, "%v", args)
		assert.Contains(t, errs, "perchbook serve", "%v: what can be said is shown", args)
	}
}

// The key that the program prints opens the workroom, once.
func TestKeyIsPrinted(t *testing.T) {
	data := t.TempDir()
	store, err := orders.Open(t.Context(), data, orders.Settings{})
	require.NoError(t, err)
	require.NoError(t, store.Close())
	code, out, errs := tried(t, "key", "--data", data, "--public-url", "https://hats.example")
	require.Zero(t, code, errs)
	assert.Contains(t, out, "https://hats.example/enter/first/")
}
