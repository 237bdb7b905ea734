package orders

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"perchbook/fitting"
)

// Materials are what hats are made of in this workroom. What is nought or empty has not been said, and
// the engine takes the usual.
type Materials struct {
	Reels                   []Reel  // the first is worked with, unless another is chosen for a hat
	ClothWidth, ClothLength float64 // of the piece that a hat is cut from, mm
	Density                 float64 // of the cloth, g/m²
	BiasStretch             float64 // of the cloth on the bias until it ripples, as a part of its length
	Layers                  fitting.LayerRule
	Stiffener               float64 // mass of stiffened cloth over that of the cloth
	Extras                  float64 // thread, binding and lining, g
	Firmest                 float64 // tension that is still comfortable, N
}

// A Reel is an elastic that the milliner has, and what hanging a weight on a piece of it showed.
type Reel struct {
	Number       int // names it for good, from 1 to MostReels
	Name         string
	Width        float64 // mm; 0: not said
	Rest, Loaded float64 // of the same piece without and with the weight, mm
	Weight       float64 // that hung on it, g
}

// Bounds of what can be meant, for whoever reads a form; the engine has none narrower.
const (
	MostReels                       = 8
	LeastReelWidth, MostReelWidth   = 0.5, 20.0     // mm
	LeastRest, MostRest             = 50.0, 2000.0  // mm
	LeastWeight, MostWeight         = 5.0, 2000.0   // g
	LeastClothWidth, MostClothWidth = 200.0, 3000.0 // mm
	LeastClothLength                = 200.0         // mm
	MostClothLength                 = 50_000.0      // mm
	LeastDensity, MostDensity       = 10.0, 1000.0  // g/m²
	LeastBias, MostBias             = 0.02, 0.40
	LeastStiffener, MostStiffener   = 1.0, 5.0
	LeastExtras, MostExtras         = 0.5, 200.0 // g
	LeastFirmest, MostFirmest       = 0.2, 3.0   // N
	longestReelName                 = 60
)

const gravity = 9.80665 // m/s², standard

func (r Reel) tension() float64 { return r.Weight / 1000 * gravity } // N

// into tells the engine that a hat is worked with this reel.
func (r Reel) into(in *fitting.Input) {
	load := r.tension()
	in.Elastic.Rest, in.Elastic.Loaded, in.Elastic.Load = millimetres(r.Rest), millimetres(r.Loaded), &load
	in.Learned.Reel, in.Hold.CordWidth = r.Name, nil
	if r.Width > 0 {
		in.Hold.CordWidth = millimetres(r.Width)
	}
}

// into tells the engine what hats are made of here.
func (m Materials) into(in *fitting.Input) {
	in.Cloth = fitting.Cloth{
		Width: told[fitting.Length](m.ClothWidth), Length: told[fitting.Length](m.ClothLength),
		Density: told[float64](m.Density), Bias: told[float64](m.BiasStretch),
	}
	in.Hat.Layers = m.Layers
	in.Hold.Stiffener, in.Hold.Extras = told[float64](m.Stiffener), told[fitting.Mass](m.Extras)
	in.Hold.Most = told[float64](m.Firmest)
	if len(m.Reels) > 0 {
		m.Reels[0].into(in)
	}
}

// told is a value that has been said, nil for none.
func told[T ~float64](x float64) *T {
	if x == 0 {
		return nil
	}
	said := T(x)
	return &said
}

