package fitting

import (
	"fmt"
	"math"
	"testing"
)

func TestTry(t *testing.T) {
	h := Head{100, 100, 80}
	geo := func(lat, lon float64) Vec {
		lat *= math.Pi / 180
		lon *= math.Pi / 180
		e2 := 1 - 0.64
		n := 100 / math.Sqrt(1-e2*math.Sin(lat)*math.Sin(lat))
		return Vec{n * math.Cos(lat) * math.Cos(lon), n * math.Cos(lat) * math.Sin(lon), n * 0.64 * math.Sin(lat)}
	}
	w, ok := newSurface(h).connect(geo(71.52605149394627, 16.69924423399362), geo(-26.29424837339182, 161.565051177078))
	fmt.Printf("%v %.10f want 204.1091922734\n", ok, w.length)
}
func BenchmarkConnect(b *testing.B) {
	h := newSurface(Head{101, 79, 89})
	p, q := h.Nape(), h.OnSurface(Vec{50, -70, 30})
	for b.Loop() {
		h.connect(p, q)
	}
}
func BenchmarkTrace(b *testing.B) {
	h := newSurface(Head{101, 79, 89})
	p, q := h.Nape(), h.OnSurface(Vec{50, -70, 30})
	a, _ := h.approach(p, q, h.newPlaneArc(p, q).aim(1))
	for b.Loop() {
		h.trace(p, a, fine())
	}
}
