package templates

import (
	"embed"
	"fmt"
	"html/template"
)

//go:embed drawings
var drawings embed.FS

// drawing returns one of our own SVG drawings for use inside a page. This file is the only one that
// makes template.HTML: the drawings are part of the program, never something a person typed.
func drawing(name string) (template.HTML, error) {
	body, err := drawings.ReadFile("drawings/" + name + ".svg")
	if err != nil {
		return "", fmt.Errorf("drawing %q: %w", name, err)
	}
	return template.HTML(body), nil
}

// SVG marks a drawing that package draw made from the geometry as safe to stand inside a page.
func SVG(drawn []byte) template.HTML { return template.HTML(drawn) }

// Drawn says whether there is a drawing of that name.
func Drawn(name string) bool {
	_, err := drawings.Open("drawings/" + name + ".svg")
	return err == nil
}
