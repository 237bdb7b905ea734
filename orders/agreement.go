package orders

import "perchbook/fitting"

// An Agreement is how three or four tapes of one head go together.
type Agreement struct {
	Agree bool
	Text  Phrase   // empty where there are too few tapes to check any
	Again []string // the questions of the tapes that might be taken again, those she was not asked about before
}

// Agreement holds the client's tapes against each other as the engine does, which speaks of a tape that is
// off by more than two standard deviations. Tapes that no head has are questioned by Unlikely.
func (a Answers) Agreement() Agreement {
	card := cardOf(a)
	var taken []string
	for _, t := range tapes {
		if len(*t.of(&card)) > 0 {
			taken = append(taken, t.question)
		}
	}
	if len(card.Girth) == 0 || len(taken) < 3 {
		return Agreement{}
	}
	check, err := fitting.CheckTapes(measuresOf(card))
	if err != nil {
		return Agreement{}
	}
	if check.Agree() {
		return Agreement{Agree: true, Text: Say("Your %d tapes agree, so each of them is the surer.", len(taken))}
	}
	return Agreement{Text: disagreement(len(taken), check), Again: taken}
}

// disagreement names the tape that fits the others least. With one more than are needed any of them may be
// the one that is off.
func disagreement(number int, check fitting.TapeCheck) Phrase {
	least, apart := look[tapeOfField[check.Field]].name, (check.Taken - check.Others).Millimetres()
	if apart < 0 {
		return Say("Your %d tapes do not quite agree: the one %s is about %s less than the others make it. One of them may be off, or yours is one of "+
			"the heads that differ. Would you take one of them once more? If not, just go on; the studio sees it too.", number, least, BothUnits(-apart))
	}
	return Say("Your %d tapes do not quite agree: the one %s is about %s more than the others make it. One of them may be off, or yours is one of "+
		"the heads that differ. Would you take one of them once more? If not, just go on; the studio sees it too.", number, least, BothUnits(apart))
}

// tapeOfField is the tape by the field of the engine's contract.
var tapeOfField = map[string]fitting.Tape{
	"measures.girth_mm": fitting.GirthTape, "measures.nape_to_crown_mm": fitting.NapeTape,
	"measures.ear_to_ear_mm": fitting.EarTape, "measures.brow_to_nape_mm": fitting.BrowTape,
}
