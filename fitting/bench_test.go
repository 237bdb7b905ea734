package fitting

import "testing"

// One evaluation of a given hat, view and doubt included: 0.2 ms is aimed at.
func BenchmarkFitGivenHat(b *testing.B) {
	for _, name := range []string{"crown-set-flat-brim", "right-tilt-steep-brim", "left-tilt-anchor-across", "forehead-set"} {
		in := readCase(b, name)
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Fit(in); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// A hat that is refused only after the elastic was followed over the head.
func BenchmarkFitRefusedElastic(b *testing.B) {
	in := readCase(b, "refused-elastic-over-the-top")
	for b.Loop() {
		if _, err := Fit(in); err == nil {
			b.Fatal("not refused")
		}
	}
}

func BenchmarkParts(b *testing.B) {
	s, err := Solve(readCase(b, "right-tilt-steep-brim"))
	if err != nil {
		b.Fatal(err)
	}
	e := newSurface(s.Head)
	nape, anchor := s.Head.Nape(), s.Elastic.Right.Anchor
	two := Measures{Girth: new(Length(570)), NapeToCrown: new(Length(230))}
	five := Measures{Girth: new(Length(570)), NapeToCrown: new(Length(230)), EarToEar: new(Length(345)), BrowToNape: new(Length(384)), HeadLength: new(Length(192))}
	for _, part := range []struct {
		name string
		do   func()
	}{
		{"head", func() { _, _ = NewHead(two) }},
		{"head of five tapes", func() { _, _ = NewHead(five) }},
		{"seat", func() { seatAt(s.Head, 120, 25, -35) }},
		{"geodesic", func() { e.connect(nape, anchor) }},
		{"elastic", func() { _, _ = NewElastic(s.Head, s.Seat, 0, 1.0/3) }},
		{"view", func() { NewView(s.Head, s.Brim) }},
	} {
		b.Run(part.name, func(b *testing.B) {
			for b.Loop() {
				part.do()
			}
		})
	}
}
