package orders

import (
	"fmt"
	"math"
	"strings"
	"time"
)

// Show says an answer back in people's words: both units for lengths, labels for choices, a written
// date. A skipped question is "".
func (q Question) Show(a Answer) string {
	if a.Value == "" {
		return ""
	}
	switch q.Kind {
	case Choice:
		return q.label(a.Value)
	case Choices:
		var labels []string
		for _, v := range strings.Fields(a.Value) {
			labels = append(labels, q.label(v))
		}
		return strings.Join(labels, ", ")
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
			return "Yes"
		}
		return "No"
	case Photograph:
		return photographCount(len(strings.Fields(a.Value)))
	case Points:
		return showPoints(a.Value)
	}
	return a.Value
}

func showReadings(a Answer) string {
	readings := a.Millimetres()
	if len(readings) == 0 {
		return "To be measured at the studio"
	}
	mean, sd := a.Doubt()
	if a.Source.HatSize {
		return fmt.Sprintf("%s, going by a hat size, which is coarser than a tape: give or take %s", BothUnits(mean), BothUnits(2*sd))
	}
	if len(readings) == 1 {
		return BothUnits(mean)
	}
	said := make([]string, len(readings))
	for i, mm := range readings {
		said[i] = fmt.Sprintf("%.1f", math.Round(mm)/10)
	}
	last := len(said) - 1
	return fmt.Sprintf("%s, the average of %s and %s", BothUnits(mean), strings.Join(said[:last], ", "), said[last])
}

func showDay(value string) string {
	day, err := time.Parse(dayLayout, value)
	if err != nil {
		return "Not fixed yet"
	}
	return written(day)
}

func photographCount(n int) string {
	if n == 1 {
		return "1 photograph"
	}
	return fmt.Sprintf("%d photographs", n)
}

// BothUnits writes a length in mm as people read it: "57.0 cm (22 1/2 in)", centimetres to 0.1 and
// inches to 1/8.
func BothUnits(mm float64) string {
	return fmt.Sprintf("%.1f cm (%s)", math.Round(mm)/10, imperial(mm))
}

// inches from which a length is said in feet, as a person's height is
const inFeet = 36

// imperial writes a length in inches to the nearest eighth.
func imperial(mm float64) string {
	eighths := int(math.Round(mm / float64(inch) * 8))
	feet := ""
	if eighths >= inFeet*8 {
		feet = fmt.Sprintf("%d ft ", eighths/96)
		eighths %= 96
	}
	whole, part := eighths/8, eighths%8
	if part == 0 {
		return fmt.Sprintf("%s%d in", feet, whole)
	}
	below := 8
	for part%2 == 0 {
		part, below = part/2, below/2
	}
	if whole == 0 {
		return fmt.Sprintf("%s%d/%d in", feet, part, below)
	}
	return fmt.Sprintf("%s%d %d/%d in", feet, whole, part, below)
}
