package orders

import (
	"bytes"
	"encoding/binary"
	"image"

	"github.com/disintegration/imaging"
)

// upright turns a picture the way that its camera was held: by the values of the tag Orientation, CIPA
// DC-008 (Exif).
func upright(picture image.Image, orientation int) image.Image {
	switch orientation {
	case 2:
		return imaging.FlipH(picture)
	case 3:
		return imaging.Rotate180(picture)
	case 4:
		return imaging.FlipV(picture)
	case 5:
		return imaging.Transpose(picture)
	case 6:
		return imaging.Rotate270(picture) // a quarter turn to the right
	case 7:
		return imaging.Transverse(picture)
	case 8:
		return imaging.Rotate90(picture)
	}
	return picture
}

// orientationOf reads the tag from a JPEG's or a PNG's Exif data: 1 to 8, and 1 where nothing is said or
// it can't be read.
func orientationOf(file []byte) int {
	var exif []byte
	if bytes.HasPrefix(file, []byte("\x89PNG")) {
		exif = pngExif(file)
	} else {
		exif = jpegExif(file)
	}
	return orientationIn(exif)
}

// jpegExif finds the Exif segment among those before the picture.
func jpegExif(file []byte) []byte {
	for at := 2; at+4 <= len(file) && file[at] == 0xff && file[at+1] != 0xda; {
		end := at + 2 + int(binary.BigEndian.Uint16(file[at+2:]))
		if end < at+4 || end > len(file) {
			return nil
		}
		if body, is := bytes.CutPrefix(file[at+4:end], []byte("Exif\x00\x00")); is && file[at+1] == 0xe1 {
			return body
		}
		at = end
	}
	return nil
}

// pngExif finds the chunk eXIf, wherever it stands.
func pngExif(file []byte) []byte {
	for at := 8; at+12 <= len(file); {
		n := int64(binary.BigEndian.Uint32(file[at:]))
		if n > int64(len(file)-at-12) {
			return nil
		}
		if string(file[at+4:at+8]) == "eXIf" {
			return file[at+8 : at+8+int(n)]
		}
		at += 12 + int(n)
	}
	return nil
}

// orientationIn reads the tag from the first directory of Exif data, which is laid out as a TIFF file.
func orientationIn(exif []byte) int {
	var order binary.ByteOrder = binary.BigEndian
	if len(exif) < 8 {
		return 1
	}
	if exif[0] == 'I' {
		order = binary.LittleEndian
	}
	at := int64(order.Uint32(exif[4:]))
	if at < 8 || at+2 > int64(len(exif)) {
		return 1
	}
	const entry, tag = 12, 0x0112
	list := exif[at+2:]
	for n := order.Uint16(exif[at:]); n > 0 && len(list) >= entry; n, list = n-1, list[entry:] {
		if order.Uint16(list) == tag {
			if v := int(order.Uint16(list[8:])); v >= 1 && v <= 8 {
				return v
			}
		}
	}
	return 1
}
