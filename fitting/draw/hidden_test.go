package draw_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/fitting"
	"perchbook/fitting/draw"
)

// slack is how far, in mm, the solids of the check are grown where a hidden point
// must lie behind something, and shrunk where a seen one must not.
const slack = 1.5

var towards = map[string]fitting.Vec{
	"front": {X: 1}, "right": {Y: -1}, "left": {Y: 1}, "back": {X: -1}, "above": {Z: 1},
	"askew right": {X: math.Cos(40 * math.Pi / 180), Y: -math.Sin(40 * math.Pi / 180)}, "askew left": {X: math.Cos(40 * math.Pi / 180), Y: math.Sin(40 * math.Pi / 180)},
}

// hides walks from p towards the onlooker in small steps and says whether the
// way goes through head, dome, lip or brim, each grown by the given length. It
// knows no equations of rays, only on which side of each surface a point lies.
func hides(s fitting.Solution, head fitting.Head, p, toward fitting.Vec, grown float64) bool {
	const step, far, start = 0.25, 420, 0.8
	rim := fitting.Circle{Centre: s.Seat.Rim, Forward: s.Seat.Forward, Left: s.Seat.Left, Radius: s.Seat.Radius}
	out := p // where the hat cuts into the head, it counts as lying on it
	if l := level(head, p, 0); l < 1 {
		out = p.Times(1 / l)
	}
	before := where(s, rim, p.Plus(toward.Times(start)))
	for way := start + step; way < far; way += step {
		q := p.Plus(toward.Times(way))
		now := where(s, rim, q)
		if level(head, out.Plus(toward.Times(way)), grown) < 1 {
			return true
		}
		for i := range now {
			through := now[i].side*before[i].side < 0 && math.Abs(now[i].side-before[i].side) > 1e-6
			along := grown > 0 && math.Abs(now[i].side) < 0.1 // seen edge on
			if (through || along) && now[i].inside > -grown {
				return true
			}
		}
		before = now
	}
	return false
}

// level is 1 on the surface of the head grown by so much, less inside.
func level(h fitting.Head, p fitting.Vec, grown float64) float64 {
	a, b, c := h.A.Millimetres()+grown, h.B.Millimetres()+grown, h.C.Millimetres()+grown
	return math.Sqrt(p.X*p.X/(a*a) + p.Y*p.Y/(b*b) + p.Z*p.Z/(c*c))
}

// place is on which side of a surface a point lies, and how far within its edges.
type place struct{ side, inside float64 }

func where(s fitting.Solution, rim fitting.Circle, q fitting.Vec) [3]place {
	dome := q.Minus(s.Seat.Centre.Minus(s.Seat.Normal.Times(s.Seat.Rho)))
	return [3]place{
		{dome.Norm() - s.Seat.Rho, dome.Dot(s.Seat.Normal) - (s.Seat.Rho - s.Seat.Sag)},
		frustum(rim, s.Brim.Inner, s.Seat.Normal, q),
		frustum(s.Brim.Inner, s.Brim.Outer, s.Seat.Normal, q),
	}
}

func frustum(from, to fitting.Circle, normal, q fitting.Vec) place {
	d := q.Minus(from.Centre)
	z, r := d.Dot(normal), math.Hypot(d.Dot(from.Forward), d.Dot(from.Left))
	rise, out := to.Centre.Minus(from.Centre).Dot(normal), to.Radius-from.Radius
	width := math.Hypot(rise, out)
	if width == 0 {
		return place{1, math.Inf(-1)}
	}
	along := ((r-from.Radius)*out + z*rise) / width
	return place{((r-from.Radius)*rise - z*out) / width, math.Min(along, width-along)}
}

// What is drawn as hidden lies behind something, and what is drawn as seen does
// not, by a check that shares nothing with the drawing's.
func TestHiddenIsHiddenAndSeenIsSeen(t *testing.T) {
	for name, s := range solved(t) {
		for view, toward := range towards {
			p := read(t, s, view, draw.Options{})
			checked := 0
			for part, points := range curves(s) {
				seen, hidden := pens(part)
				head := s.Head
				if part == "left" || part == "right" {
					head = s.Elastic.Under
				}
				for _, run := range p.runs[seen] {
					for _, q := range inner(run) {
						m := nearest(view, q, points, func(m fitting.Vec) bool { return !hides(s, head, m, toward, -slack) })
						require.NotNil(t, m, "%s, %s: %s at %v is drawn as seen, but something is before it", name, view, part, q)
						checked++
					}
				}
				for _, run := range p.runs[hidden] {
					for _, q := range inner(run) {
						m := nearest(view, q, points, func(m fitting.Vec) bool {
							return hides(s, head, m, toward, slack) || underBase(s, m) || inEar(p, view, q) && part != "rim"
						})
						require.NotNil(t, m, "%s, %s: %s at %v is drawn as hidden, but nothing is before it", name, view, part, q)
						checked++
					}
				}
			}
			assert.Greater(t, checked, 60, "%s, %s: hardly anything was checked", name, view)
		}
	}
}

// inner are some points of a run, not its ends, where seen turns to hidden.
func inner(run []xy) []xy {
	var points []xy
	for i := 2; i < len(run)-2; i += 4 {
		points = append(points, run[i])
	}
	return points
}

// nearest is a point of the curve that is drawn at q and is as it should be, nil
// if there is none. Two points of a closed curve may be drawn on one spot.
func nearest(view string, q xy, points []fitting.Vec, is func(fitting.Vec) bool) *fitting.Vec {
	for i := 0; i < len(points); i++ {
		if apart(q, flat(view, points[i])) < 0.6 && is(points[i]) {
			return &points[i]
		}
	}
	return nil
}

func underBase(s fitting.Solution, m fitting.Vec) bool {
	d := m.Minus(s.Seat.Rim)
	return math.Hypot(d.Dot(s.Seat.Forward), d.Dot(s.Seat.Left)) < s.Seat.Radius+slack
}

// inEar says whether q is drawn within the ear that is nearest, by going round
// its rim.
func inEar(p picture, view string, q xy) bool {
	if view == "front" {
		return false
	}
	for _, run := range p.runs["scheme ear"] {
		turn := 0.0
		for i, a := range run {
			b := run[(i+1)%len(run)]
			turn += math.Atan2((a.x-q.x)*(b.y-q.y)-(a.y-q.y)*(b.x-q.x), (a.x-q.x)*(b.x-q.x)+(a.y-q.y)*(b.y-q.y))
		}
		if math.Abs(turn) > 3 {
			return true
		}
	}
	return false
}
