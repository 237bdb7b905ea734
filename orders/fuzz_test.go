package orders

import (
	"slices"
	"strings"
	"testing"
	"time"
	"unicode/utf8"
)

// FuzzParse gives every question whatever can be typed: no panic, no problem without words, and
// nothing accepted that the question does not allow.
func FuzzParse(f *testing.F) {
	for _, seed := range []string{
		"", "57", "57,5 cm", `22 1/2"`, "1 ft 10 1/2", "57cm / 22.4in", "7 1/8 US", "NaN", "-Inf", "0x1p9", "1e308", "٥٧٫٥", "22¹⁄₂", "1,234,567.8", "½", "//", "1/0",
		"12/6/2027", "29 February 2027", "99999-99-99", "a@b.c", "+4+4", "\xff\xfe", "\u202e75", "yes", "later", "flowers and veil", strings.Repeat("9", 400), "57; 58; 57\n57",
		".,", ",5,5", "M", "us us", "57-", "-", "1 2 3", "on the", "ᵃ⁵", "İ1", "²/³",
	} {
		f.Add(seed, "", false, false)
		f.Add(seed, "57", true, true)
	}
	f.Fuzz(func(t *testing.T, first, second string, sure, enough bool) {
		for _, q := range Questions {
			a, p := q.Parse(Said{Text: []string{first, second}, Sure: sure, Enough: enough}, intakeDay)
			if p != nil {
				if p.Text == "" || p.Key != q.Key || !utf8.ValidString(p.Text) || a != (Answer{}) {
					t.Fatalf("%s answered %q, %q with problem %+v and answer %+v", q.Key, first, second, *p, a)
				}
				continue
			}
			if why := wrongWith(q, a); why != "" {
				t.Fatalf("%s took %q, %q as %+v: %s", q.Key, first, second, a, why)
			}
			q.Show(a)
		}
	})
}

// FuzzLength gives lengths of every size to the one parser: no panic, nothing out of bounds, no refusal
// without a word, and what is echoed is understood as itself.
func FuzzLength(f *testing.F) {
	for _, g := range spellings {
		for typed := range g.understood {
			f.Add(typed)
		}
		for typed := range g.asked {
			f.Add(typed)
		}
	}
	questions := kindsOfLength(f)
	f.Fuzz(func(t *testing.T, typed string) {
		for _, q := range questions {
			mm, p := q.lengthIn(clean(typed))
			switch {
			case p != nil && (p.Text == "" || p.Key != q.Key || !utf8.ValidString(p.Text)):
				t.Fatalf("%s refused %q with %+v", q.Key, typed, *p)
			case p == nil && !(mm >= q.Min && mm <= q.Max):
				t.Fatalf("%s took %q for %v mm", q.Key, typed, mm)
			}
			if echo := q.Echo(typed).String(); echo != "" {
				if again := q.Echo(echo).String(); again != echo {
					t.Fatalf("%s echoes %q as %q, and that as %q", q.Key, typed, echo, again)
				}
			}
		}
	})
}

// wrongWith says how an accepted answer breaks what its kind promises.
func wrongWith(q Question, a Answer) string {
	if !utf8.ValidString(a.Value) || !utf8.ValidString(a.Said) || strings.ContainsRune(a.Value+a.Said, 0) {
		return "not clean text"
	}
	if a.Value == "" {
		if q.Needed {
			return "needed and empty"
		}
		return ""
	}
	words := strings.Fields(a.Value)
	switch q.Kind {
	case Length, Readings:
		if a.Value == Later && q.Kind == Readings {
			return ""
		}
		lengths := a.Millimetres()
		if len(lengths) != len(words) {
			return "not all of it is a length"
		}
		for _, mm := range lengths {
			if !(mm >= q.Min && mm <= q.Max) {
				return "out of bounds"
			}
		}
	case Choice, Choices:
		for _, w := range words {
			if !slices.ContainsFunc(q.Options, func(o Option) bool { return o.Value == w }) {
				return w + " is no option"
			}
		}
	case Text:
		if letters(a.Value) > int(q.Max) {
			return "too long"
		}
	case Date:
		day, err := time.Parse(dayLayout, a.Value)
		if a.Value != NotFixed && (err != nil || day.Before(intakeDay.Truncate(24*time.Hour))) {
			return "no day to come"
		}
	case Consent:
		if a.Value != Yes {
			return "neither yes nor nothing"
		}
	}
	return ""
}
