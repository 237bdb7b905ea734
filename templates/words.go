package templates

import (
	"embed"
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strings"

	"golang.org/x/text/feature/plural"
	"golang.org/x/text/language"
	"golang.org/x/text/message"
	"golang.org/x/text/message/catalog"
)

//go:embed words
var words embed.FS

// A Language is one in which clients are spoken to. The zero Language is English.
type Language string

// The languages there are. English is the one in which sentences stand in code and pages; the others
// have a catalogue, words/fr.json, from the English sentence to their own.
const (
	English Language = "en"
	French  Language = "fr"
	Spanish Language = "es"
)

// Languages lists them, English first.
var Languages = []Language{English, French, Spanish}

var ownNames = map[Language]string{English: "English", French: "Français", Spanish: "Español"}

// Name is what a language calls itself.
func (l Language) Name() string { return ownNames[l.known()] }

// Matched is the language that suits best: the first wish that names one we have, each either a tag
// ("fr-CA") or what a browser sends as Accept-Language. English without any.
func Matched(wishes ...string) Language {
	_, at := language.MatchStrings(matcher, wishes...)
	return Languages[at]
}

// Spoken is a sentence that can be said in any language: its English form as for fmt.Sprintf, and what
// fills it, which may be Spoken itself.
type Spoken interface {
	Parts() (english string, with []any)
}

// Say says a sentence that stands here in English, filled as by fmt.Sprintf, with the numbers of the
// language; what fills it may be Spoken. A sentence that its catalogue lacks stays English.
func (l Language) Say(english string, with ...any) string {
	l = l.known()
	if len(with) == 0 {
		if own, ok := plain[l][english]; ok {
			english = own
		}
		return strings.ReplaceAll(english, "%%", "%")
	}
	filled := slices.Clone(with)
	for i, w := range filled {
		if s, ok := w.(Spoken); ok {
			filled[i] = l.Put(s)
		}
	}
	return printers[l].Sprintf(english, filled...)
}

// Put says a Spoken sentence.
func (l Language) Put(s Spoken) string {
	english, with := s.Parts()
	return l.Say(english, with...)
}

// known is the language itself, or English for any that we do not have.
func (l Language) known() Language {
	if _, ok := ownNames[l]; ok {
		return l
	}
	return English
}

var (
	matcher  = language.NewMatcher(tags())
	plain    = map[Language]map[string]string{} // sentences with nothing to fill in
	printers = speakers()
)

func tags() []language.Tag {
	all := make([]language.Tag, len(Languages))
	for i, l := range Languages {
		all[i] = language.MustParse(string(l))
	}
	return all
}

// speakers reads the catalogues. They are part of the program, so a broken one stops it at once.
func speakers() map[Language]*message.Printer {
	build, all := catalog.NewBuilder(), map[Language]*message.Printer{}
	for i, tag := range tags() {
		l := Languages[i]
		plain[l] = map[string]string{}
		for english, e := range Catalogue(l) {
			plain[l][english] = e.Plain
			if err := build.Set(tag, english, e.message()); err != nil {
				panic(fmt.Sprintf("words of %s, %q: %v", l, english, err))
			}
		}
		all[l] = message.NewPrinter(tag, message.Catalog(build))
	}
	return all
}

// An Entry is one sentence of a catalogue: a plain one, or forms by a number that stands in it.
type Entry struct {
	Plain string
	By    int               // which of the filled-in values the form goes by, from 1
	Forms map[string]string // "=1", "one", "other": selectors of package plural
}

// UnmarshalJSON reads "sentence" or {"by": 2, "one": "…", "other": "…"}; by is 1 when left out.
func (e *Entry) UnmarshalJSON(text []byte) error {
	if text[0] == '"' {
		return json.Unmarshal(text, &e.Plain)
	}
	var by struct{ By int }
	forms := map[string]any{}
	if err := json.Unmarshal(text, &by); err != nil {
		return err
	}
	if err := json.Unmarshal(text, &forms); err != nil {
		return err
	}
	delete(forms, "by")
	e.By, e.Forms = max(by.By, 1), map[string]string{}
	for selector, form := range forms {
		e.Forms[selector], _ = form.(string)
	}
	e.Plain = e.Forms["other"]
	return nil
}

// message puts exact numbers before the classes of the language, and "other" last.
func (e Entry) message() catalog.Message {
	if len(e.Forms) == 0 {
		return catalog.String(e.Plain)
	}
	var cases []any
	for _, selector := range slices.Sorted(maps.Keys(e.Forms)) { // "=1" sorts before "one", and that before "other"
		cases = append(cases, selector, e.Forms[selector])
	}
	return plural.Selectf(e.By, "%d", cases...)
}

// Catalogue is what a language has for each English sentence; nothing for English itself.
func Catalogue(l Language) map[string]Entry {
	entries := map[string]Entry{}
	text, err := words.ReadFile("words/" + string(l) + ".json")
	if err != nil {
		return entries
	}
	if err := json.Unmarshal(text, &entries); err != nil {
		panic(fmt.Sprintf("words of %s: %v", l, err))
	}
	return entries
}