// check gives a *Problem with the key of what is wrong, cloth_width, density and so on, or of a reel's
// own field, as ReelKey names it.
func (m Materials) check() error {
	for _, c := range []struct {
		x, least, most float64
		key, what      string
	}{
		{m.ClothWidth, LeastClothWidth, MostClothWidth, "cloth_width", "The cloth’s width in mm"},
		{m.ClothLength, LeastClothLength, MostClothLength, "cloth_length", "The cloth’s length in mm"},
		{m.Density, LeastDensity, MostDensity, "density", "The cloth’s weight in g/m²"},
		{m.BiasStretch, LeastBias, MostBias, "bias_stretch", "The stretch on the bias, as a part of the length,"},
		{m.Stiffener, LeastStiffener, MostStiffener, "stiffener", "The weight of stiffened cloth over that of the cloth"},
		{m.Extras, LeastExtras, MostExtras, "extras", "The weight of thread, binding and lining in g"},
		{m.Firmest, LeastFirmest, MostFirmest, "firmest", "The firmest comfortable pull in N"},
	} {
		if c.x != 0 && !(c.x >= c.least && c.x <= c.most) {
			return &Problem{Key: c.key, Text: fmt.Sprintf("%s lies between %g and %g.", c.what, c.least, c.most)}
		}
	}
	if m.Layers != "" && !slices.Contains(LayerRules, m.Layers) {
		return &Problem{Key: "layers", Text: "Choose one of the ways to lay the base."}
	}
	if len(m.Reels) > MostReels {
		return &Problem{Key: ReelKey(1, "name"), Text: fmt.Sprintf("%d reels can be kept.", MostReels)}
	}
	for i, r := range m.Reels {
		if err := r.check(m.Reels[:i]); err != nil {
			return err
		}
	}
	return nil
}

// ReelKey names one field of one reel: name, width, rest, loaded or weight.
func ReelKey(number int, field string) string { return fmt.Sprintf("reel-%d-%s", number, field) }

func (r Reel) check(before []Reel) error {
	wrong := func(field, text string) error {
		return &Problem{Key: ReelKey(r.Number, field), Text: fmt.Sprintf("Reel %d. %s", r.Number, text)}
	}
	switch letters := utf8.RuneCountInString(r.Name); {
	case !(r.Number >= 1 && r.Number <= MostReels):
		return &Problem{Key: ReelKey(1, "name"), Text: "That is no reel."}
	case strings.TrimSpace(r.Name) == "" || letters > longestReelName:
		return wrong("name", fmt.Sprintf("Give the reel a name of at most %d letters, to tell it from the others.", longestReelName))
	case slices.ContainsFunc(before, func(o Reel) bool { return o.Number == r.Number || strings.EqualFold(o.Name, r.Name) }):
		return wrong("name", "Another reel has this name. Give each its own.")
	case r.Width != 0 && !(r.Width >= LeastReelWidth && r.Width <= MostReelWidth):
		return wrong("width", fmt.Sprintf("An elastic is between %g and %g mm wide.", LeastReelWidth, MostReelWidth))
	case !(r.Rest >= LeastRest && r.Rest <= MostRest):
		return wrong("rest", "Measure a piece of 5 cm or more, without a weight on it.")
	case !(r.Weight >= LeastWeight && r.Weight <= MostWeight):
		return wrong("weight", fmt.Sprintf("Say what hung on the piece, between %g and %g g.", LeastWeight, MostWeight))
	}
	_, err := fitting.NewReel(*millimetres(r.Rest), *millimetres(r.Loaded), r.tension())
	var refused fitting.Refusal
	if errors.As(err, &refused) {
		return wrong("loaded", refused.Why)
	}
	return err
}

// What the milliner chooses by name is kept among her figures by its place in these lists, from 1.
var (
	LayerRules = []fitting.LayerRule{fitting.FourOneWay, fitting.ThreeTurned, fitting.TwoTurned, fitting.TwoStiffened}
	Anchorings = []fitting.Anchoring{fitting.AtFraction, fitting.AtEars, fitting.Steadiest}
)

// ReelFigure is the figure by which a hat's reel is kept: its number.
const ReelFigure = "elastic.reel"

// Reel finds a reel by its number.
func (m Materials) Reel(number float64) (Reel, bool) {
	i := slices.IndexFunc(m.Reels, func(r Reel) bool { return float64(r.Number) == number })
	if i < 0 {
		return Reel{}, false
	}
	return m.Reels[i], true
}
