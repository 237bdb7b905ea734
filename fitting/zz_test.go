package fitting

import (
	"encoding/json"
	"os"
	"testing"
)

func BenchmarkParts(b *testing.B) {
	bb, _ := os.ReadFile("../testdata/fitting/cases/right-tilt-steep-brim.json")
	var c struct{ In Input }
	json.Unmarshal(bb, &c)
	in := c.In
	t, _ := readTapes(in.Measures)
	w, _ := readWork(in)
	h := t.head()
	seat, _ := NewSeat(h, w.base, w.forward, w.sideways)
	brim, _ := NewBrim(seat, w.brim, w.slope, 0, 90)
	el, _ := NewElastic(h, seat, 0, w.anchor)
	s := Solution{Head: h, Seat: seat, Brim: brim, Elastic: el}
	_ = s
	b.Run("tapes", func(b *testing.B) {
		for b.Loop() {
			t.head()
		}
	})
	b.Run("readTapes", func(b *testing.B) {
		for b.Loop() {
			readTapes(in.Measures)
		}
	})
	b.Run("seat", func(b *testing.B) {
		for b.Loop() {
			NewSeat(h, w.base, w.forward, w.sideways)
		}
	})
	b.Run("elastic", func(b *testing.B) {
		for b.Loop() {
			NewElastic(h, seat, 0, w.anchor)
		}
	})
	b.Run("strandL", func(b *testing.B) {
		for b.Loop() {
			newSurface(h).strand(seat, w.anchor, Left)
		}
	})
	b.Run("strandR", func(b *testing.B) {
		for b.Loop() {
			newSurface(h).strand(seat, w.anchor, Right)
		}
	})
	b.Run("fall", func(b *testing.B) {
		for b.Loop() {
			el.Left.on.fall(el.Left.legs[0])
		}
	})
	b.Run("view", func(b *testing.B) {
		for b.Loop() {
			NewView(h, brim)
		}
	})
	b.Run("cut", func(b *testing.B) {
		for b.Loop() {
			s.elasticCut(in, t, w)
		}
	})
	b.Run("placement", func(b *testing.B) {
		for b.Loop() {
			s.placement(w)
		}
	})
}
