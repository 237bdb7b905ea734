package orders

import (
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// understoodGirths are lengths round a head as people type them, and what they mean in mm.
var understoodGirths = map[string]float64{
	// centimetres
	"57": 570, "57 cm": 570, "57cm": 570, "57 CM": 570, "57 Cm.": 570, "57cms": 570, "57 centimetres": 570, "57 centimeters": 570,
	"57.5": 575, "57,5": 575, "57,5 cm": 575, "57.5cm": 575, "57·5 cm": 575, "57.50": 575, "57,0": 570, "057": 570, "57.": 570,
	"57 1/2": 575, "57½": 575, "57 ½ cm": 575, "57 and a half cm": 575, "57 cm and a half": 575, "57 3/10 cm": 573,
	"57 cm 5 mm": 575, "57cm 5mm": 575, "57 cm, ": 570, "57-cm": 570, "+57": 570,
	// millimetres and metres
	"570": 570, "570mm": 570, "570 mm": 570, "570 millimetres": 570, "570.5 mm": 570.5, "570,5": 570.5,
	"0.57": 570, "0,57 m": 570, ".57 m": 570, ",57m": 570, "0.570 metres": 570, "0,570": 570,
	// groups of three figures: only one way to take them is possible
	"57.500": 575, "57,500 cm": 575, "570.000": 570, "570,000 mm": 570,
	// inches
	"22": 558.8, "22 in": 558.8, "22in.": 558.8, "22 ins": 558.8, "22 inch": 558.8, "22 inches": 558.8, "22-inch": 558.8, "22 INCHES": 558.8,
	`22"`: 558.8, "22”": 558.8, "22“": 558.8, "22″": 558.8, "22''": 558.8, "22’’": 558.8, "22′′": 558.8, "22＂": 558.8,
	"22.5": 571.5, "22,5": 571.5, "22.5 in": 571.5, `22.5"`: 571.5,
	"22 1/2": 571.5, `22 1/2"`: 571.5, "22 1/2 in": 571.5, "22-1/2": 571.5, "22-1/2 in": 571.5, "22 - 1/2 in": 571.5, "22  1/2  in": 571.5,
	"22 1 / 2 in": 571.5, "22 1⁄2 in": 571.5, "22 1∕2 in": 571.5, "22½": 571.5, "22½ in": 571.5, "22 ½″": 571.5, "22¹⁄₂ in": 571.5, "22¹/₂": 571.5,
	`22" 1/2`: 571.5, "22in 1/2": 571.5, "22 in 1/2 in": 571.5, "22 inches 1/2": 571.5,
	"22 and a half inches": 571.5, "22 and a half": 571.5, "22 & a half in": 571.5, "22 and 1/2 in": 571.5, "22 + 1/2 in": 571.5, "22 inches and a half": 571.5,
	"22 1/4 in": 565.15, "22¼": 565.15, "22 and a quarter inches": 565.15,
	"22 3/4 in": 577.85, "22¾ in": 577.85, "22 and three quarters": 577.85, "22 and 3 quarters in": 577.85, "22 and three-quarter inches": 577.85,
	"22 1/8": 561.975, "22⅛ in": 561.975, "22 and an eighth": 561.975, "22 7/8 in": 581.025, "22⅞": 581.025, "22 and seven eighths": 581.025,
	"22 5/8 in": 574.675, "22 3/16 in": 563.5625, "22 15/32 in": 570.70625, "22 1/3 in": 567.2666, "22⅔ in": 575.7333,
	// feet
	"1 ft 10 1/2": 571.5, "1 ft 10 1/2 in": 571.5, "1ft10.5in": 571.5, `1' 10 1/2"`: 571.5, `1'10"`: 558.8, "1′10½″": 571.5, "1’ 10½”": 571.5,
	"1 foot 10 inches": 558.8, "1 foot and 10 inches": 558.8, "1'10": 558.8, "1.875 ft": 571.5, "1 7/8 feet": 571.5,
	// other figures
	"５７": 570, "５７．５": 575, "５７．５ｃｍ": 575, "５７㎝": 570, "５７０㎜": 570, "２２　１／２": 571.5, "٥٧": 570, "٥٧٫٥": 575, "۵۷ cm": 570, "५७ cm": 570, "৫৭": 570,
	// said in two ways that agree
	"57cm / 22.4in": 570, "57 cm / 22 1/2 in": 570, "57cm/22.5\"": 570, "57 cm (22 1/2 in)": 570, "57 cm = 22.44 in": 570, "57 cm or 22 1/2 inches": 570,
	"22 1/2 in / 57 cm": 571.5, "22½″ (57 cm)": 571.5, "57 / 22.5": 570, "57, 22.5": 570, "570 mm | 22½ in": 570,
	// words around it
	"about 57": 570, "~57 cm": 570, "≈ 57 cm": 570, "approx. 57 cm": 570, "ca. 57 cm": 570, "it is 57 cm": 570, "It's 57": 570, "I got 57.5 cm!": 575,
	"my head is 57 cm round": 570, "the tape says 22 1/2": 571.5, "size 57": 570, "  57  ": 570, "57\u00a0cm": 570, "57\u2009cm": 570, "57\tcm": 570,
}

func TestLengthsAreUnderstoodAsTyped(t *testing.T) {
	girth := question(t, "girth")
	assert.GreaterOrEqual(t, len(understoodGirths), 120, "real-life spellings in the table")
	for typed, want := range understoodGirths {
		mm, p := girth.lengthIn(clean(typed))
		if assert.Nil(t, p, "%q was not understood: %v", typed, said(p)) {
			assert.InDelta(t, want, mm, 0.001, "%q", typed)
		}
	}
}

// said is a problem's text, for messages of tests.
func said(p *Problem) string {
	if p == nil {
		return ""
	}
	return p.Text
}

// refusedGirths are what can't be taken as a length round a head, and a piece of the answer.
var refusedGirths = map[string]string{
	// nothing there
	"cm": "unit without a number", "inches": "unit without a number", "?": "don't understand “?”", "no idea": "don't understand “no”", "/": "no number", "about": "no number",
	// not figures
	"NaN": "“nan”", "Inf": "“inf”", "-Infinity": "“infinity”", "∞": "“∞”", "0x39": "“x”", "5.7e2": "“e”", "1e3": "“e”", "1E+9": "“e”", "57_000": "“_”",
	"57,5,5": "figures “57,5,5”", "5.7.0": "figures “5.7.0”", "57,22.5": "figures “57,22.5”", "1.23,4.5": "figures", "99999999999999999999": "figures",
	"twenty-two": "“twenty”", "57 kg": "“kg”", "57%": "“%”", "57 ± 1": "“±”", "57\u0301x": "don't understand",
	// what can't be
	"0": "can't be right", "0 cm": "can't be right", "-57": "less than nothing", "−57 cm": "less than nothing", "-22 1/2 in": "less than nothing",
	"44.9 cm": "can't be right", "70.1": "can't be right", "5700": "can't be right", "1/2": "can't be right", "half an inch": "can't be right", "1,234,567 mm": "can't be right",
	// the wrong unit, with the right one named
	"22 cm": "Did you mean inches, so 55.9 cm (22 in)?", "22.5cm": "Did you mean inches", "22 1/2 cm": "Did you mean inches, so 57.2 cm (22 1/2 in)?",
	"57 in": "Did you mean centimetres, so 57.0 cm", `57"`: "Did you mean centimetres", "57 mm": "Did you mean centimetres", "57 m": "Did you mean centimetres",
	"570 cm": "Did you mean millimetres", "570 in": "Did you mean millimetres", "22'": "Did you mean inches", "22 ft": "Did you mean inches", "22 mm": "Did you mean inches",
	// more than one
	"57 58": "more than one number", "57 5": "more than one number", "57cm5": "more than one number", "22 1/2 1/4": "more than one number", "57 8/8": "more than one number", "57 cm 1 cm": "more than one number", "5 70": "more than one number",
	"57cm22in": "more than one number", "57-58": "range", "57 - 58 cm": "range", "56 to 57": "range", "57–58": "range", "57-": "range",
	"57, 58, 57": "more than one length", "57/57.5": "two lengths", "57 or 58": "two lengths", "22 in / 22 1/2 in": "two lengths", "1 ft 14 in": "too large to go with",
	// said in two ways that do not agree
	"57cm / 23in": "not the same", "57 cm (22 in)": "not the same", "57 / 22": "not the same", "22 in, 57 cm": "not the same", "57 cm = 57 in": "can't be right",
	// hat sizes whose kind is not said, and letters
	"7 1/8": "which kind", "7⅛": "which kind", "hat size 7": "which kind", "7.125": "which kind", "22 1/7 in": "more than one",
}

func TestWhatIsNoLengthIsAskedAbout(t *testing.T) {
	girth := question(t, "girth")
	for typed, want := range refusedGirths {
		mm, p := girth.lengthIn(clean(typed))
		if assert.NotNil(t, p, "%q was taken as %.1f mm", typed, mm) {
			assert.Contains(t, p.Text, want, "%q", typed)
			assert.Equal(t, "girth", p.Key, "%q", typed)
			assert.False(t, p.Confirmable, "%q can't be confirmed", typed)
		}
	}
}

func TestHeightsAreUnderstoodAsTyped(t *testing.T) {
	height := question(t, "height")
	for typed, want := range map[string]float64{
		"168": 1680, "168 cm": 1680, "1.68": 1680, "1,68 m": 1680, "1 m 68": 1680, "1m68": 1680, "1 m 68 cm": 1680, "1.680": 1680, "1,680 mm": 1680, "1.680,0 mm": 1680, "1,680.0 mm": 1680,
		"5 ft 6": 1676.4, "5'6": 1676.4, `5'6"`: 1676.4, "5’6”": 1676.4, "5 foot 6": 1676.4, "5ft6in": 1676.4, "5 feet 6 1/2 inches": 1689.1, "66": 1676.4, "66 in": 1676.4, "5.5 ft": 1676.4,
	} {
		mm, p := height.lengthIn(typed)
		if assert.Nil(t, p, "%q was not understood: %s", typed, said(p)) {
			assert.InDelta(t, want, mm, 0.001, "%q", typed)
		}
	}
	for _, typed := range []string{"5.6", "5 6", "5", "30", "12 ft", "1m168"} {
		mm, p := height.lengthIn(typed)
		assert.NotNil(t, p, "%q was taken as %.1f mm", typed, mm)
	}
}

func TestAMeaningThatIsNotTheOnlyOneIsAskedAbout(t *testing.T) {
	wide := Question{Key: "wide", Kind: Length, Min: 10, Max: 1000}
	_, p := wide.lengthIn("20")
	if assert.NotNil(t, p, "20 mm, 20 cm and 20 in are all possible") {
		assert.Contains(t, p.Text, "2.0 cm (3/4 in) or 20.0 cm (7 7/8 in)")
	}
	mm, p := wide.lengthIn("20 mm")
	assert.Nil(t, p, "with its unit it is clear: %s", said(p))
	assert.Equal(t, 20.0, mm)
}

func TestEveryLengthShownCanBeTypedAgain(t *testing.T) {
	girth := question(t, "girth")
	rapid.Check(t, func(t *rapid.T) {
		tenths := rapid.IntRange(4500, 7000).Draw(t, "tenths of a mm")
		want := float64(tenths) / 10
		for _, typed := range []string{stored(want), stored(want) + " mm", strconv.FormatFloat(want/10, 'f', 2, 64) + "cm", strings.Replace(stored(want), ".", ",", 1)} {
			mm, p := girth.lengthIn(typed)
			assert.Nil(t, p, "%q: %s", typed, said(p))
			assert.InDelta(t, want, mm, 1e-9, "%q", typed)
		}
		mm, p := girth.lengthIn(BothUnits(want))
		assert.Nil(t, p, "%q: %s", BothUnits(want), said(p))
		assert.InDelta(t, want, mm, 0.5001, "%q is rounded to a millimetre", BothUnits(want))
	})
}

func TestEveryEighthOfAnInchCanBeTypedAgain(t *testing.T) {
	height := question(t, "height")
	girth := question(t, "girth")
	rapid.Check(t, func(t *rapid.T) {
		for q, eighths := range map[*Question]int{
			&girth: rapid.IntRange(142, 220).Draw(t, "eighths round a head"), &height: rapid.IntRange(378, 692).Draw(t, "eighths of a height"),
		} {
			want := float64(eighths) / 8 * 25.4
			mm, p := q.lengthIn(imperial(want))
			assert.Nil(t, p, "%q: %s", imperial(want), said(p))
			assert.InDelta(t, want, mm, 1e-9, "%q", imperial(want))
		}
	})
}

func TestWhateverIsAcceptedIsPossible(t *testing.T) {
	bits := []string{"5", "7", "22", "570", "1", "0", "1/2", "½", "⅛", ".", ",", "-", "/", " ", "cm", "mm", "m", "in", `"`, "'", "ft", "and", "half", "or", "(", ")", "e", "NaN", "٥", "７", "us"}
	lengths := []Question{question(t, "girth"), question(t, "nape"), question(t, "height"), question(t, "ear_to_ear")}
	accepted := 0
	rapid.Check(t, func(t *rapid.T) {
		typed := strings.Join(rapid.SliceOfN(rapid.SampledFrom(bits), 1, 8).Draw(t, "typed"), "")
		for _, q := range lengths {
			mm, p := q.lengthIn(typed)
			if p == nil {
				accepted++
				assert.True(t, mm >= q.Min && mm <= q.Max, "%s took %q as %v mm", q.Key, typed, mm)
			} else {
				assert.NotEmpty(t, p.Text, "%q was refused without a word", typed)
			}
		}
	})
	assert.NotZero(t, accepted, "nothing was accepted, so nothing was checked")
}
