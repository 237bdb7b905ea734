package orders

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/gif"
	"image/jpeg"
	"image/png"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// quadrants is a picture with a colour of its own in each corner.
func quadrants(w, h int) *image.RGBA {
	m := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			m.Set(x, y, corners[2*(2*y/h)+2*x/w])
		}
	}
	return m
}

var corners = []color.RGBA{{255, 0, 0, 255}, {0, 255, 0, 255}, {0, 0, 255, 255}, {255, 255, 0, 255}} // from top left, by rows

func asJPEG(t testing.TB, m image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, jpeg.Encode(&b, m, &jpeg.Options{Quality: 95}))
	return b.Bytes()
}

func asPNG(t testing.TB, m image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, png.Encode(&b, m))
	return b.Bytes()
}

// turned is a JPEG whose camera says how it was held, and by whom.
func turned(t testing.TB, m image.Image, orientation uint16) []byte {
	t.Helper()
	body := []byte("Exif\x00\x00MM\x00\x2a\x00\x00\x00\x08\x00\x02")
	body = append(body, 0x01, 0x12, 0, 3, 0, 0, 0, 1)
	body = binary.BigEndian.AppendUint16(body, orientation)
	body = append(body, 0, 0)
	body = append(body, 0x01, 0x3b, 0, 2, 0, 0, 0, 12, 0, 0, 0, 38, 0, 0, 0, 0) // artist
	body = append(body, "Nella Quill\x00"...)
	plain := asJPEG(t, m)
	out := append([]byte{0xff, 0xd8, 0xff, 0xe1}, binary.BigEndian.AppendUint16(nil, uint16(len(body)+2))...)
	return append(append(out, body...), plain[2:]...)
}

// seen names the colours at the four corners of a JPEG.
func seen(t testing.TB, file []byte) (size image.Point, colours [4]int) {
	t.Helper()
	m, err := jpeg.Decode(bytes.NewReader(file))
	require.NoError(t, err, "what is kept is a JPEG")
	size = m.Bounds().Size()
	for i := range 4 {
		at := m.At(size.X/4+(i%2)*size.X/2, size.Y/4+(i/2)*size.Y/2)
		r, g, b, _ := at.RGBA()
		colours[i] = -1
		for k, c := range corners {
			if near(r, c.R) && near(g, c.G) && near(b, c.B) {
				colours[i] = k
			}
		}
	}
	return size, colours
}

func near(have uint32, want uint8) bool {
	d := int(have>>8) - int(want)
	return d > -30 && d < 30
}

const photographs = "photographs"

func TestPhotographsAreTurnedUprightAndCleaned(t *testing.T) {
	s, _ := newStore(t)
	d := begun(t, s, nil)
	for orientation, want := range map[uint16][4]int{
		1: {0, 1, 2, 3}, 2: {1, 0, 3, 2}, 3: {3, 2, 1, 0}, 4: {2, 3, 0, 1},
		5: {0, 2, 1, 3}, 6: {2, 0, 3, 1}, 7: {3, 1, 2, 0}, 8: {1, 3, 0, 2},
	} {
		file := turned(t, quadrants(64, 48), orientation)
		require.Contains(t, string(file), "Nella Quill")
		p, err := s.AddPhoto(ctx, d.ID, photographs, file)
		require.NoError(t, err)
		size, colours := seen(t, p.JPEG)
		assert.Equal(t, want, colours, "orientation %d", orientation)
		assert.Equal(t, orientation < 5, size.X > size.Y, "orientation %d", orientation)
		require.NotContains(t, string(p.JPEG), "Nella Quill", "who took it is gone")
		require.NotContains(t, string(p.JPEG), "Exif", "no metadata is left")
		require.NoError(t, s.RemovePhoto(ctx, d.ID, photographs, p.ID))
	}
}

func TestPhotographsAreShrunkAndPutOnWhite(t *testing.T) {
	s, _ := newStore(t)
	d := begun(t, s, nil)
	p, err := s.AddPhoto(ctx, d.ID, photographs, asJPEG(t, quadrants(2400, 1200)))
	require.NoError(t, err)
	size, colours := seen(t, p.JPEG)
	assert.Equal(t, image.Pt(1600, 800), size)
	assert.Equal(t, [4]int{0, 1, 2, 3}, colours)
	p, err = s.AddPhoto(ctx, d.ID, photographs, asPNG(t, image.NewRGBA(image.Rect(0, 0, 20, 10))))
	require.NoError(t, err)
	m, err := jpeg.Decode(bytes.NewReader(p.JPEG))
	require.NoError(t, err)
	r, _, _, _ := m.At(5, 5).RGBA()
	assert.Greater(t, r>>8, uint32(250), "what was transparent is white")
	assert.Equal(t, image.Pt(20, 10), m.Bounds().Size(), "small ones stay as they are")
}

