package draw

import (
	"io"

	"rsc.io/qr"
)

// Code writes an address as a QR code (ISO/IEC 18004, error correction M) in SVG, black on white in
// every colour scheme, with the four modules of quiet zone that readers ask for. It fails when w
// does, and when the address is too long for a code.
func Code(w io.Writer, address string) error {
	code, err := qr.Encode(address, qr.M)
	if err != nil {
		return err
	}
	const quiet = 4
	size := float64(code.Size + 2*quiet)
	var p pad
	p.raw(`<svg xmlns="http://www.w3.org/2000/svg" class="code" viewBox="`)
	p.numbers(0, 0, size, size)
	p.raw(`" role="img" shape-rendering="crispEdges"><title>A code that opens this page on the phone</title><path fill="#fff" d="M0 0H`)
	p.numbers(size)
	p.raw("V")
	p.numbers(size)
	p.raw(`H0Z"/><path fill="#000" d="`)
	for y := range code.Size {
		for x := range code.Size {
			if code.Black(x, y) {
				p.raw("M")
				p.numbers(float64(x+quiet), float64(y+quiet))
				p.raw("h1v1h-1z")
			}
		}
	}
	p.raw(`"/></svg>`, "\n")
	_, err = w.Write(p.Bytes())
	return err
}
