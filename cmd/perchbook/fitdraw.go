package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"

	"perchbook/fitting"
	"perchbook/fitting/draw"
)

// drawFit writes the views of a hat as SVG and its patterns as PDF into a folder,
// which is made if it is missing. Files of the same names are replaced. The same
// case gives the same bytes.
func drawFit(folder string, in fitting.Input, r fitting.Result) error {
	files, err := drawings(in, r)
	if err != nil {
		return err
	}
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return err
	}
	for _, name := range sortedKeys(files) {
		if err := os.WriteFile(filepath.Join(folder, name), files[name], 0o644); err != nil {
			return err
		}
	}
	return nil
}

// drawings are the files by their names.
func drawings(in fitting.Input, r fitting.Result) (map[string][]byte, error) {
	s, err := solved(in, r)
	if err != nil {
		return nil, err
	}
	files := map[string][]byte{}
	add := func(name string, write func(*bytes.Buffer) error) {
		var b bytes.Buffer
		if e := write(&b); e != nil && err == nil {
			err = fmt.Errorf("draw %s: %w", name, e)
		}
		files[name] = b.Bytes()
	}
	for name, from := range draw.Cameras(s.Result.Placement.Side) {
		add(name+".svg", func(b *bytes.Buffer) error { return draw.View(b, s, from, draw.Options{Sizes: true, Sheet: true}) })
	}
	add("lay.svg", func(b *bytes.Buffer) error {
		cloth, err := in.Cloth.Size()
		if err != nil {
			return err
		}
		return draw.Lay(b, r.Cloth, cloth)
	})
	for name, paper := range map[string]draw.Paper{"a4": draw.A4, "letter": draw.Letter} {
		add("patterns-"+name+".pdf", func(b *bytes.Buffer) error {
			return draw.Patterns(b, r, draw.PatternOptions{Paper: paper})
		})
	}
	return files, err
}

// solved is the hat's shape, of the figures that r settled on.
func solved(in fitting.Input, r fitting.Result) (fitting.Solution, error) {
	h := &in.Hat
	h.Base, h.Forward, h.Sideways = &r.Base.Diameter, &r.Placement.Forward, &r.Placement.Sideways
	h.BrimWidth, h.BrimSlope = &r.Brim.Width, &r.Brim.Slope
	s, err := fitting.Solve(in)
	s.Result = r
	return s, err
}
