package server

import (
	"cmp"
	"fmt"
	"math"

	"perchbook/fitting"
)

// A size is one figure for the bench.
type size struct {
	Name   string
	Amount amount
	Remark string
	Large  bool // read while cutting
}

// sizes are the figures of one part of the hat.
type sizes struct {
	Heading string
	Rows    []size
}

// sizesOf says a result for the bench: rounded, in both units where a tape is near.
func sizesOf(r fitting.Result) []sizes {
	return []sizes{
		{"Base", baseSizes(r.Base)},
		{"Place on the head", placementSizes(r)},
		{"Bias strip", stripSizes(r.Strip)},
		{"Brim", brimSizes(r.Brim)},
		{"Elastic", elasticSizes(r.Elastic)},
		{"View under the brim", viewSizes(r.View)},
		{"Hold", holdSizes(r.Hold)},
		{"Cloth", clothSizes(r.Cloth)},
	}
}

// gistOf is a hat in the figures by which one knows it.
func gistOf(r fitting.Result) []size {
	return []size{
		{Name: "Base across", Amount: tape(r.Base.Diameter.Millimetres())},
		{Name: "Sits", Amount: towards(r.Placement), Remark: tape(r.Placement.CrownToCentre.Millimetres()).String() + " from the crown"},
		{Name: "Brim", Amount: tape(r.Brim.Width.Millimetres()), Remark: slopeWords(r.Brim.Slope)},
		{Name: "Cut the elastic", Amount: tape(r.Elastic.Cut.Millimetres()), Remark: giveOrTake(r.Elastic)},
		{Name: "View ahead", Amount: seen(r.View.Ahead)},
	}
}

func baseSizes(b fitting.Base) []size {
	return []size{
		{Name: "Cut circles", Amount: cloth(b.CutDiameter.Millimetres()), Remark: "across, " + cmp.Or(layerWords[b.Rule], count(b.Layers, "layer", "layers")+" of cloth"), Large: true},
		{Name: "Base across", Amount: tape(b.Diameter.Millimetres()), Remark: "rim to rim when domed"},
		{Name: "Domed by", Amount: tape(b.Sag.Millimetres()), Remark: fmt.Sprintf("the weave is pulled %s out of square", angle(b.Doming.Degrees()))},
	}
}

func placementSizes(r fitting.Result) []size {
	p := r.Placement
	line := size{Name: "Lowest edge", Amount: tape(math.Abs(p.TapeLineToRim.Millimetres())), Remark: "above the tape line round the head"}
	if p.TapeLineToRim < 0 {
		line.Remark = "below the tape line round the head"
	}
	if off := r.PlusMinus.TapeLineToRim; off > 0 { // a sheet of an earlier release has none
		line.Remark += ", ± " + tape(off.Millimetres()).Figure
	}
	along := "along the head, from the crown to the base’s middle"
	if off := r.PlusMinus.CrownToCentre; off > 0 {
		along += ", ± " + tape(off.Millimetres()).Figure
	}
	return []size{
		{Name: "Crown to centre", Amount: tape(p.CrownToCentre.Millimetres()), Remark: along, Large: true},
		{Name: "Towards", Amount: towards(p), Remark: "on a clock laid on the crown: 12 is the front, 3 her own right", Large: true},
		line,
		tilt(p),
	}
}

func towards(p fitting.Placement) amount {
	if p.Clock == nil {
		return amount{Figure: "on the crown itself"}
	}
	return amount{Figure: clockWords(*p.Clock)}
}

func tilt(p fitting.Placement) size {
	row := size{Name: "Tilt", Amount: amount{Figure: decimal(math.Abs(p.Forward.Degrees()), 0) + "° forward"}}
	if p.Forward < 0 {
		row.Amount.Figure = decimal(-p.Forward.Degrees(), 0) + "° back"
	}
	side := " to her left"
	if p.Sideways < 0 {
		side = " to her right"
	}
	if n := decimal(math.Abs(p.Sideways.Degrees()), 0); n != "0" {
		row.Remark = "and " + n + "°" + side
	}
	return row
}

var foldWords = map[int]string{4: "four layers, as a large binding", 2: "folded once", 1: "single, with a bound edge"}

