package draw

import (
	"encoding/json"
	"io"
	"os"
	"testing"

	"perchbook/fitting"
)

func BenchmarkView(b *testing.B) {
	text, _ := os.ReadFile("../../testdata/fitting/cases/right-tilt-steep-brim.json")
	var c struct{ In fitting.Input }
	json.Unmarshal(text, &c)
	s, _ := fitting.Solve(c.In)
	for b.Loop() {
		View(io.Discard, s, FromRight(), Options{Sizes: true})
	}
}
