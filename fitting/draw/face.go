package draw

import (
	"math"

	"perchbook/fitting"
)

// The face is a quiet scheme, nobody's portrait. It hangs on the model's eyes,
// ears and nape; its other measures are drawn by eye, near the survey's medians
// (nose root to chin 113 mm, jaw 112 mm broad), for a head of mean semi-axis:
const drawnFor = 87.0 // mm

// slice is a level ellipse through face or neck; z is from the eyes' height,
// front from the eyes' depth, back from the middle of the head.
type slice struct{ z, front, back, half float64 }

var faceSlices = [...]slice{
	{24, 15.5, -5, 70}, {14, 16, -5, 70}, {5, 13.5, -5, 70}, {-2, 12.5, -5, 70}, {-11, 17, -5, 69.8}, {-26, 27, -5, 69.3},
	{-37, 33, -4, 68.4}, {-43, 29, -4, 67.6}, {-48, 17, -3, 66.7}, {-56, 18, -3, 64.4}, {-62, 21, -2, 62}, {-66.5, 17, -1, 59.8},
	{-72, 20, 2, 56.4}, {-80, 13, 12, 50.2}, {-90, 16, 28, 40}, {-100, 13, 47, 26}, {-106, 3, 63, 11.5}, {-107, -8, 76, 0},
}

var neckSlices = [...]slice{
	{-36, -54, -63, 46}, {-70, -56, -66, 46}, {-100, -58, -69, 46.8}, {-122, -61, -73, 49}, {-138, -64, -78, 53}, {-150, -67, -82, 60},
}

// features are drawn from the eye of the wearer's left: forward, outward, up.
var (
	upperLid = []fitting.Vec{{X: 2, Y: -13, Z: -3}, {X: 4, Y: -7, Z: 3}, {X: 4.5, Y: 0, Z: 5}, {X: 1, Y: 7, Z: 4}, {X: -9, Y: 14, Z: -1}}
	lowerLid = []fitting.Vec{{X: 2, Y: -13, Z: -3}, {X: 3, Y: -5, Z: -4.5}, {X: 2, Y: 4, Z: -4.5}, {X: -9, Y: 14, Z: -1}}
	nostril  = []fitting.Vec{{X: 12, Y: -17, Z: -38}, {X: 12.5, Y: -16, Z: -43}, {X: 14, Y: -20, Z: -46}, {X: 15, Y: -26, Z: -45.5}, {X: 12, Y: -31, Z: -47.5}}
	lips     = []fitting.Vec{{X: 6, Y: -9, Z: -66}, {X: 12, Y: -18, Z: -65}, {X: 16, Y: -26, Z: -65.5}, {X: 17, Y: -31, Z: -66.5}}
	// the ear from the point behind it
	earRim   = []fitting.Vec{{X: 26, Y: 3, Z: 4}, {X: 24, Y: 5, Z: 18}, {X: 13, Y: 11, Z: 27}, {X: 2, Y: 15, Z: 20}, {X: -1, Y: 14, Z: 5}, {X: 4, Y: 10, Z: -9}, {X: 9, Y: 6, Z: -23}, {X: 17, Y: 2, Z: -33}, {X: 24, Y: 1, Z: -29}, {X: 25, Y: 2, Z: -18}}
	earInner = []fitting.Vec{{X: 19, Y: 8, Z: 16}, {X: 11, Y: 12, Z: 19}, {X: 6, Y: 13, Z: 10}, {X: 10, Y: 11, Z: -2}, {X: 15, Y: 8, Z: -12}}
)

// face is the scheme on one head.
type face struct {
	head  fitting.Head
	size  float64
	eye   fitting.Vec // the left one
	round fitting.Head
}

func newFace(h fitting.Head) face {
	f := face{head: h, eye: h.Eyes()[0]}
	f.size = math.Cbrt(h.A.Millimetres()*h.B.Millimetres()*h.C.Millimetres()) / drawnFor
	f.round = fitting.Head{A: fitting.Length(80 * f.size), B: fitting.Length(66 * f.size), C: 1e5}
	return f
}

// sides are the outlines of slices, from the top down, to the left and to the
// right of the paper.
func (f face) sides(slices []slice, from Camera) (left, right []fitting.Vec) {
	for _, s := range smooth(slices) {
		front, back := f.eye.X+f.size*s.front, f.size*s.back
		middle, half := (front+back)/2, (front-back)/2
		u, v := half*from.right.X, f.size*s.half*from.right.Y
		var out fitting.Vec
		if reach := math.Hypot(u, v); reach > 0 && s.half > 0 { // at the chin both sides meet
			out = fitting.Vec{X: half * u / reach, Y: f.size * s.half * v / reach}
		}
		at := fitting.Vec{X: middle, Z: f.eye.Z + f.size*s.z}
		left, right = append(left, at.Minus(out)), append(right, at.Plus(out))
	}
	return left, right
}

// feature places a feature of the wearer's left or right, and rounds it.
func (f face) feature(at fitting.Vec, shape []fitting.Vec, side float64) []fitting.Vec {
	curve := rounded(shape)
	for i, p := range curve {
		q := at.Plus(p.Times(f.size))
		curve[i] = fitting.Vec{X: q.X, Y: side * q.Y, Z: q.Z}
	}
	return curve
}

// noseFromAbove is all of the face that stands out beyond the head.
func (f face) noseFromAbove() []fitting.Vec {
	shape := []fitting.Vec{{X: 6, Y: 16}, {X: 18, Y: 13}, {X: 29, Y: 8}, {X: 33, Y: 0}, {X: 29, Y: -8}, {X: 18, Y: -13}, {X: 6, Y: -16}}
	curve := rounded(shape)
	for i, p := range curve {
		curve[i] = fitting.Vec{X: f.eye.X + f.size*p.X, Y: f.size * p.Y, Z: f.eye.Z}
	}
	return curve
}

// turnedAway says whether the face itself hides p, a point of a feature.
func (f face) turnedAway(p, toward fitting.Vec) bool {
	return throughHead(f.round, p.Minus(fitting.Vec{X: 10 * f.size}), toward, grazing)
}

// mask covers eyes, nose and mouth, where no words belong, with lines.
func (c Camera) mask(f face) []line {
	var lines []line
	for z := 8.0; z > -72; z -= cell {
		y := f.eye.Y + f.size*15
		p := fitting.Vec{X: f.eye.X, Y: y, Z: f.eye.Z + f.size*z}
		lines = append(lines, line{c.onPaper(p), c.onPaper(fitting.Vec{X: p.X, Y: -y, Z: p.Z})})
	}
	return lines
}
