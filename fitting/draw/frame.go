package draw

import "perchbook/fitting"

const margin = 5 // mm of paper round everything

// frame is the paper's edge: round all that is drawn, and at least as wide as
// front and side of the hat, so that views side by side have one scale.
func frame(s fitting.Solution, from Camera) box {
	b := extent(s, from)
	widest := b.width()
	for _, c := range []Camera{Front(), FromRight()} {
		widest = max(widest, extent(s, c).width())
	}
	b.left, b.right = b.left-(widest-b.width())/2, b.right+(widest-b.width())/2
	return b.grown(margin)
}

func extent(s fitting.Solution, from Camera) box {
	f := newFace(s.Head)
	b := empty()
	for _, curve := range [][]fitting.Vec{
		headOutline(s.Head, from.toward), ring(s.Brim.Inner), ring(s.Brim.Outer), ball(s, from), {s.Seat.Centre, s.Head.Crown().Plus(fitting.Vec{Z: 6})},
	} {
		b = b.around(from.project(curve)...)
	}
	if from.isAbove() {
		return b.around(from.project(f.noseFromAbove())...)
	}
	for _, slices := range [][]slice{faceSlices[:], neckSlices[:]} {
		left, right := f.sides(slices, from)
		b = b.around(from.project(left)...).around(from.project(right)...)
	}
	for _, side := range [2]float64{1, -1} {
		b = b.around(from.project(f.feature(s.Head.BehindEar(fitting.Left), earRim, side))...)
	}
	return b
}
