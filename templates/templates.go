// Package templates holds every page, part, style sheet, script and drawing of the portal, and
// renders pages into memory so that a page is whole or absent.
package templates

import (
	"bytes"
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"fmt"
	"html/template"
	"io/fs"
	"path"
	"strings"
)

//go:embed layout.gohtml parts pages
var pages embed.FS

//go:embed static
var static embed.FS

// Pages renders the pages by name, "begin" for pages/begin.gohtml, in each language.
type Pages struct {
	sets   map[Language]map[string]*template.Template
	assets map[string]Asset
}

// An Asset is one static file, served under an address that changes with its content.
type Asset struct {
	Name string // "base.css"
	Path string // "/assets/base.1f3a9c07.css"
	Body []byte
}

// Load parses every page together with the layout and all parts. An error names the file.
func Load() (*Pages, error) {
	p := &Pages{sets: map[Language]map[string]*template.Template{}, assets: map[string]Asset{}}
	if err := p.loadAssets(); err != nil {
		return nil, err
	}
	base, err := template.New("layout.gohtml").Funcs(p.functions()).ParseFS(pages, "layout.gohtml", "parts/*.gohtml")
	if err != nil {
		return nil, fmt.Errorf("parse layout and parts: %w", err)
	}
	names, err := fs.Glob(pages, "pages/*.gohtml")
	if err != nil {
		return nil, err
	}
	for _, l := range Languages {
		p.sets[l] = map[string]*template.Template{}
		for _, name := range names {
			set, err := template.Must(base.Clone()).Funcs(template.FuncMap{"say": l.Say}).ParseFS(pages, name)
			if err != nil {
				return nil, fmt.Errorf("parse %s: %w", name, err)
			}
			p.sets[l][strings.TrimSuffix(path.Base(name), ".gohtml")] = set
		}
	}
	return p, nil
}

// Render fills the page called name in a language. Nothing is written until the whole page is there.
func (p *Pages) Render(name string, l Language, view any) ([]byte, error) {
	set, ok := p.sets[l.known()][name]
	if !ok {
		return nil, fmt.Errorf("no page called %q", name)
	}
	var b bytes.Buffer
	if err := set.ExecuteTemplate(&b, "layout.gohtml", view); err != nil {
		return nil, fmt.Errorf("render %s: %w", name, err)
	}
	return b.Bytes(), nil
}

// Assets lists the static files.
func (p *Pages) Assets() map[string]Asset { return p.assets }

func (p *Pages) loadAssets() error {
	return fs.WalkDir(static, "static", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		body, err := static.ReadFile(name)
		if err != nil {
			return err
		}
		sum := sha256.Sum256(body)
		base, ext := path.Base(name), path.Ext(name)
		p.assets[base] = Asset{Name: base, Body: body,
			Path: "/assets/" + strings.TrimSuffix(base, ext) + "." + hex.EncodeToString(sum[:4]) + ext}
		return nil
	})
}

func (p *Pages) functions() template.FuncMap {
	return template.FuncMap{
		"asset": func(name string) (string, error) {
			a, ok := p.assets[name]
			if !ok {
				return "", fmt.Errorf("no asset called %q", name)
			}
			return a.Path, nil
		},
		"drawing": drawing,
		"say":     English.Say,
		"noPart":  func(kind any) (string, error) { return "", fmt.Errorf("no part shows a question of kind %q", kind) },
	}
}
