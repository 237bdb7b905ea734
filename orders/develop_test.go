package orders

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// somewhere is Exif data, little end first, that says where a picture was taken: 51 degrees north.
func somewhere(orientation uint16) []byte {
	le := binary.LittleEndian
	body := append([]byte("II*\x00"), le.AppendUint32(nil, 8)...)
	entry := func(tag, kind uint16, n, value uint32) {
		body = le.AppendUint16(le.AppendUint16(body, tag), kind)
		body = le.AppendUint32(le.AppendUint32(body, n), value)
	}
	body = le.AppendUint16(body, 2)
	entry(0x0112, 3, 1, uint32(orientation))
	entry(0x8825, 4, 1, 38) // the directory of the place
	body = le.AppendUint32(body, 0)
	body = le.AppendUint16(body, 2)
	entry(1, 2, 2, 'N')
	entry(2, 5, 3, 68)
	body = le.AppendUint32(body, 0)
	for _, part := range []uint32{51, 1, 7, 1, 33, 1} {
		body = le.AppendUint32(body, part)
	}
	return append(body, "51.1258N Saltmere"...)
}

// segment is a piece of a JPEG beside its picture.
func segment(marker byte, body string) []byte {
	return append(binary.BigEndian.AppendUint16([]byte{0xff, marker}, uint16(len(body)+2)), body...)
}

// geotagged is a JPEG with all that cameras and programs leave in one.
func geotagged(t testing.TB, m image.Image) []byte {
	t.Helper()
	plain := asJPEG(t, m)
	out := append([]byte{}, plain[:2]...)
	for _, s := range [][]byte{
		segment(0xe0, "JFIF\x00\x01\x02\x00\x00\x01\x00\x01\x00\x00"), segment(0xe1, "Exif\x00\x00"+string(somewhere(6))),
		segment(0xe1, "http://ns.adobe.com/xap/1.0/\x00<x:xmpmeta>51.1258N Saltmere</x:xmpmeta>"), segment(0xed, "Photoshop 3.0\x00Saltmere"),
		segment(0xe2, "ICC_PROFILE\x00\x01\x01Saltmere"), segment(0xfe, "taken in Saltmere"),
	} {
		out = append(out, s...)
	}
	return append(out, plain[2:]...)
}

// geotaggedPNG has its place and orientation behind the picture, and words.
func geotaggedPNG(t testing.TB, m image.Image, orientation uint16) []byte {
	t.Helper()
	chunk := func(kind, body string) []byte {
		b := binary.BigEndian.AppendUint32(nil, uint32(len(body)))
		b = append(append(b, kind...), body...)
		return binary.BigEndian.AppendUint32(b, crc32.ChecksumIEEE(b[4:]))
	}
	plain := asPNG(t, m)
	end := len(plain) - 12
	return bytes.Join([][]byte{plain[:end], chunk("tEXt", "Comment\x00Saltmere"), chunk("eXIf", string(somewhere(orientation))), plain[end:]}, nil)
}

// segmentsOf lists the markers of a JPEG before its picture.
func segmentsOf(t testing.TB, file []byte) (markers []byte) {
	t.Helper()
	require.Equal(t, []byte{0xff, 0xd8}, file[:2])
	for at := 2; file[at+1] != 0xda; at += 2 + int(binary.BigEndian.Uint16(file[at+2:])) {
		require.Equal(t, byte(0xff), file[at])
		markers = append(markers, file[at+1])
	}
	return markers
}

// Where a picture was taken goes in and does not come out; how the camera was held is honoured first.
func TestNoPlaceIsKeptWithAPhotograph(t *testing.T) {
	for name, c := range map[string]struct {
		file    []byte
		corners [4]int
	}{
		"JPEG": {geotagged(t, quadrants(64, 48)), [4]int{2, 0, 3, 1}}, "PNG": {geotaggedPNG(t, quadrants(64, 48), 8), [4]int{1, 3, 0, 2}},
	} {
		require.Contains(t, string(c.file), "Saltmere", name)
		require.NotEqual(t, 1, orientationOf(c.file), name)
		clean, text := develop(c.file)
		require.Empty(t, text, name)
		for _, trace := range []string{"Saltmere", "Exif", "ICC_PROFILE", "Photoshop", "xmpmeta", "JFIF"} {
			assert.NotContains(t, string(clean), trace, name)
		}
		for _, marker := range segmentsOf(t, clean) {
			assert.False(t, marker >= 0xe0 && marker <= 0xef || marker == 0xfe, "%s: a segment %x that is no picture is kept", name, marker)
		}
		size, colours := seen(t, clean)
		assert.Equal(t, image.Pt(48, 64), size, "%s: upright", name)
		assert.Equal(t, c.corners, colours, name)
	}
}

// What says nothing sensible about how it was held is left as it is.
func TestOrientationThatCannotBeRead(t *testing.T) {
	tag := func(n uint16) []byte { return append([]byte("Exif\x00\x00"), somewhere(n)...) }
	plain := asJPEG(t, quadrants(8, 8))
	with := func(body []byte) []byte {
		return bytes.Join([][]byte{plain[:2], segment(0xe1, string(body)), plain[2:]}, nil)
	}
	for name, c := range map[string]struct {
		file []byte
		want int
	}{
		"none": {plain, 1}, "nought": {with(tag(0)), 1}, "nine": {with(tag(9)), 1}, "three": {with(tag(3)), 3},
		"cut short": {with(tag(3)[:20]), 1}, "no directory": {with([]byte("Exif\x00\x00MM\x00*\xff\xff\xff\xff")), 1},
		"a directory of nothing": {with([]byte("Exif\x00\x00MM\x00*\x00\x00\x00\x08\xff\xff")), 1},
		"a segment too long":     {[]byte("\xff\xd8\xff\xe1\xff\xffExif\x00\x00"), 1}, "two bytes": {[]byte("\xff\xd8"), 1},
		"a PNG's end": {[]byte("\x89PNG\r\n\x1a\n\xff\xff\xff\xffeXIf"), 1},
	} {
		assert.Equal(t, c.want, orientationOf(c.file), name)
	}
}
