package server

import (
	"fmt"
	"math"
	"strings"
	"time"

	"perchbook/fitting"
	"perchbook/orders"
)

// A reelForm are the fields of one reel.
type reelForm struct {
	Heading string
	Fields  []field
}

// reelField is one field of every reel: a length, where it has no way of its own to read one. What it
// reads is nought with a problem; least and most are as typed.
type reelField struct {
	key, label, hint string
	read             func(q orders.Question, typed string, now time.Time) (float64, string)
	of               func(r *orders.Reel) *float64
	write            func(x float64) string
	least, most      float64
}

var reelFields = []reelField{
	{key: "width", label: "Width", hint: "Such as 3 mm or 1/8 in.", least: orders.LeastReelWidth, most: orders.MostReelWidth,
		of: func(r *orders.Reel) *float64 { return &r.Width }, write: with(" mm")},
	{key: "rest", label: "A piece, slack", hint: "Such as 20 cm.", least: orders.LeastRest, most: orders.MostRest,
		of: func(r *orders.Reel) *float64 { return &r.Rest }, write: inCentimetres},
	{key: "loaded", label: "With a weight on it", hint: "Such as 24 cm.", least: orders.LeastRest, most: 4 * orders.MostRest,
		of: func(r *orders.Reel) *float64 { return &r.Loaded }, write: inCentimetres},
	{key: "weight", label: "That weight", hint: "In g, or in N.", least: orders.LeastWeight, most: orders.MostWeight, read: aWeight,
		of: func(r *orders.Reel) *float64 { return &r.Weight }, write: with(" g")},
}

// materialField is one figure of the workroom's cloth, or an estimate that the hold goes by.
type materialField struct {
	reelField
	of       func(m *orders.Materials) *float64
	estimate bool
}

var materialFields = []materialField{
	{reelField{key: "cloth_width", label: "Cloth, from selvedge to selvedge", hint: "Usual is 90 cm.", least: orders.LeastClothWidth, most: orders.MostClothWidth, write: inCentimetres},
		func(m *orders.Materials) *float64 { return &m.ClothWidth }, false},
	{reelField{key: "cloth_length", label: "Cloth, length of the piece for one hat", hint: "Usual is 100 cm.", least: orders.LeastClothLength, most: orders.MostClothLength, write: inCentimetres},
		func(m *orders.Materials) *float64 { return &m.ClothLength }, false},
	{reelField{key: "density", label: "Weight of the cloth", hint: "In g/m²: weigh a swatch. Usual is 100.", least: orders.LeastDensity, most: orders.MostDensity, read: inUnit("g/m²"), write: with("")},
		func(m *orders.Materials) *float64 { return &m.Density }, false},
	{reelField{key: "bias_stretch", label: "Stretch on the bias", hint: "In per cent: mark 20 cm on the bias, pull to the first ripple. It sets how far the brim may be curved.", least: 100 * orders.LeastBias, most: 100 * orders.MostBias, read: aPercentage, write: inPercentage},
		func(m *orders.Materials) *float64 { return &m.BiasStretch }, false},
	{reelField{key: "stiffener", label: "Stiffened cloth weighs", hint: "Times what it weighed before. Usual is 1.15.", least: orders.LeastStiffener, most: orders.MostStiffener, read: inUnit(""), write: with("")},
		func(m *orders.Materials) *float64 { return &m.Stiffener }, true},
	{reelField{key: "extras", label: "Thread, binding and lining", hint: "In g. Usual is 8.", least: orders.LeastExtras, most: orders.MostExtras, read: inUnit("g"), write: with(" g")},
		func(m *orders.Materials) *float64 { return &m.Extras }, true},
	{reelField{key: "firmest", label: "Firmest pull that is still comfortable", hint: "In N. Usual is 1, the pull of 102 g.", least: orders.LeastFirmest, most: orders.MostFirmest, read: inUnit("N"), write: with(" N")},
		func(m *orders.Materials) *float64 { return &m.Firmest }, true},
}

func with(unit string) func(float64) string {
	return func(x float64) string { return shortest(x, 2) + unit }
}

func inCentimetres(mm float64) string { return shortest(mm/10, 2) + " cm" }

func inPercentage(x float64) string { return shortest(100*x, 2) + " %" }

func aPercentage(q orders.Question, typed string, now time.Time) (float64, string) {
	x, problem := inUnit("%")(q, typed, now)
	return x / 100, problem
}

// inUnit reads a plain number, with its unit or without.
func inUnit(unit string) func(q orders.Question, typed string, now time.Time) (float64, string) {
	return func(q orders.Question, typed string, _ time.Time) (float64, string) {
		x, ok := plainNumber(strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(typed), unit)))
		if !ok || !(x >= q.Min && x <= q.Max) {
			return 0, named(q.Short, fmt.Sprintf("Write a plain number from %s to %s.", shortest(q.Min, 1), shortest(q.Max, 1)))
		}
		return x, ""
	}
}

// aWeight reads grams, or newtons as the grams that pull so hard.
func aWeight(q orders.Question, typed string, now time.Time) (float64, string) {
	const gravity = 9.80665 // m/s², standard
	newtons, isForce := strings.CutSuffix(strings.TrimSpace(typed), "N")
	if !isForce {
		return inUnit("g")(q, typed, now)
	}
	x, problem := inUnit("N")(orders.Question{Short: q.Short, Min: q.Min / 1000 * gravity, Max: q.Max / 1000 * gravity}, newtons, now)
	return math.Round(x/gravity*100_000) / 100, problem
}

