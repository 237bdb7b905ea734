package server

import (
	"html/template"

	"perchbook/fitting"
)

// A view is one drawing of the hat on the head, made from the geometry.
type view struct {
	Name, Words string // Words say what is seen to whoever can't see it
	SVG         template.HTML
}

// drawViews draws a hat from the front and from the side.
func drawViews(sol fitting.Solution) []view { return nil }
