package server

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestLengthsAreRoundedForPeople(t *testing.T) {
	for _, c := range []struct {
		is   amount
		want string
		why  string
	}{
		{tape(571.4), "57.1 cm (22 1/2 in)", "a tape is read to 0.1 cm and an eighth"},
		{tape(0.2), "0.0 cm (0 in)", "nothing stays nothing"},
		{tape(-31.75), "−3.2 cm (−1 1/4 in)", "below the tape line"},
		{tape(571.5), "57.2 cm (22 1/2 in)", "a half is rounded up, as in the client's answers"},
		{tape(9.5), "1.0 cm (3/8 in)", "less than an inch has no leading nought"},
		{cloth(126.1), "13.0 cm (5 in)", "cloth is cut to the next half centimetre"},
		{cloth(125.0000000001), "12.5 cm (5 in)", "a hair too much is not half a centimetre"},
		{angle(-0.2), "0°", "no minus nought"},
	} {
		assert.Equal(t, c.want, c.is.String(), c.why)
	}
}

func TestTheClockIsSaidInWords(t *testing.T) {
	for clock, want := range map[float64]string{
		12: "twelve o’clock", 1.5: "half past one", 1.8: "quarter to two", 11.9: "twelve o’clock", 0.2: "quarter past twelve",
	} {
		assert.Equal(t, want, clockWords(clock), "clock %v", clock)
	}
}

func TestNumbersAreReadAsTyped(t *testing.T) {
	for text, want := range map[string]float64{"25": 25, " 2,5 ": 2.5, "−35": -35, "３５": 35, ".5": .5} {
		got, ok := plainNumber(text)
		assert.True(t, ok, "%q is a number", text)
		assert.InDelta(t, want, got, 1e-12, "%q", text)
	}
	for _, text := range []string{"", "NaN", "Inf", "1e9", "0x1p9", "abc", "1.2.3", "--1", "1234567890123", "½"} {
		_, ok := plainNumber(text)
		assert.False(t, ok, "%q is refused", text)
	}
}
