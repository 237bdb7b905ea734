package orders

import (
	"bytes"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	_ "image/png" // photographs may be PNG files
	"slices"

	"github.com/disintegration/imaging"
)

// What is taken for a photograph. Modelling choices, the bytes within what the server lets in.
const (
	mostBytes   = 12 << 20
	mostPixels  = 50 << 20 // up to eight bytes of memory each while it is decoded
	longestEdge = 1600     // of what is kept, in pixels
	quality     = 85
)

// decoding lets one photograph be decoded at a time, so that many at once cannot fill the memory.
var decoding = make(chan struct{}, 1)

// develop turns an upload into a clean JPEG, or says in the client's words why it cannot be one. The
// size in pixels is read before anything is decoded: a small file can hold an enormous picture. It is
// shrunk before it is turned, which takes a fraction of the memory.
func develop(upload []byte) (clean []byte, why Phrase) {
	if len(upload) > mostBytes {
		return nil, Say("This file is larger than %d MB. Please send a smaller photograph.", mostBytes>>20)
	}
	if why = foreign(upload); !why.Empty() {
		return nil, why
	}
	size, format, err := image.DecodeConfig(bytes.NewReader(upload))
	switch {
	case err != nil || format != "jpeg" && format != "png":
		return nil, Say("This is no photograph that can be opened here. Please send a JPEG or a PNG file.")
	case size.Width < 1 || size.Height < 1 || size.Width > mostPixels/size.Height:
		return nil, Say("This photograph has too many pixels. Please send a smaller one.")
	}
	decoding <- struct{}{}
	defer func() { <-decoding }()
	picture, _, err := image.Decode(bytes.NewReader(upload))
	if err != nil {
		return nil, Say("This photograph is damaged or only part of it has arrived. Please send it again.")
	}
	small := upright(imaging.Fit(picture, longestEdge, longestEdge, imaging.Lanczos), orientationOf(upload))
	var out bytes.Buffer
	if err := jpeg.Encode(&out, onWhite(small), &jpeg.Options{Quality: quality}); err != nil {
		return nil, Say("This photograph could not be kept. Please send another one.")
	}
	return out.Bytes(), Phrase{}
}

// onWhite puts white behind what is transparent, which JPEG would turn black.
func onWhite(picture image.Image) image.Image {
	flat := image.NewRGBA(picture.Bounds())
	draw.Draw(flat, flat.Bounds(), image.NewUniform(color.White), image.Point{}, draw.Src)
	draw.Draw(flat, flat.Bounds(), picture, picture.Bounds().Min, draw.Over)
	return flat
}

// foreign recognises files that people take for photographs, and says what to do; empty for the others.
func foreign(upload []byte) Phrase {
	begins := func(magic string) bool { return bytes.HasPrefix(upload, []byte(magic)) }
	switch brand := boxBrand(upload); {
	case slices.Contains([]string{"heic", "heix", "heim", "heis", "hevc", "hevx", "mif1", "msf1", "avif", "avis"}, brand):
		return Say("This is a HEIC or AVIF file, which cannot be opened here. Set your telephone's camera to JPEG " +
			"(on some telephones \"most compatible\"), or send a screenshot of the picture.")
	case brand != "":
		return Say("This is a film. Please send a photograph: stop the film where it shows what you mean, and send a screenshot.")
	case begins("RIFF") && len(upload) >= 12 && string(upload[8:12]) == "WEBP":
		return Say("This is a WebP file, which cannot be opened here. Please send a JPEG or a PNG file, or a screenshot of the picture.")
	case begins("GIF8"):
		return Say("This is a GIF, which cannot be opened here. Please send a JPEG or a PNG file, or a screenshot of the picture.")
	case begins("%PDF"):
		return Say("This is a PDF, a document and no photograph. Please send a photograph of the page, or a screenshot of it.")
	case begins("II*\x00"), begins("MM\x00*"):
		return Say("This is a TIFF or a camera's raw file, which cannot be opened here. Please send it as a JPEG file.")
	}
	return Phrase{}
}

// boxBrand is what the first box of a file says of its family, as films and HEIC begin; "" for others.
func boxBrand(upload []byte) string {
	if len(upload) < 12 || string(upload[4:8]) != "ftyp" {
		return ""
	}
	return string(upload[8:12])
}
