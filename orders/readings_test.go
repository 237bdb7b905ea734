package orders

import (
	"math"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

var intakeDay = time.Date(2026, 11, 25, 10, 0, 0, 0, time.UTC)

func TestReadingsAreCollectedUntilTheyAgree(t *testing.T) {
	for name, c := range map[string]struct {
		typed        string // entries divided by |
		sure, enough bool
		value        string // kept; "" when something is still asked
		more         bool   // one more reading is wanted
		confirmable  bool
		says         string
	}{
		"the first of three":               {typed: "57", more: true, says: "second reading"},
		"the second of three":              {typed: "57|57.2", more: true, says: "third reading"},
		"three that agree":                 {typed: "57|57.2 cm|22 1/2 in", value: "570.0 572.0 571.5"},
		"empty fields are passed over":     {typed: "57||57.2|  |57.1|", value: "570.0 572.0 571.0"},
		"several in one message":           {typed: "57; 57.2; 57.1", value: "570.0 572.0 571.0"},
		"a line each":                      {typed: "57\n57.2\n57.1", value: "570.0 572.0 571.0"},
		"9.9 mm apart is close enough":     {typed: "570 mm|579.9 mm|575 mm", value: "570.0 579.9 575.0"},
		"10 mm apart wants a fourth":       {typed: "57|58|57.5", more: true, says: "1.0 cm (3/8 in) apart"},
		"a fourth settles it":              {typed: "57|58|57.5|57.4", value: "570.0 580.0 575.0 574.0"},
		"fewer are taken as enough":        {typed: "57", enough: true, value: "570.0"},
		"disagreeing, but all there is":    {typed: "57|58|57.5", enough: true, value: "570.0 580.0 575.0"},
		"one far from the others":          {typed: "47|57|57|57", confirmable: true, says: "47.0 cm (18 1/2 in), is far from the others"},
		"far from the others, and kept":    {typed: "47|57|57|57", sure: true, value: "470.0 570.0 570.0 570.0"},
		"smaller than nearly all heads":    {typed: "50|50|50", confirmable: true, says: "Please look once more: does the tape go over the part at the back"},
		"larger than nearly all heads":     {typed: "63|63|63", confirmable: true, says: "Please look once more: does the tape lie level and snug"},
		"unlikely, and kept":               {typed: "63|63|63", sure: true, value: "630.0 630.0 630.0"},
		"sure of itself, nothing to doubt": {typed: "57|57|57", sure: true, value: "570.0 570.0 570.0"},
		"one that can't be, named":         {typed: "57|22 cm|57", says: "Reading 2: I read “22 cm”"},
		"being sure does not make it be":   {typed: "22 cm", sure: true, enough: true, says: "can't be right"},
		"later":                            {typed: "later", value: Later},
		"in words":                         {typed: "I couldn’t.", value: Later},
		"after a try":                      {typed: "57|measure me", value: Later},
		"nothing":                          {typed: "||", says: "what the tape shows"},
		"nothing is not enough":            {typed: "", enough: true, says: "what the tape shows"},
		"seven":                            {typed: "57|57|57|57|57|57|57", says: "6 are plenty"},
		"a hat size waits for a tape":      {typed: "7 1/8 US", more: true, says: "coarser than a tape"},
		"a hat size and no tape":           {typed: "7 1/8 US", enough: true, value: "568.5"},
		"a tape replaces a hat size":       {typed: "7 1/8 US|57|57.2|57.1", value: "570.0 572.0 571.0"},
	} {
		q := question(t, "girth")
		a, p := q.Parse(Said{Text: strings.Split(c.typed, "|"), Sure: c.sure, Enough: c.enough}, intakeDay)
		if c.value != "" {
			if assert.Nil(t, p, "%s: %s", name, said(p)) {
				assert.Equal(t, c.value, a.Value, name)
			}
			assert.Equal(t, c.sure && strings.Contains(name, "kept"), a.Confirmed, "%s: confirmed only what was doubted", name)
			continue
		}
		if !assert.NotNil(t, p, "%s was kept as %q", name, a.Value) {
			continue
		}
		assert.Contains(t, p.Text, c.says, name)
		assert.Equal(t, c.more, p.NeedsMore, "%s: another reading wanted?", name)
		assert.Equal(t, c.confirmable, p.Confirmable, "%s: can it be kept as it is?", name)
		assert.Empty(t, a.Value, "%s: a value beside a problem", name)
	}
}

func TestReadingsThatMayBeLeftOutAre(t *testing.T) {
	a, p := question(t, "ear_to_ear").Parse(Said{Text: []string{"", " "}}, intakeDay)
	require.Nil(t, p, "leaving out a tape that is not needed: %s", said(p))
	assert.Equal(t, Answer{}, a)
}

func TestHatSizesCountOnlyWithTheirKind(t *testing.T) {
	girth := question(t, "girth")
	for typed, want := range map[string]float64{
		"7 1/8 US": 568.5, "US 7 1/8": 568.5, "us7⅛": 568.5, "7 1/8us": 568.5, "hat size 7 1/8 (US)": 568.5, "American 7.125": 568.5,
		"UK 7": 568.5, "7 uk": 568.5, "uk7": 568.5, "British size 7": 568.5, "French 5": 570, "5 fr": 570, "FR 5½": 580, "EU 57": 570, "european 58": 580,
	} {
		mm, is, p := girth.hatSizeIn(typed)
		if assert.True(t, p == nil && is, "%q is a hat size: %s", typed, said(p)) {
			assert.InDelta(t, want, mm, 0.05, "%q", typed)
		}
	}
	for typed, says := range map[string]string{
		"M": "Letter sizes", "size XL": "Letter sizes", "medium": "Letter sizes", "US": "no number", "US 57": "no such hat size", "UK 22 in": "something else",
		"7 1/8 US / 7 UK": "more than one hat size", "57 cm, US 7 1/8": "something else",
	} {
		_, is, p := girth.hatSizeIn(typed)
		if assert.True(t, p != nil && !is, "%q was taken for a hat size", typed) {
			assert.Contains(t, p.Text, says, "%q", typed)
		}
	}
	for _, typed := range []string{"57", "57 cm", "22 1/2 in", "7 1/8", "size 57", "hat size 7"} {
		_, is, p := girth.hatSizeIn(typed)
		assert.True(t, p == nil && !is, "%q names no kind of hat size: %s", typed, said(p))
	}
	_, p := question(t, "nape").Parse(Said{Text: []string{"UK 7"}, Enough: true}, intakeDay)
	assert.NotNil(t, p, "a hat size says nothing about the nape")
}

func TestDoubtOfAMean(t *testing.T) {
	for _, c := range []struct {
		readings []float64
		by       string
		mean, sd float64
	}{
		{[]float64{570}, ByClient, 570, math.Sqrt(36 + 9)},
		{[]float64{570, 573, 576}, ByClient, 573, math.Sqrt(36 + 3)},
		{[]float64{570}, ByMaker, 570, 2.5},
		{[]float64{570, 571, 572}, ByMaker, 571, math.Sqrt(4 + 0.75)},
	} {
		mean, sd := Doubt(c.readings, c.by)
		assert.InDelta(t, c.mean, mean, 1e-9, "mean of %v", c.readings)
		assert.InDelta(t, c.sd, sd, 1e-9, "doubt of %v by the %s", c.readings, c.by)
	}
	mean, sd := Doubt(nil, ByClient)
	assert.True(t, math.IsNaN(mean) && math.IsNaN(sd), "nothing was read, so nothing is known")
}

func TestMoreReadingsNeverDoubtMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		readings := rapid.SliceOfN(rapid.Float64Range(450, 700), 2, 6).Draw(t, "readings")
		mean, all := Doubt(readings, ByClient)
		_, fewer := Doubt(readings[1:], ByClient)
		_, maker := Doubt(readings, ByMaker)
		assert.Less(t, all, fewer, "one more reading")
		assert.Less(t, maker, all, "the maker's own tape")
		assert.Greater(t, all, 6.0, "no number of readings takes the shared error away")
		assert.True(t, mean >= 450 && mean <= 700, "a mean outside its readings")
	})
}
