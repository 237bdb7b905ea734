package orders

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// aPDF is a file of so many bytes that begins and ends as one does.
func aPDF(size int) []byte {
	const begin, end = "%PDF-1.7\n%", "\n%%EOF\n"
	return []byte(begin + strings.Repeat("x", max(0, size-len(begin)-len(end))) + end)
}

func TestPDFFilesGoWithLettersAsTheyCame(t *testing.T) {
	s, _ := newStore(t)
	c := sent(t, s, nil)
	invitation := aPDF(MostPDF)
	hers, err := s.Receive(ctx, c.ID, "The invitation.", invitation, asJPEG(t, quadrants(16, 16)))
	require.NoError(t, err)
	require.Len(t, hers.Papers, 1)
	require.Len(t, hers.Photos, 1, "told apart by what is in them")
	again, err := s.Receive(ctx, c.ID, "The invitation.", invitation, asJPEG(t, quadrants(16, 16)))
	require.NoError(t, err)
	require.Equal(t, hers, again, "sent twice, kept once")
	more, err := s.Receive(ctx, c.ID, "The invitation.", asJPEG(t, quadrants(16, 16)))
	require.NoError(t, err)
	require.NotEqual(t, hers.ID, more.ID, "the same words with other files are another letter")
	ours, err := s.Write(ctx, c.ID, "How to measure.", aPDF(300))
	require.NoError(t, err)
	require.Contains(t, ours.Body, "{link}", "a letter by itself cannot hold it, so it leads there")
	letters, err := s.Letters(ctx, c.ClientID)
	require.NoError(t, err)
	require.Equal(t, [][]string{hers.Papers, ours.Papers}, [][]string{letters[0].Papers, letters[2].Papers})
	pdf, l, err := s.LetterPaper(ctx, hers.Papers[0])
	require.NoError(t, err)
	assert.True(t, bytes.Equal(invitation, pdf), "byte for byte")
	assert.Equal(t, hers.ID, l.ID)
	_, _, err = s.LetterPaper(ctx, hers.Photos[0])
	require.ErrorIs(t, err, ErrNotFound)

	for _, file := range map[string][]byte{
		"too large":              aPDF(MostPDF + 1),
		"cut short":              aPDF(5000)[:4000],
		"a web page":             []byte("<html><script>%PDF-1.7 %%EOF"),
		"a page before the file": append([]byte("<html>"), aPDF(300)...),
		"a program":              []byte("MZ\x90%PDF-%%EOF"),
		"nothing":                {},
	} {
		_, err = s.Write(ctx, c.ID, "x", file)
		problem(t, err, "enclosed")
	}
	after, err := s.Letters(ctx, c.ClientID)
	require.NoError(t, err)
	require.Len(t, after, 3, "none of those was kept")
}

func TestACopyHoldsThePDFFiles(t *testing.T) {
	s, _ := newStore(t)
	c := sent(t, s, nil)
	_, err := s.Receive(ctx, c.ID, "The invitation.", aPDF(300))
	require.NoError(t, err)
	copied, err := s.Copy(ctx, c.ID)
	require.NoError(t, err)
	require.Len(t, copied.Letters, 1)
	require.Equal(t, [][]byte{aPDF(300)}, copied.Letters[0].Papers)
}
