package server

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/gin-gonic/gin"

	"perchbook/fitting"
	"perchbook/orders"
)

// A rollField is one figure of a roll's cloth.
type rollField struct {
	reelField
	of func(*orders.RollCloth) *float64
}

var rollFields = []rollField{
	{reelField{key: "width", label: "Width, from selvedge to selvedge", hint: "Such as 91 cm. Empty: as your usual cloth.", least: orders.LeastClothWidth, most: orders.MostClothWidth, write: inCentimetres},
		func(r *orders.RollCloth) *float64 { return &r.Width }},
	{reelField{key: "weight", label: "Weight, as the shop gives it", hint: "In g/m²; or weigh a swatch instead.", least: orders.LeastDensity, most: orders.MostDensity, read: inUnit("g/m²"), write: with("")},
		func(r *orders.RollCloth) *float64 { return &r.Weight }},
	{reelField{key: "swatch_width", label: "Swatch, one side", hint: "Such as 10 cm.", least: orders.LeastSwatch, most: orders.MostSwatch, write: inCentimetres},
		func(r *orders.RollCloth) *float64 { return &r.SwatchWidth }},
	{reelField{key: "swatch_length", label: "Swatch, other side", hint: "The larger the swatch, the truer the weight.", least: orders.LeastSwatch, most: orders.MostSwatch, write: inCentimetres},
		func(r *orders.RollCloth) *float64 { return &r.SwatchLength }},
	{reelField{key: "swatch_weighed", label: "The swatch weighs", hint: "In g.", least: orders.LeastSwatchWeighed, most: orders.MostSwatchWeighed, read: inUnit("g"), write: with(" g")},
		func(r *orders.RollCloth) *float64 { return &r.SwatchWeighed }},
	{reelField{key: "bias_marked", label: "Marked on the bias", hint: "Such as 20 cm.", least: orders.LeastBiasMarked, most: orders.MostBiasMarked, write: inCentimetres},
		func(r *orders.RollCloth) *float64 { return &r.BiasMarked }},
	{reelField{key: "bias_pulled", label: "Pulled to the first ripple", hint: "The same stretch of cloth, such as 24.5 cm.", least: orders.LeastBiasMarked, most: 1.5 * orders.MostBiasMarked, write: inCentimetres},
		func(r *orders.RollCloth) *float64 { return &r.BiasPulled }},
}

// writtenRoll is what is said of a roll as it would be typed.
func writtenRoll(r orders.RollCloth) map[string]string {
	typed := map[string]string{"colour": r.Colour, "swatch": r.Swatch, "note": r.Note}
	for _, f := range rollFields {
		if x := *f.of(&r); x != 0 {
			typed[f.key] = f.write(x)
		}
	}
	return typed
}

// readRoll reads the description; an empty field has not been said.
func (s *Server) readRoll(c *gin.Context) (rollTyped, orders.RollCloth) {
	t := rollTyped{Form: "said", Values: map[string]string{}, Problems: map[string]string{}}
	for _, key := range []string{"colour", "swatch", "note"} {
		t.Values[key] = tidy(c.PostForm(key))
	}
	made := orders.RollCloth{Colour: t.Values["colour"], Swatch: strings.ToLower(t.Values["swatch"]), Note: t.Values["note"]}
	for _, f := range rollFields {
		if t.Values[f.key] = tidy(c.PostForm(f.key)); t.Values[f.key] != "" {
			*f.of(&made), t.Problems[f.key] = f.understand(f.question(f.key, ""), t.Values[f.key], s.Now())
		}
	}
	if utf8.RuneCountInString(made.Colour) == 0 {
		t.Problems["colour"] = "Say its colour or name."
	}
	return t, made
}

func (t rollTyped) wrong() bool {
	for _, p := range t.Problems {
		if p != "" {
			return true
		}
	}
	return false
}

// describe fills the form that says what the roll is of.
func (v *rollView) describe(t rollTyped) {
	v.Colour = fill(field{Key: "colour", Label: "Colour", Hint: "As you call it."}, t.Values, t.Problems)
	v.Shade = fill(field{Key: "swatch", Label: "Swatch", Hint: "Near enough to tell rolls apart; hold the cloth itself to judge a match."}, t.Values, t.Problems)
	v.Note = fill(field{Key: "note", Label: "Note", Hint: "Where it came from, what it does under steam."}, t.Values, t.Problems)
	for _, f := range rollFields {
		one := fill(field{Key: f.key, Label: f.label, Hint: f.hint}, t.Values, t.Problems)
		if f.read == nil {
			one.Heard = f.question(f.key, "").Echo(one.Value).String()
		}
		v.Fields = append(v.Fields, one)
	}
	v.Problems = append(v.Problems, mends(slices.Concat([]field{v.Colour, v.Shade}, v.Fields, []field{v.Note})...)...)
}

// saidOfRoll says what a roll is of.
func saidOfRoll(r orders.Roll) []size {
	var rows []size
	add := func(name string, x float64, a amount, remark string) {
		if x > 0 {
			rows = append(rows, size{Name: name, Amount: a, Remark: remark})
		}
	}
	m, weighed := r.Made, "as the shop gives it"
	if m.SwatchWeighed > 0 {
		weighed = "by a swatch of " + by(tape(m.SwatchWidth), tape(m.SwatchLength)).Figure + ", " + shortest(m.SwatchWeighed, 2) + " g"
	}
	add("Width", m.Width, tape(m.Width), "from selvedge to selvedge")
	add("Weight", m.Density(), amount{Figure: decimal(m.Density(), 0) + " g/m²"}, weighed)
	add("Stretch on the bias", m.BiasStretch(), amount{Figure: decimal(100*m.BiasStretch(), 1) + " %"}, tape(m.BiasMarked).Figure+" pulled to "+tape(m.BiasPulled).Figure)
	return rows
}

// readRollLength reads a length of cloth in whole millimetres.
func readRollLength(label, typed string, least int, now time.Time) (int, string) {
	if typed == "" {
		return 0, label + ": write a length, such as 2.4 m or 85 cm."
	}
	f, mm := readLength(orders.Question{Short: label, Kind: orders.Length, Min: float64(least), Max: orders.MostRollLength}, typed, now)
	return int(math.Round(mm)), f.Problem
}

// metres says a length of cloth: "1.25 m", or "34 cm" below a metre.
func metres(mm int) string {
	if mm < 1000 && mm > -1000 {
		return strings.Replace(shortest(float64(mm)/10, 1), "-", "−", 1) + " cm"
	}
	return strings.Replace(strconv.FormatFloat(float64(mm)/1000, 'f', -1, 64), "-", "−", 1) + " m"
}

func signedMetres(mm int) string {
	switch {
	case mm > 0:
		return "+" + metres(mm)
	case mm == 0:
		return ""
	}
	return metres(mm)
}

func metresOrShort(mm int) string {
	if mm < 0 {
		return metres(-mm) + " missing"
	}
	return metres(mm)
}

// rollAmount is a length of cloth in both units.
func rollAmount(mm int) amount {
	return amount{metres(mm), fitting.Eighths(math.Round(float64(mm) / inch * 8))}
}
