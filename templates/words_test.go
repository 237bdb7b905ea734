package templates

import (
	"maps"
	"regexp"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestTheLanguageIsMatched(t *testing.T) {
	for _, c := range []struct {
		wishes []string
		want   Language
	}{
		{nil, English},
		{[]string{""}, English},
		{[]string{"ja"}, English},
		{[]string{"fr-CA,fr;q=0.9,en;q=0.5"}, French},
		{[]string{"de, es-MX;q=0.8, en;q=0.5"}, Spanish},
		{[]string{"es", "fr"}, Spanish},
		{[]string{"nonsense;;q=7"}, English},
	} {
		assert.Equal(t, c.want, Matched(c.wishes...), "for %q", c.wishes)
	}
	assert.Equal(t, "English", Language("").Name())
	assert.Equal(t, "English", Language("xx").Name(), "an unknown one is spoken to in English")
}

// spoken is a sentence inside another.
type spoken struct {
	english string
	with    []any
}

func (s spoken) Parts() (string, []any) { return s.english, s.with }

func TestNumbersAndPluralsAreThoseOfTheLanguage(t *testing.T) {
	photographs := func(n int) spoken { return spoken{"%d photographs", []any{n}} }
	day := func(date int) spoken { return spoken{"%d %s %s", []any{date, spoken{english: "June"}, "2027"}} }
	for _, c := range []struct {
		l    Language
		s    spoken
		want string
	}{
		{English, spoken{"%.1f cm (%s)", []any{57.25, "22 in"}}, "57.2 cm (22 in)"},
		{French, spoken{"%.1f cm (%s)", []any{57.25, spoken{"%d in", []any{22}}}}, "57,2 cm (22 po)"},
		{Spanish, spoken{"%.1f cm (%s)", []any{57.25, spoken{"%d in", []any{22}}}}, "57,2 cm (22 pulg.)"},
		{French, photographs(0), "0 photographie"},
		{French, photographs(2), "2 photographies"},
		{Spanish, photographs(0), "0 fotografías"},
		{French, day(1), "1er juin 2027"},
		{French, day(2), "2 juin 2027"},
		{Spanish, day(2), "2 de junio de 2027"},
		{French, spoken{english: "a sentence that nobody has translated, 100%%"}, "a sentence that nobody has translated, 100%"},
		{French, spoken{"%s", []any{"100 % as typed"}}, "100 % as typed"},
		{"xx", spoken{english: "June"}, "June"},
	} {
		assert.Equal(t, c.want, c.l.Put(c.s), "%s %q", c.l, c.s.english)
	}
}

var places = regexp.MustCompile(`%(?:\[(\d)\])?[.\d]*[a-z]|%%`)

// placesOf are the verbs of a format by which value they show, "%%" left out.
func placesOf(format string) []string {
	var all []string
	next := 1
	for _, m := range places.FindAllStringSubmatch(format, -1) {
		if m[0] == "%%" {
			continue
		}
		if m[1] != "" {
			next = int(m[1][0] - '0')
		}
		verb := m[0][len(m[0])-1:]
		for len(all) < next {
			all = append(all, "")
		}
		all[next-1] = verb
		next++
	}
	return all
}

// Every translation shows what the English shows; a form by a number may leave that number out.
func TestTranslationsFillTheSamePlaces(t *testing.T) {
	for _, l := range Languages {
		for english, e := range Catalogue(l) {
			want := placesOf(english)
			forms := slices.Collect(maps.Values(e.Forms))
			if len(forms) == 0 {
				forms = []string{e.Plain}
			} else {
				assert.NotEmpty(t, e.Forms["other"], "%s: %q has a form for any number", l, english)
			}
			for _, form := range forms {
				got := placesOf(form)
				if n := e.By; n > 0 && len(got) == len(want) && got[n-1] == "" || n == 1 && len(want) == 1 && len(got) == 0 {
					continue
				}
				assert.Equal(t, want, got, "%s: %q is said as %q", l, english, form)
			}
			assert.NotEmpty(t, e.Plain, "%s: %q", l, english)
		}
	}
}
