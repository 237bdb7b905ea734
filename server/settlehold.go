package server

import (
	"fmt"
	"math"

	"perchbook/fitting"
)

// heldBy says what holds a hat, in the bench's words.
var heldBy = map[fitting.Fastening]string{
	fitting.ByElastic: "elastic alone", fitting.ByComb: "elastic and a comb",
	fitting.ByCombAndPins: "elastic, comb and pins", fitting.ByBand: "a band",
}

// winds are the names of the Beaufort forces that a hat may bear.
var winds = []string{"calm", "light air", "a light breeze", "a gentle breeze", "a moderate breeze", "a fresh breeze", "a strong breeze"}

func holdSizes(h fitting.Hold) []size {
	held := size{Name: "Held by", Amount: amount{Figure: heldBy[h.Fastening]}}
	if h.Fastening != fitting.ByElastic { // else the rows below say as much
		held.Remark = h.Why.Says
	}
	rows := []size{
		held,
		{Name: "Weighs about", Amount: amount{Figure: fmt.Sprintf("%.0f g", math.Round(float64(h.Mass)))}, Remark: "an estimate, trimming and stiffener counted in"},
	}
	if h.TMin == nil {
		return rows
	}
	pull := size{Name: "Elastic pulls like", Amount: amount{Figure: hanging(h.Tension)}, Remark: "a weight hung on it"}
	if h.TMax != nil {
		pull.Remark += "; more than " + hanging(*h.TMax) + " would drag the hat back"
	}
	force := min(h.Beaufort, len(winds)-1)
	return append(rows, pull,
		size{Name: "Bears", Amount: amount{Figure: winds[force]}, Remark: fmt.Sprintf("with the elastic alone; an estimate, force %d, gusts are more", force)})
}

// hanging is a tension in newtons as the weight that hangs so hard.
func hanging(newtons float64) string {
	const gravity = 9.80665 // m/s², standard
	return fmt.Sprintf("%.0f g", math.Round(newtons/gravity*1000/5)*5)
}

func clothSizes(l fitting.Lay) []size {
	row := size{Name: "Takes", Amount: cloth(l.Takes.Length.Millimetres()), Remark: "along a width of " + tape(l.Takes.Width.Millimetres()).String()}
	if !l.Fits {
		row.Remark += "; the piece set down does not do"
	}
	if l.Parts > 1 {
		row.Remark += fmt.Sprintf("; the strip is joined of %d", l.Parts)
	}
	return []size{row}
}
