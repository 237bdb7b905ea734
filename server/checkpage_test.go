package server

import (
	"encoding/xml"
	"errors"
	"io"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// void elements have no end tag in HTML.
var void = strings.Fields("area base br col embed hr img input link meta source track wbr")

// A seenPage is what checkPage has gathered of a page.
type seenPage struct {
	open       []string // elements not closed yet
	ids        map[string]bool
	labelFor   map[string]bool
	controls   []map[string]string
	references []string // ids that something points at
	headings   int
	title      string
	faults     []string
}

// checkPage says whether a page keeps what every page owes its reader: tags that match, ids that are
// one of a kind, one h1, a label for every control, links and aria references that land, and
// neither script nor style inside.
func checkPage(t testing.TB, body string) {
	t.Helper()
	p := readPage(t, body)
	for _, c := range p.controls {
		if c["aria-label"] == "" && c["in-label"] == "" && !p.labelFor[c["id"]] {
			p.fault("the control %s has no label", c["name"]+" #"+c["id"])
		}
	}
	for _, id := range p.references {
		if !p.ids[id] {
			p.fault("nothing has the id %s that is pointed at", id)
		}
	}
	assert.Empty(t, p.faults, "page %q", p.title)
	assert.Equal(t, 1, p.headings, "page %q has one h1", p.title)
	assert.NotEmpty(t, strings.TrimSpace(p.title), "a page has a title")
	assert.Equal(t, strings.Contains(body, `role="alert"`), strings.HasPrefix(p.title, "Problem"), "title %q says whether there is a problem", p.title)
}

func (p *seenPage) fault(text, what string) {
	p.faults = append(p.faults, strings.Replace(text, "%s", what, 1))
}

func readPage(t testing.TB, body string) *seenPage {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(body))
	d.Strict, d.Entity = false, xml.HTMLEntity
	p := &seenPage{ids: map[string]bool{}, labelFor: map[string]bool{}}
	for {
		tok, err := d.RawToken() // Token would invent missing end tags
		if errors.Is(err, io.EOF) {
			break
		}
		require.NoError(t, err, "the page can be read")
		switch e := tok.(type) {
		case xml.StartElement:
			p.start(e)
		case xml.EndElement:
			p.end(e.Name.Local)
		case xml.CharData:
			if len(p.open) > 1 && p.open[len(p.open)-1] == "title" && p.open[len(p.open)-2] == "head" {
				p.title += string(e)
			}
		}
	}
	if len(p.open) > 0 {
		p.fault("never closed: %s", strings.Join(p.open, " "))
	}
	return p
}

func (p *seenPage) end(name string) {
	if slices.Contains(void, name) {
		return
	}
	if n := len(p.open); n > 0 && p.open[n-1] == name {
		p.open = p.open[:n-1]
		return
	}
	p.fault("</%s> closes something else: "+strings.Join(p.open, " "), name)
}

func (p *seenPage) start(e xml.StartElement) {
	name, at := e.Name.Local, map[string]string{}
	for _, a := range e.Attr {
		at[a.Name.Local] = a.Value
	}
	if slices.Contains(p.open, "label") {
		at["in-label"] = "yes"
	}
	p.note(name, at)
	if !slices.Contains(void, name) {
		p.open = append(p.open, name)
	}
}

func (p *seenPage) note(name string, at map[string]string) {
	if id := at["id"]; id != "" {
		if p.ids[id] {
			p.fault("the id %s stands twice", id)
		}
		p.ids[id] = true
	}
	for _, attr := range []string{"aria-describedby", "aria-labelledby", "aria-controls", "aria-owns"} {
		p.references = append(p.references, strings.Fields(at[attr])...)
	}
	if id, ok := strings.CutPrefix(at["href"], "#"); ok {
		p.references = append(p.references, id)
	}
	for attr := range at {
		if attr == "style" || strings.HasPrefix(attr, "on") {
			p.fault("an element has the attribute %s, which the security header forbids", attr)
		}
	}
	switch name {
	case "h1":
		p.headings++
	case "label":
		p.references = append(p.references, strings.Fields(at["for"])...)
		p.labelFor[at["for"]] = true
	case "input", "select", "textarea":
		if at["type"] != "hidden" && at["type"] != "submit" {
			p.controls = append(p.controls, at)
		}
	case "img":
		if at["alt"] == "" {
			p.fault("the picture %s has no words", at["src"])
		}
	case "style":
		p.fault("there is a <%s> inside the page", name)
	case "script":
		if at["src"] == "" {
			p.fault("there is a <%s> inside the page", name)
		}
	}
}

// The check itself must not be blind.
func TestCheckPageSeesFaults(t *testing.T) {
	const good = `<html><head><title>A</title></head><body><h1>A</h1><label for="a">A</label><input id="a" aria-describedby="b"><p id="b">B</p></body></html>`
	require.Empty(t, readPage(t, good).faults, "the sound page")
	for what, change := range map[string][2]string{
		"an unclosed tag":  {`B</p>`, `B`},
		"a doubled id":     {`id="b"`, `id="a"`},
		"a crossed tag":    {`<p id="b">B</p>`, `<p id="b"><b>B</p></b>`},
		"an inline style":  {`<h1>`, `<h1 style="color:red">`},
		"an inline script": {`<h1>`, `<script>x</script><h1>`},
	} {
		broken := strings.Replace(good, change[0], change[1], 1)
		require.NotEqual(t, good, broken)
		assert.NotEmpty(t, readPage(t, broken).faults, "%s goes unseen", what)
	}
	for what, change := range map[string][2]string{
		"a lost label":     {`for="a"`, `for="b"`},
		"a lost reference": {`aria-describedby="b"`, `aria-describedby="c"`},
		"a second h1":      {`<p id="b">B</p>`, `<h1 id="b">B</h1>`},
		"a lost title":     {`<title>A</title>`, `<title></title>`},
	} {
		blind := new(testing.T)
		checkPage(blind, strings.Replace(good, change[0], change[1], 1))
		assert.True(t, blind.Failed(), "%s goes unseen", what)
	}
}

// shows and hides look for words in a page; a failure prints what the page says and not all of it.
func shows(t testing.TB, page, words string) {
	t.Helper()
	assert.True(t, strings.Contains(page, words), "%q is missing from:\n%s", words, inside(page))
}

func hides(t testing.TB, page, words string) {
	t.Helper()
	assert.False(t, strings.Contains(page, words), "%q stands in:\n%s", words, inside(page))
}

var tags = regexp.MustCompile(`(?s)<svg.*?</svg>|\n\s*\n`)

func inside(page string) string {
	_, main, _ := strings.Cut(page, "<main")
	return tags.ReplaceAllString(main, "")
}
