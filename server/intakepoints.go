package server

import (
	"fmt"
	"strconv"

	"perchbook/fitting"
)

// PointNames are the points that are marked on a picture of a face, in the order of the drawing: two in
// the middle, the two cheekbones, and forehead and jaw on one side, which stand for both.
func (a asked) PointNames() []string {
	names := []string{
		"The middle of the hairline", "The lowest point of the chin",
		"The cheekbone on the left of the picture, where the face is widest", "The cheekbone on the right of the picture",
		"The edge of the forehead above the end of an eyebrow, on whichever side the hair leaves free",
		"The corner of the jaw below an ear, on either side",
	}
	for i, name := range names {
		names[i] = a.Language.Say(name)
	}
	return names
}

// Numbered counts from one.
func (a asked) Numbered(i int) string { return strconv.Itoa(i + 1) }

// PointBounds are the least and the most of a face's length, then of forehead and jaw, over its
// cheekbones, as the server takes them.
func (a asked) PointBounds() string {
	return fmt.Sprint(fitting.LeastPointHeight, fitting.MostPointHeight, fitting.LeastPointWidth, fitting.MostPointWidth)
}