func TestPhotographsBelongToTheirDraft(t *testing.T) {
	s, _ := newStore(t)
	d, other := begun(t, s, nil), begun(t, s, nil)
	file := asJPEG(t, quadrants(16, 16))
	a, err := s.AddPhoto(ctx, d.ID, photographs, file)
	require.NoError(t, err)
	b, err := s.AddPhoto(ctx, d.ID, photographs, file)
	require.NoError(t, err)
	kept, err := s.Draft(ctx, d.ID)
	require.NoError(t, err)
	require.Equal(t, Answer{Value: a.ID + " " + b.ID, Said: "2 photographs"}, kept.Answers[photographs])
	got, err := s.Photo(ctx, d.ID, a.ID)
	require.NoError(t, err)
	require.Equal(t, a, got)
	_, err = s.Photo(ctx, other.ID, a.ID)
	require.ErrorIs(t, err, ErrNotFound, "another client's photograph")
	require.ErrorIs(t, s.RemovePhoto(ctx, other.ID, photographs, a.ID), ErrNotFound)
	require.NoError(t, s.RemovePhoto(ctx, d.ID, photographs, a.ID))
	require.ErrorIs(t, s.RemovePhoto(ctx, d.ID, photographs, a.ID), ErrNotFound, "it is gone")
	_, err = s.Photo(ctx, d.ID, a.ID)
	require.ErrorIs(t, err, ErrNotFound)
	kept, err = s.Draft(ctx, d.ID)
	require.NoError(t, err)
	require.Equal(t, b.ID, kept.Answers[photographs].Value)

	_, err = s.AddPhoto(ctx, d.ID, "name", file)
	require.ErrorIs(t, err, ErrNotFound, "no question for photographs")
	_, err = s.AddPhoto(ctx, newID(), photographs, file)
	require.ErrorIs(t, err, ErrNotFound, "no such draft")
	for range mostPhotos - 1 {
		_, err = s.AddPhoto(ctx, d.ID, photographs, file)
		require.NoError(t, err)
	}
	_, err = s.AddPhoto(ctx, d.ID, photographs, file)
	problem(t, err, photographs)
}

// bomb is a PNG of a few bytes that says it is enormous.
func bomb() []byte {
	chunk := func(kind string, body []byte) []byte {
		b := binary.BigEndian.AppendUint32(nil, uint32(len(body)))
		b = append(append(b, kind...), body...)
		return binary.BigEndian.AppendUint32(b, crc32.ChecksumIEEE(b[4:]))
	}
	head := binary.BigEndian.AppendUint32(nil, 60000)
	head = append(binary.BigEndian.AppendUint32(head, 60000), 8, 6, 0, 0, 0)
	return append([]byte("\x89PNG\r\n\x1a\n"), chunk("IHDR", head)...)
}

func TestWhatIsNoPhotograph(t *testing.T) {
	s, _ := newStore(t)
	d := begun(t, s, nil)
	var cartoon bytes.Buffer
	require.NoError(t, gif.Encode(&cartoon, quadrants(8, 8), nil))
	whole := asJPEG(t, quadrants(64, 64))
	for name, row := range map[string]struct {
		file []byte
		says string
	}{
		"nothing":           {nil, "JPEG or a PNG"},
		"words":             {[]byte("this is a picture, believe me"), "JPEG or a PNG"},
		"a GIF":             {cartoon.Bytes(), "a GIF"},
		"a TIFF":            {[]byte("II*\x00\x08\x00\x00\x00\x00\x00"), "a TIFF"},
		"a WebP":            {[]byte("RIFF\x24\x00\x00\x00WEBPVP8 "), "a WebP"},
		"a document":        {[]byte("%PDF-1.7\n%\xe2\xe3\xcf\xd3"), "a PDF"},
		"a film":            {[]byte("\x00\x00\x00\x18ftypqt  \x00\x00\x00\x00"), "a film"},
		"a telephone's own": {[]byte("\x00\x00\x00\x18ftypheic\x00\x00\x00\x00"), "most compatible"},
		"an AVIF":           {[]byte("\x00\x00\x00\x18ftypavif\x00\x00\x00\x00"), "AVIF"},
		"a PNG cut short":   {asPNG(t, quadrants(64, 64))[:120], "damaged"},
		"a page":            {[]byte("<html><script>alert(1)</script>"), "JPEG or a PNG"},
		"most of one":       {whole[:len(whole)-20], "damaged"},
		"an enormous one":   {bomb(), "too many pixels"},
		"too many bytes":    {append(whole, make([]byte, mostBytes)...), "larger than 12 MB"},
	} {
		_, err := s.AddPhoto(ctx, d.ID, photographs, row.file)
		assert.Contains(t, problem(t, err, photographs).Text, row.says, name)
	}
	kept, err := s.Draft(ctx, d.ID)
	require.NoError(t, err)
	require.NotContains(t, kept.Answers, photographs)
}

func FuzzDevelop(f *testing.F) {
	f.Add(asJPEG(f, quadrants(16, 16)))
	f.Add(turned(f, quadrants(16, 8), 6))
	f.Add(asPNG(f, quadrants(16, 16)))
	f.Add(bomb())
	f.Add(geotagged(f, quadrants(16, 16)))
	f.Add(geotaggedPNG(f, quadrants(16, 16), 8))
	f.Add([]byte("\x00\x00\x00\x18ftypavif"))
	f.Fuzz(func(t *testing.T, file []byte) {
		if size, _, err := image.DecodeConfig(bytes.NewReader(file)); err == nil && size.Width*size.Height > 1<<20 {
			return // decoded for real, and slow under fuzzing
		}
		clean, text := develop(file)
		if (clean == nil) == (strings.TrimSpace(text.String()) == "") {
			t.Fatal("neither a picture nor a reason, or both")
		}
		if clean != nil {
			m, err := jpeg.DecodeConfig(bytes.NewReader(clean))
			if err != nil || m.Width > longestEdge || m.Height > longestEdge {
				t.Fatalf("kept %dx%d, %v", m.Width, m.Height, err)
			}
		}
	})
}
