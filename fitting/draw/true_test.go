package draw_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/fitting"
	"perchbook/fitting/draw"
)

const hundredths = 0.03 // mm: two roundings to 0.01, and what 0.5° steps of the check leave

// curve is one curve of the model, sampled finely by the test itself.
func curves(s fitting.Solution) map[string][]fitting.Vec {
	circle := func(c fitting.Circle) (points []fitting.Vec) {
		const n = 7200
		for i := range n + 1 {
			points = append(points, c.Point(2*math.Pi*float64(i)/n))
		}
		return points
	}
	return map[string][]fitting.Vec{
		"rim":        circle(fitting.Circle{Centre: s.Seat.Rim, Forward: s.Seat.Forward, Left: s.Seat.Left, Radius: s.Seat.Radius}),
		"brim-outer": circle(s.Brim.Outer),
		"left":       s.Elastic.Left.Points(fitting.Millimetre),
		"right":      s.Elastic.Right.Points(fitting.Millimetre),
	}
}

func pens(part string) (seen, hidden string) {
	if part == "left" || part == "right" {
		return "elastic " + part, "elastic hidden " + part
	}
	return "seen " + part, "hidden " + part
}

// The points that are drawn are points of the model, projected, and together the
// seen and the hidden runs make the whole curve.
func TestDrawnPointsAreTheModels(t *testing.T) {
	for name, s := range solved(t) {
		for view := range views {
			p := read(t, s, view, draw.Options{Sizes: true})
			for part, points := range curves(s) {
				seen, hidden := pens(part)
				whole := make([]xy, len(points))
				for i, q := range points {
					whole[i] = flat(view, q)
				}
				drawn := 0.0
				for _, run := range append(p.runs[seen], p.runs[hidden]...) {
					drawn += length(run)
					for _, q := range run {
						require.Less(t, off(q, whole), 0.06, "%s, %s: %s strays from the model", name, view, part)
					}
				}
				assert.InDelta(t, length(whole), drawn, 0.005*length(whole)+2, "%s, %s: %s is not drawn whole", name, view, part)
			}
		}
	}
}

func TestEyesAndSightAreTheModels(t *testing.T) {
	for name, s := range solved(t) {
		eye, met, ok := fitting.Sight(s.Head, s.Brim, 0)
		if ok {
			d := met.Minus(eye)
			rise := math.Atan2(d.Z, math.Hypot(d.X, d.Y)) * 180 / math.Pi
			assert.InDelta(t, s.Result.View.Ahead.Degrees(), rise, 1e-9, "%s: the line of sight has not the angle of view", name)
		} else {
			assert.Equal(t, 90.0, s.Result.View.Ahead.Degrees(), "%s: no line of sight, yet something is seen", name)
		}
		for view := range views {
			p := read(t, s, view, draw.Options{})
			for _, dot := range p.dots["pupil"] {
				eyes := s.Head.Eyes()
				near := math.Min(apart(dot, flat(view, eyes[0])), apart(dot, flat(view, eyes[1])))
				assert.Less(t, near, hundredths, "%s, %s: an eye is not where the model has it", name, view)
			}
			if ok && facing(view) {
				line := p.runs["sight sight"][0]
				assert.Less(t, apart(line[0], flat(view, eye)), hundredths, "%s, %s: sight does not start at the eye", name, view)
				assert.Less(t, apart(line[1], flat(view, met)), hundredths, "%s, %s: sight does not end on the brim", name, view)
			}
		}
	}
}

// The outline of the head is its ellipse: every drawn point satisfies the
// equation of the projected ellipsoid.
func TestHeadIsTheEllipse(t *testing.T) {
	for name, s := range solved(t) {
		for view := range views {
			wide := s.Head.A.Millimetres()
			high := s.Head.C.Millimetres()
			switch view {
			case "front", "back":
				wide = s.Head.B.Millimetres()
			case "above":
				wide, high = s.Head.B.Millimetres(), s.Head.A.Millimetres()
			case "askew left", "askew right": // of the ellipse (a, b) seen at 40 degrees
				sin, cos := math.Sincos(40 * math.Pi / 180)
				wide = math.Hypot(s.Head.A.Millimetres()*sin, s.Head.B.Millimetres()*cos)
			}
			runs := read(t, s, view, draw.Options{}).runs["seen head"]
			if view == "above" && len(runs) == 0 {
				continue // a wide brim covers the head
			}
			require.NotEmpty(t, runs, "%s, %s: no head", name, view)
			for _, run := range runs {
				for _, q := range run {
					assert.InDelta(t, 1, math.Hypot(q.x/wide, q.y/high), 1e-3, "%s, %s: the head is no ellipse", name, view)
				}
			}
		}
	}
}

func length(l []xy) float64 {
	sum := 0.0
	for i := 1; i < len(l); i++ {
		sum += apart(l[i], l[i-1])
	}
	return sum
}

func apart(p, q xy) float64 { return math.Hypot(p.x-q.x, p.y-q.y) }

// off is how far p lies from a polyline.
func off(p xy, l []xy) float64 {
	d := math.Inf(1)
	for i := 1; i < len(l); i++ {
		a, b := l[i-1], l[i]
		ux, uy := b.x-a.x, b.y-a.y
		t := 0.0
		if n := ux*ux + uy*uy; n > 0 {
			t = math.Max(0, math.Min(1, ((p.x-a.x)*ux+(p.y-a.y)*uy)/n))
		}
		d = math.Min(d, math.Hypot(p.x-a.x-t*ux, p.y-a.y-t*uy))
	}
	return d
}
