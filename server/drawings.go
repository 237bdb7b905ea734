package server

import (
	"bytes"
	"html/template"

	"perchbook/fitting"
	"perchbook/fitting/draw"
	"perchbook/templates"
)

// A view is one drawing of the hat on the head, made from the geometry.
type view struct {
	Name string
	SVG  template.HTML
}

// drawViews draws a hat from the front and from the side that it leans to, sizes written where they act.
func drawViews(sol fitting.Solution) []view { return drawn(sol, draw.Options{Sizes: true}) }

// drawHers draws it for its wearer: her own right and left named, no sizes.
func drawHers(sol fitting.Solution) []view { return drawn(sol, draw.Options{Yours: true}) }

// drawn leaves out a view that can't be drawn: the figures stand without it.
func drawn(sol fitting.Solution, o draw.Options) []view {
	side, name := draw.FromRight(), "From the right"
	if sol.Result.Placement.Side == fitting.Left {
		side, name = draw.FromLeft(), "From the left"
	}
	var all []view
	for _, v := range []struct {
		name string
		from draw.Camera
	}{{"From the front", draw.Front()}, {name, side}} {
		var b bytes.Buffer
		if draw.View(&b, sol, v.from, o) == nil {
			all = append(all, view{Name: v.name, SVG: templates.SVG(b.Bytes())})
		}
	}
	return all
}
