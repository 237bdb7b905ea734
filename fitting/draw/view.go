// Package draw draws a fitted hat true to its geometry: orthographic views as
// SVG, one unit of the drawing to the millimetre.
//
// What is drawn is the model: the ellipsoid of the head, the domed base, the
// brim's frustum with its bias threads, the elastic's geodesics, the line of
// sight. Face, ears and neck are a scheme that hangs on the model's eyes, ears
// and nape.
//
// Colours come from classes and the variables --ink (by currentColor), --soft
// and --thread, each with a fallback; a drawing stands alone too, and in black and
// white. It has no style attribute and no script.
package draw

import (
	"io"

	"perchbook/fitting"
)

// Options say for whom a view is drawn.
type Options struct {
	Sizes bool // sizes written where they act
	Yours bool // speak to the wearer: "your own right"
	Small bool // for a picture about 170 pixels wide: no words but the sides' names, in letters twice as large
	Sheet bool // lay white paper under it, for a picture that stands alone
}

// View writes the hat as one SVG document. The same hat gives the same bytes. It
// fails when w does, and with ErrNotSolved or ErrNoCamera.
func View(w io.Writer, s fitting.Solution, from Camera, o Options) error {
	v, err := newView(s, from, o)
	if err != nil {
		return err
	}
	_, err = w.Write(v.svg())
	return err
}
