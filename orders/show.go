package orders

import (
	"math"
	"strings"
	"time"
)

// Show is Phrase in English.
func (q Question) Show(a Answer) string { return q.Phrase(a).String() }

// Phrase says an answer back in people's words: both units for lengths, labels for choices, a written
// date. It is empty for a skipped question.
func (q Question) Phrase(a Answer) Phrase {
	if a.Value == "" {
		return Phrase{}
	}
	switch q.Kind {
	case Choice:
		return q.label(a.Value)
	case Choices:
		var labels []Phrase
		for _, v := range strings.Fields(a.Value) {
			labels = append(labels, q.label(v))
		}
		return joined(", ", labels)
	case Readings:
		return showReadings(a)
	case Length:
		for _, mm := range a.Millimetres() {
			return BothUnits(mm)
		}
	case Date:
		return showDay(a.Value)
	case Consent:
		if a.Value == Yes {
			return Say("Yes")
		}
		return Say("No")
	case Photograph:
		return photographCount(len(strings.Fields(a.Value)))
	case Points:
		return showPoints(a.Value)
	}
	return asTyped(a.Value)
}

// asTyped is what somebody wrote, in no language of ours.
func asTyped(text string) Phrase { return Phrase{"%s", []any{text}} }

func showReadings(a Answer) Phrase {
	readings := a.Millimetres()
	if len(readings) == 0 {
		return Say("To be measured at the studio")
	}
	mean, sd := a.Doubt()
	if a.Source.HatSize {
		return Say("%s, going by a hat size, which is coarser than a tape: give or take %s", BothUnits(mean), BothUnits(2*sd))
	}
	if len(readings) == 1 {
		return Say("%s, good to ± %s", BothUnits(mean), BothUnits(2*sd))
	}
	said := make([]Phrase, len(readings))
	for i, mm := range readings {
		said[i] = Say("%.1f", math.Round(mm)/10)
	}
	return Say("%s, the average of %s; good to ± %s", BothUnits(mean), enumerated(said), BothUnits(2*sd))
}

func showDay(value string) Phrase {
	day, err := time.Parse(dayLayout, value)
	if err != nil {
		return Say("Not fixed yet")
	}
	return SayDay(day)
}

func photographCount(n int) Phrase { return SayCount(n, "1 photograph", "%d photographs") }

// BothUnits writes a length in mm as people read it: "57.0 cm (22 1/2 in)", centimetres to 0.1 and
// inches to 1/8.
func BothUnits(mm float64) Phrase { return Say("%.1f cm (%s)", math.Round(mm)/10, imperial(mm)) }

// inches from which a length is said in feet, as a person's height is
const inFeet = 36

// imperial writes a length in inches to the nearest eighth.
func imperial(mm float64) Phrase {
	eighths := int(math.Round(mm / float64(inch) * 8))
	if eighths >= inFeet*8 {
		return Say("%d ft %s", eighths/96, inches(eighths%96))
	}
	return inches(eighths)
}

func inches(eighths int) Phrase {
	whole, part, below := eighths/8, eighths%8, 8
	for part > 0 && part%2 == 0 {
		part, below = part/2, below/2
	}
	switch {
	case part == 0:
		return Say("%d in", whole)
	case whole == 0:
		return Say("%d/%d in", part, below)
	}
	return Say("%d %d/%d in", whole, part, below)
}
