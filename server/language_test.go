package server

import (
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// asking opens a page with a browser that asks for a language.
func (s *clientSite) asking(path, language string) string {
	s.t.Helper()
	r := httptest.NewRequest(http.MethodGet, path, nil)
	r.Header.Set("Accept-Language", language)
	got := s.do(r)
	require.Equal(s.t, http.StatusOK, got.status, "%s should be there", path)
	return got.body
}

func TestAPageSpeaksTheLanguageOfTheBrowser(t *testing.T) {
	s := newClientSite(t)
	shows(t, s.asking("/", "fr-FR,fr;q=0.9,en;q=0.5"), `<html lang="fr">`)
	shows(t, s.asking("/", "es-AR"), `<html lang="es">`)
	shows(t, s.asking("/", "ja"), `<html lang="en">`)
	shows(t, s.asking("/enter", "fr"), `<html lang="en">`) // the workroom speaks English
}

// The switch is a plain form; what she chooses wins over the browser, also on another device.
func TestHerChoiceIsKeptWithTheDraft(t *testing.T) {
	s := newClientSite(t)
	base := s.begin()
	page := s.see(base + "/ask/you")
	shows(t, page, `action="`+base+`/language"`)
	shows(t, page, `<button class="plain" name="language" value="es" lang="es">Español</button>`)
	shows(t, page, `value="`+base+`/ask/you"`)
	got := s.post(base+"/language", say("language", "es", "back", base+"/ask/you"))
	require.Equal(t, http.StatusSeeOther, got.status)
	assert.Equal(t, base+"/ask/you", got.location, "she is where she was")
	page = s.asking(base+"/ask/you", "fr")
	shows(t, page, `<html lang="es">`)
	shows(t, page, "Paso 1 de")
	shows(t, page, `lang="es" aria-current="true"`)

	s.post(base+"/language", say("language", "xx", "back", base))
	shows(t, s.see(base+"/ask/you"), `<html lang="es">`) // no such language
}

func TestTheBeginningKeepsTheLanguageItWasReadIn(t *testing.T) {
	s := newClientSite(t)
	r := httptest.NewRequest(http.MethodPost, "/begin", strings.NewReader("privacy=yes"))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	r.Header.Set("Accept-Language", "fr")
	base, _, _ := strings.Cut(s.do(r).location, "/ask/")
	shows(t, s.asking(base+"/ask/you", "en"), `<html lang="fr">`)
}

// The switch leads back to a page of the same door and nowhere else.
func TestTheSwitchLeadsNowhereElse(t *testing.T) {
	s := newClientSite(t)
	base := s.begin()
	for _, back := range []string{"//elsewhere.example/", "https://elsewhere.example/", `/\elsewhere.example`, "", "/workroom", base + "x"} {
		got := s.post(base+"/language", say("language", "fr", "back", back))
		assert.Equal(t, base, got.location, "back to %q", back)
	}
	assert.Equal(t, "/", s.post("/language", say("language", "fr", "back", "//elsewhere.example")).location)
	assert.Equal(t, "/begin", s.post("/language", say("language", "fr", "back", "/begin")).location)
	got := s.post(base+"/letters", nil) // a page that cannot be loaded again
	hides(t, got.body, `name="back" value="`+base+`/letters"`)
}
