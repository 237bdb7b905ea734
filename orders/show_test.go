package orders

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestAnswersAreSaidBack(t *testing.T) {
	for _, c := range []struct{ key, value, want string }{
		{"girth", "570.0 572.0 571.0", "57.1 cm (22 1/2 in), the average of 57.0, 57.2 and 57.1; good to ± 1.2 cm (1/2 in)"},
		{"girth", "568.5", "56.9 cm (22 3/8 in), good to ± 1.3 cm (1/2 in)"}, {"girth", Later, "To be measured at the studio"},
		{"height", "1680.0", "168.0 cm (5 ft 6 1/8 in)"}, {"wearer", "child", "A child, and I am the parent or guardian"},
		{"trimming", "flowers veil", "Flowers, A veil"}, {"day", "2027-06-12", "12 June 2027"}, {"day", NotFixed, "Not fixed yet"},
		{"privacy", Yes, "Yes"}, {"photographs", "a", "1 photograph"}, {"photographs", "a b", "2 photographs"}, {"name", "Odile Fennimore", "Odile Fennimore"},
		{"hours", "6", "6"}, {"reach", "odile@example.org", "odile@example.org"}, {"girth", "", ""},
	} {
		assert.Equal(t, c.want, question(t, c.key).Show(Answer{Value: c.value}), "%s %q", c.key, c.value)
	}
}

func TestBothUnits(t *testing.T) {
	for mm, want := range map[float64]string{
		570: "57.0 cm (22 1/2 in)", 571.5: "57.2 cm (22 1/2 in)", 558.8: "55.9 cm (22 in)", 565.15: "56.5 cm (22 1/4 in)", 10: "1.0 cm (3/8 in)", 1: "1.0 mm (1/32 in)",
		12.7: "1.3 cm (1/2 in)", 914.4: "91.4 cm (3 ft 0 in)", 913: "91.3 cm (3 ft 0 in)", 912: "91.2 cm (35 7/8 in)", 1828.8: "182.9 cm (6 ft 0 in)",
	} {
		assert.Equal(t, want, BothUnits(mm).String(), "%v mm", mm)
	}
}
