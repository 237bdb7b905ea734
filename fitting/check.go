package fitting

import (
	"fmt"
)

// between refuses a number outside the bounds. NaN is outside every bound.
func between(field, what string, x, least, most float64, unit string) error {
	if x >= least && x <= most {
		return nil
	}
	return Refusal{field, fmt.Sprintf("%s should lie between %g and %g%s.", what, least, most, unit)}
}

// within refuses a length outside the bounds, saying which slip of units would
// explain it. NaN is outside every bound.
func within(field, what string, l, least, most Length) error {
	if l >= least && l <= most {
		return nil
	}
	return Refusal{field, fmt.Sprintf("%s should lie between %s and %s.%s Please take it again.",
		what, inCentimetres(least), inCentimetres(most), slip(l, least, most))}
}

// slip names the mistake in units that brings l between least and most.
func slip(l, least, most Length) string {
	slips := []struct {
		factor Length
		says   string
	}{
		{Inch / Centimetre, " It looks as if inches were typed as centimetres: read as inches it is %s."},
		{Centimetre / Inch, " It looks as if centimetres were typed as inches: read as centimetres it is %s."},
		{Centimetre, " It looks as if centimetres were typed as millimetres: read as centimetres it is %s."},
		{Inch, " It looks as if inches were typed as millimetres: read as inches it is %s."},
		{1 / Centimetre, " It looks as if millimetres were typed as centimetres: read as millimetres it is %s."},
	}
	for _, s := range slips {
		if meant := l * s.factor; meant >= least && meant <= most {
			return fmt.Sprintf(s.says, inCentimetres(meant))
		}
	}
	return ""
}

// inCentimetres writes a length for people.
func inCentimetres(l Length) string { return fmt.Sprintf("%.1f cm", l.Centimetres()) }
