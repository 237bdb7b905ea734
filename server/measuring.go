package server

import (
	"bytes"
	"html/template"

	"perchbook/fitting/draw"
	"perchbook/orders"
	"perchbook/templates"
)

// A layStep is one thing to do with a tape: a drawing of the right way, beside it perhaps one of what goes
// wrong. The words say all that the drawings show.
type layStep struct {
	right, wrong string // names of drawings
	words, not   orders.Phrase
}

// Where the tapes run follows the model in package fitting; heights above brow and ear, tightness and the
// slips are common practice.
var laying = map[string][]layStep{
	"girth": {
		{"round-level", "round-level-not", orders.Say("Lay the tape level all the way: a thumb’s breadth (2.5 cm, 1 in) above the eyebrows, a finger’s breadth above the ears, over the part at the back that stands out most."),
			orders.Say("Not so: it has slipped, high at the back and low in front. A mirror shows it.")},
		{"round-snug", "round-snug-not", orders.Say("Snug, not tight: one finger still slides under it. Read where the end meets the tape."),
			orders.Say("Not so: it hangs loose. Pulled until it presses in, it is just as wrong.")},
	},
	"nape": {
		{"crown", "crown-not", orders.Say("Sit with your chin level. The crown is where a ruler laid level on your head touches it. Keep a finger on the place."),
			orders.Say("Not so: the ruler is tipped, and touches too far in front.")},
		{"nape", "", orders.Say("The nape is the hollow under the back edge of the skull: slide a finger up the middle of your neck until it meets bone."), orders.Phrase{}},
		{"nape-to-crown", "nape-not", orders.Say("Lay the tape from there straight up the middle of the back of the head to the crown."),
			orders.Say("Not so: it begins too far down the neck.")},
	},
	"ear_to_ear": {
		{"ears-notch", "", orders.Say("Begin at the notch just above the small flap in front of one ear hole."), orders.Phrase{}},
		{"ears-over", "", orders.Say("Lead the tape straight up over the crown and down to the same notch at the other ear."), orders.Phrase{}},
		{"ears-side", "ears-side-not", orders.Say("Seen from the side it stands upright."), orders.Say("Not so: it leans over the forehead, which is a shorter way.")},
	},
	"brow_to_nape": {
		{"brow-to-nape", "brow-to-nape-not", orders.Say("Begin in the middle of the forehead where the tape round your head lay, go straight back over the crown and down to the nape."),
			orders.Say("Not so: it begins at the eyebrows, and ends down on the neck.")},
	},
}

// holding says how to hold a tape alone and with a helper.
var holding = map[string][2]orders.Phrase{
	"girth": {orders.Say("Alone: stand before a mirror and turn your head to one side and to the other, to see that the tape lies level."),
		orders.Say("With a helper: look straight ahead; the helper lays the tape and reads it.")},
	"nape": {orders.Say("Alone: hold the end at the nape with one thumb and lead the tape up with the other hand, to the finger at the crown."),
		orders.Say("With a helper: the helper lays the ruler, holds a finger at the crown, and reads the tape.")},
	"ear_to_ear": {orders.Say("Alone: hold one end with a thumb, lead the tape up and over, and read it in a mirror."),
		orders.Say("With a helper: look straight ahead; the helper lays the tape and reads it.")},
	"brow_to_nape": {orders.Say("Alone: hold one end on the forehead with a thumb, lead the tape back with the other hand, and pinch it at the nape."),
		orders.Say("With a helper: look straight ahead; the helper lays the tape and reads it.")},
}

// method is how a tape is laid, as its page shows it.
type method struct {
	Heads         template.HTML // on which the drawings are drawn, once a page
	Steps         []methodStep
	By            []string
	String, Sheet template.HTML
}

type methodStep struct {
	Right, Wrong template.HTML
	Words, Not   string
}

// Taped says that the question is answered with a tape.
func (a asked) Taped() bool { return laying[a.Key] != nil }

// Method is how its tape is laid.
func (a asked) Method() (*method, error) {
	words := draw.MeasuringWords{Crown: a.Language.Say("crown"), Nape: a.Language.Say("nape"),
		Ruler: a.Language.Say("ruler"), Paper: a.Language.Say("29.7 cm or 11 in")}
	var failed error
	drawn := func(name string) template.HTML {
		var b bytes.Buffer
		if name == "" {
			return ""
		}
		if err := draw.Measuring(&b, name, words); err != nil {
			failed = err
		}
		return templates.SVG(b.Bytes())
	}
	var heads bytes.Buffer
	if err := draw.MeasuringHeads(&heads); err != nil {
		return nil, err
	}
	m := &method{Heads: templates.SVG(heads.Bytes()), String: drawn("string"), Sheet: drawn("sheet")}
	for _, s := range laying[a.Key] {
		m.Steps = append(m.Steps, methodStep{drawn(s.right), drawn(s.wrong), a.Language.Put(s.words), a.Language.Put(s.not)})
	}
	for _, p := range holding[a.Key] {
		m.By = append(m.By, a.Language.Put(p))
	}
	return m, failed
}
