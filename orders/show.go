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
		return Joined(", ", labels)
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
// inches to 1/8; under a centimetre "3.2 mm (1/8 in)", millimetres to 0.1 and inches to 1/32. The inches
// are those of the rounded figure, so that what is read back and written again stays as it is.
func BothUnits(mm float64) Phrase {
	if fine := math.Round(mm*10) / 10; fine < float64(centimetre) {
		return Say("%.1f mm (%s)", fine, inches(fine, 32))
	}
	mm = math.Round(mm)
	return Say("%.1f cm (%s)", mm/10, imperial(mm))
}

// inches from which a length is said in feet, as a person's height is
const inFeet = 36

// imperial writes a length in inches to the nearest eighth.
func imperial(mm float64) Phrase {
	if eighths := int(math.Round(mm / float64(inch) * 8)); eighths >= inFeet*8 {
		return Say("%d ft %s", eighths/96, ruled(eighths%96, 8))
	}
	return inches(mm, 8)
}

// inches writes a length in inches to the nearest part of so many.
func inches(mm float64, parts int) Phrase {
	return ruled(int(math.Round(mm/float64(inch)*float64(parts))), parts)
}

// ruled is n parts of an inch as a ruler names them.
func ruled(n, parts int) Phrase {
	whole, part := n/parts, n%parts
	for part > 0 && part%2 == 0 {
		part, parts = part/2, parts/2
	}
	switch {
	case part == 0:
		return Say("%d in", whole)
	case whole == 0:
		return Say("%d/%d in", part, parts)
	}
	return Say("%d %d/%d in", whole, part, parts)
}
