package server

import (
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

// drawHers draws it for its wearer, in her language: her own right and left named, no sizes.
func drawHers(l templates.Language) func(fitting.Solution) []view {
	return func(sol fitting.Solution) []view {
		views := drawn(sol, draw.Options{Yours: true})
		for i, v := range views {
			views[i].Name = l.Say(v.Name)
		}
		return views
	}
}

var viewNames = [...]string{"From the front", "From the right", "From the left"}

// drawn shows both at one scale.
func drawn(sol fitting.Solution, o draw.Options) []view {
	side, name := draw.FromRight(), viewNames[1]
	if sol.Result.Placement.Side == fitting.Left {
		side, name = draw.FromLeft(), viewNames[2]
	}
	all := sideBySide([]draw.Pose{{Hat: sol, From: draw.Front()}, {Hat: sol, From: side}}, o)
	for i, name := range []string{viewNames[0], name}[:len(all)] {
		all[i].Name = name
	}
	return all
}

// drawAllRound draws it from everywhere else.
func drawAllRound(sol fitting.Solution) []view {
	side, other, name := draw.FromLeft(), fitting.Right, "From the left"
	if sol.Result.Placement.Side == fitting.Left {
		side, other, name = draw.FromRight(), fitting.Left, "From the right"
	}
	all := sideBySide([]draw.Pose{{Hat: sol, From: draw.ThreeQuarter(other)}, {Hat: sol, From: draw.Back()}, {Hat: sol, From: draw.Above()}, {Hat: sol, From: side}}, draw.Options{Sizes: true})
	for i, name := range []string{"From the front and her " + string(other), "From behind", "From above, her face at the top", name}[:len(all)] {
		all[i].Name = name
	}
	return all
}

// sideBySide draws poses at one scale, or none where one can't be drawn: the figures stand without.
func sideBySide(poses []draw.Pose, o draw.Options) []view {
	documents, err := draw.Together(poses, o)
	if err != nil {
		return nil
	}
	all := make([]view, len(documents))
	for i, d := range documents {
		all[i].SVG = templates.SVG(d)
	}
	return all
}