func (f reelField) understand(q orders.Question, typed string, now time.Time) (float64, string) {
	if f.read != nil {
		return f.read(q, typed, now)
	}
	line, mm := readLength(q, typed, now)
	return mm, line.Problem
}

func (f reelField) question(key, of string) orders.Question {
	return orders.Question{Key: key, Short: of + f.label, Kind: orders.Length, Min: f.least, Max: f.most}
}

// materialKeys name every field about materials.
func materialKeys() []string {
	keys := []string{"layers"}
	for _, f := range materialFields {
		keys = append(keys, f.key)
	}
	for n := 1; n <= orders.MostReels; n++ {
		keys = append(keys, orders.ReelKey(n, "name"))
		for _, f := range reelFields {
			keys = append(keys, orders.ReelKey(n, f.key))
		}
	}
	return keys
}

// writeMaterials puts what is kept into the form as it would be typed.
func writeMaterials(typed map[string]string, m orders.Materials) {
	put := func(key string, x float64, write func(float64) string) {
		if x != 0 {
			typed[key] = write(x)
		}
	}
	for _, f := range materialFields {
		put(f.key, *f.of(&m), f.write)
	}
	for _, r := range m.Reels {
		typed[orders.ReelKey(r.Number, "name")] = r.Name
		for _, f := range reelFields {
			put(orders.ReelKey(r.Number, f.key), *f.of(&r), f.write)
		}
	}
	typed["layers"] = string(m.Layers)
}

// readMaterials reads them from the form; an empty field has not been said.
func readMaterials(typed map[string]string, now time.Time, note func(key, problem string)) orders.Materials {
	m := orders.Materials{Layers: fitting.LayerRule(typed["layers"])}
	read := func(f reelField, key, of string) float64 {
		if typed[key] == "" {
			return 0
		}
		x, problem := f.understand(f.question(key, of), typed[key], now)
		note(key, problem)
		return x
	}
	for _, f := range materialFields {
		*f.of(&m) = read(f.reelField, f.key, "")
	}
	for n := 1; n <= orders.MostReels; n++ {
		if !reelTyped(typed, n) {
			continue
		}
		r := orders.Reel{Number: n, Name: typed[orders.ReelKey(n, "name")]}
		for _, f := range reelFields {
			*f.of(&r) = read(f, orders.ReelKey(n, f.key), fmt.Sprintf("Reel %d, ", n))
		}
		m.Reels = append(m.Reels, r)
	}
	return m
}

// reelTyped says whether anything is written about a reel.
func reelTyped(typed map[string]string, n int) bool {
	some := typed[orders.ReelKey(n, "name")]
	for _, f := range reelFields {
		some += typed[orders.ReelKey(n, f.key)]
	}
	return some != ""
}

// materialsForm shows the reels that are there and one more, cloth, and estimates.
func (v *studioView) materialsForm(typed map[string]string) {
	line := func(f reelField, key string) field {
		one := field{Key: key, Label: f.label, Hint: f.hint, Value: typed[key]}
		if f.read == nil {
			one.Heard = f.question(key, "").Echo(typed[key]).String()
		}
		return one
	}
	for _, f := range materialFields {
		one := line(f.reelField, f.key)
		if f.estimate {
			v.Estimates, v.Estimated = append(v.Estimates, one), v.Estimated || one.Value != ""
		} else {
			v.Cloth = append(v.Cloth, one)
		}
	}
	free := 0
	for n := 1; n <= orders.MostReels && free == 0; n++ {
		if !reelTyped(typed, n) {
			free = n
		}
	}
	for n := 1; n <= orders.MostReels; n++ {
		if n != free && !reelTyped(typed, n) {
			continue
		}
		r := reelForm{Heading: fmt.Sprintf("Reel %d", n)}
		name := orders.ReelKey(n, "name")
		r.Fields = []field{{Key: name, Label: "Name", Hint: "As you call it.", Value: typed[name]}}
		for _, f := range reelFields {
			r.Fields = append(r.Fields, line(f, orders.ReelKey(n, f.key)))
		}
		v.Reels = append(v.Reels, r)
	}
	v.Layers = field{Key: "layers", Label: "Layers of the base", Hint: "As you usually lay them; another rule can be chosen for a hat."}
	for _, rule := range orders.LayerRules {
		chosen := typed["layers"] == string(rule) || typed["layers"] == "" && rule == fitting.FourOneWay
		v.LayerRules = append(v.LayerRules, stageChoice{string(rule), title(layerWords[rule]), chosen})
	}
}

// materialLines are the fields about materials, in the order of the page.
func (v *studioView) materialLines() []*field {
	var all []*field
	for i := range v.Reels {
		for j := range v.Reels[i].Fields {
			all = append(all, &v.Reels[i].Fields[j])
		}
	}
	for i := range v.Cloth {
		all = append(all, &v.Cloth[i])
	}
	all = append(all, &v.Layers)
	for i := range v.Estimates {
		all = append(all, &v.Estimates[i])
	}
	return all
}