// stripSizes rounds what is marked from the fold, and the opened width is twice that, so that the
// two agree at the bench.
func stripSizes(s fitting.Strip) []size {
	fromFold := s.Marked().Millimetres()
	return []size{
		{Name: "Mark from the bias fold", Amount: cloth(fromFold), Remark: foldWords[s.Folds], Large: true},
		{Name: "Strip long", Amount: cloth(s.Length.Millimetres()), Remark: "with 3 cm to lap the ends", Large: true},
		{Name: "Opens to", Amount: cloth(2 * fromFold), Remark: "flat; never less than " + cloth(s.LeastFlatWidth.Millimetres()).String()},
	}
}

func brimSizes(b fitting.BrimPattern) []size {
	rows := []size{
		{Name: "Brim width", Amount: tape(b.Width.Millimetres()), Remark: slopeWords(b.Slope), Large: true},
		{Name: "Steam to: inner radius", Amount: tape(b.FlatInnerRadius.Millimetres()), Remark: "of the flat shape"},
		{Name: "Outer radius", Amount: tape(b.FlatOuterRadius.Millimetres())},
		{Name: "Sector", Amount: angle(b.Sector.Degrees()), Remark: "of a full turn of 360°"},
		{Name: "Edge stretch", Amount: amount{Figure: decimal(b.EdgeRatio, 2) + " : 1"}, Remark: fmt.Sprintf("the weave is pulled %s out of square; 20° is easy, past 40° most cloth locks", angle(b.Shear.Degrees()))},
	}
	if b.RingLap > 0 {
		rows = append(rows, size{Name: "A full ring would lap", Amount: angle(b.RingLap.Degrees()),
			Remark: fmt.Sprintf("%s at the inner edge, %s at the outer", tape(b.RingLapInner.Millimetres()), tape(b.RingLapOuter.Millimetres()))})
	}
	return rows
}

func slopeWords(slope fitting.Angle) string {
	switch n := decimal(math.Abs(slope.Degrees()), 0); {
	case n == "0":
		return "flat, in the rim’s plane"
	case slope < 0:
		return "drooping " + n + "° from the rim’s plane"
	default:
		return "lifting " + n + "° from the rim’s plane"
	}
}

func elasticSizes(e fitting.ElasticCut) []size {
	side := func(behind bool) string {
		if behind {
			return "anchor to nape, led behind the ear"
		}
		return "anchor to nape"
	}
	slack := "lying slack"
	if e.Reel != "" {
		slack += "; from the reel “" + e.Reel + "”"
	}
	rows := []size{
		{Name: "Cut", Amount: tape(e.Cut.Millimetres()), Remark: giveOrTake(e) + "; knots included, end with a try-on", Large: true},
		{Name: "Between the knots", Amount: tape(e.Relaxed.Millimetres()), Remark: slack},
		{Name: "Worn", Amount: tape(e.Worn.Millimetres()), Remark: "stretched, under the hair and behind the ears, never under the chin"},
		{Name: "On her left", Amount: tape(e.LeftPath.Millimetres()), Remark: side(e.LeftBehindEar)},
		{Name: "On her right", Amount: tape(e.RightPath.Millimetres()), Remark: side(e.RightBehindEar)},
	}
	if e.Colour != "" {
		rows = append(rows, size{Name: "Colour", Amount: amount{Figure: e.Colour}, Remark: "as her hair or darker, so that it does not show"})
	}
	return rows
}

func giveOrTake(e fitting.ElasticCut) string {
	a := tape(e.PlusMinus.Millimetres())
	return "± " + a.String()
}

func viewSizes(v fitting.View) []size {
	return []size{
		{Name: "Straight ahead", Amount: seen(v.Ahead), Remark: "how far up she sees before the brim begins"},
		{Name: "30° to her left", Amount: seen(v.Left30)},
		{Name: "30° to her right", Amount: seen(v.Right30)},
		{Name: "60° to her left", Amount: seen(v.Left60)},
		{Name: "60° to her right", Amount: seen(v.Right60)},
	}
}

func seen(a fitting.Angle) amount {
	if a >= 90 {
		return amount{Figure: "clear"}
	}
	return amount{Figure: decimal(a.Degrees(), 0) + "° up"}
}
