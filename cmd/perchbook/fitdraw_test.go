package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const roundFace = `{"measures": {"girth_mm": 570, "nape_to_crown_mm": 230}, "face": {"shape": "round"}, "wish": {"side": "right"}}`

// asked runs the command as a person would.
func asked(in string, args ...string) (status int, out, errs string) {
	var o, e bytes.Buffer
	status = fitCommand(args, strings.NewReader(in), &o, &e)
	return status, o.String(), e.String()
}

func TestFitInWords(t *testing.T) {
	status, out, errs := asked(roundFace, "--words")
	require.Zero(t, status, errs)
	for _, words := range []string{"Base across", "to her right", "Mark from the bias fold", "try it on before", "Straight ahead", "\nWhy\n  - The base", "\nCut and tick off\n  [ ] Brim strip", "\nMake up in this order\n  1. Match the swatch", "Care: Steam burns"} {
		assert.Contains(t, out, words)
	}
	assert.NotContains(t, out, "_mm", "figures by their names for people")
	assert.NotContains(t, out, " \n", "spaces at the end of a line")

	status, out, _ = asked(`{"measures": {"girth_mm": 57}}`, "--words")
	assert.Equal(t, 1, status)
	assert.Contains(t, out, "measures.girth_mm")
	assert.Contains(t, out, "take it again")
}

func TestFitDraws(t *testing.T) {
	folders := []string{filepath.Join(t.TempDir(), "new", "hat"), t.TempDir()}
	for _, folder := range folders {
		status, out, errs := asked(roundFace, "--draw", folder)
		require.Zero(t, status, errs)
		assert.True(t, strings.HasPrefix(out, "{"), "the result is still there")
	}
	for name, begins := range map[string]string{"front.svg": "<svg", "right.svg": "<svg", "left.svg": "<svg", "lay.svg": "<svg", "patterns-a4.pdf": "%PDF", "patterns-letter.pdf": "%PDF"} {
		first, err := os.ReadFile(filepath.Join(folders[0], name))
		require.NoError(t, err)
		again, err := os.ReadFile(filepath.Join(folders[1], name))
		require.NoError(t, err)
		assert.True(t, bytes.HasPrefix(first, []byte(begins)), "%s is something else", name)
		assert.Equal(t, first, again, "%s: one case, two files", name)
	}
}

func TestFitFailsInOneLine(t *testing.T) {
	status, _, errs := asked(roundFace, "--colour")
	assert.Equal(t, 2, status)
	assert.Contains(t, errs, "--words", "how it is used")
	status, _, _ = asked(roundFace, "more", "words")
	assert.Equal(t, 2, status)

	taken := filepath.Join(t.TempDir(), "a-file")
	require.NoError(t, os.WriteFile(taken, nil, 0o600))
	status, out, errs := asked(roundFace, "--draw", taken)
	assert.Equal(t, 1, status)
	assert.Empty(t, out)
	assert.Contains(t, errs, "a-file")

	folder := t.TempDir()
	status, _, _ = asked(`{"measures": {"girth_mm": 57}}`, "--draw", folder)
	assert.Equal(t, 1, status)
	left, err := os.ReadDir(folder)
	require.NoError(t, err)
	assert.Empty(t, left, "nothing is drawn of a head that cannot be")
}
