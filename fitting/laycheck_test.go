package fitting

import (
	"math"

	"github.com/stretchr/testify/require"
)

// These check a lay from its outlines alone, with ordinary plane geometry: edges'
// normals and distances, none of the octagons by which it was laid.

type flatPoint struct{ x, y float64 }

func (p flatPoint) minus(q flatPoint) flatPoint { return flatPoint{p.x - q.x, p.y - q.y} }
func (p flatPoint) dot(q flatPoint) float64     { return p.x*q.x + p.y*q.y }
func (p flatPoint) norm() float64               { return math.Hypot(p.x, p.y) }
func middle(p Placed) flatPoint                 { return flatPoint{float64(p.X), float64(p.Y)} }
func corner(p Placed, i int) flatPoint {
	c := p.Outline[i%len(p.Outline)]
	return flatPoint{float64(c[0]), float64(c[1])}
}

// toSegment is the distance from p to the segment a-b.
func toSegment(p, a, b flatPoint) float64 {
	d := b.minus(a)
	t := max(0, min(1, p.minus(a).dot(d)/d.dot(d)))
	return p.minus(flatPoint{a.x + t*d.x, a.y + t*d.y}).norm()
}

// toPolygon is the distance from q to the polygon, 0 inside.
func toPolygon(q flatPoint, p Placed) float64 {
	inside, least := true, math.Inf(1)
	for i := range p.Outline {
		a, b := corner(p, i), corner(p, i+1)
		d := b.minus(a)
		if d.x*(q.y-a.y)-d.y*(q.x-a.x) < 0 { // right of an edge of an anticlockwise polygon
			inside = false
		}
		least = min(least, toSegment(q, a, b))
	}
	if inside {
		return 0
	}
	return least
}

// separated says whether a line along an edge of p has all of q on its far side:
// convex polygons are apart only if that holds one way or the other.
func separated(p, q Placed) bool {
	for i := range p.Outline {
		a, b := corner(p, i), corner(p, i+1)
		d := b.minus(a)
		beyond := math.Inf(-1)
		for j := range q.Outline {
			c := corner(q, j).minus(a)
			beyond = max(beyond, (d.x*c.y-d.y*c.x)/d.norm())
		}
		if beyond <= 1e-6 {
			return true
		}
	}
	return false
}

// clear is the distance between two placed parts; 0 where they overlap.
func apart(p, q Placed) float64 {
	switch {
	case p.Diameter > 0 && q.Diameter > 0:
		return middle(p).minus(middle(q)).norm() - float64(p.Diameter+q.Diameter)/2
	case p.Diameter > 0:
		return toPolygon(middle(p), q) - float64(p.Diameter)/2
	case q.Diameter > 0:
		return apart(q, p)
	case !separated(p, q) && !separated(q, p):
		return -1
	}
	least := math.Inf(1)
	for i := range p.Outline {
		least = min(least, toPolygon(corner(p, i), q))
	}
	for i := range q.Outline {
		least = min(least, toPolygon(corner(q, i), p))
	}
	return least
}

// requireLay checks that the lay lies as it should on the cloth that it is said to
// lie on.
func requireLay(t require.TestingT, pieces []Piece, lay Lay, on ClothSize) {
	for i, p := range lay.Pieces {
		room := pieces[p.Piece].Room
		requireInside(t, p, on, float64(room))
		requireCut(t, pieces[p.Piece], p)
		for j, q := range lay.Pieces[:i] {
			need := float64(room + pieces[q.Piece].Room)
			require.GreaterOrEqual(t, apart(p, q), need-1e-5, "parts %d and %d lie too close or overlap: %+v %+v", i, j, p, q)
		}
	}
	requireWhole(t, pieces, lay)
}

func requireInside(t require.TestingT, p Placed, on ClothSize, room float64) {
	corners := []flatPoint{{float64(p.X - p.Diameter/2), float64(p.Y - p.Diameter/2)}, {float64(p.X + p.Diameter/2), float64(p.Y + p.Diameter/2)}}
	for i := range p.Outline {
		corners = append(corners, corner(p, i))
	}
	for _, c := range corners {
		require.True(t, c.x >= room-1e-5 && c.x <= float64(on.Width)-room+1e-5, "%v is off the cloth, %v across: %+v", c, on.Width, p)
		require.True(t, c.y >= room-1e-5 && c.y <= float64(on.Length)-room+1e-5, "%v is off the cloth, %v along: %+v", c, on.Length, p)
	}
}

// requireCut checks the grain: a strip on the bias, its width true, its ends square
// or on the thread; a circle turned as asked.
func requireCut(t require.TestingT, piece Piece, p Placed) {
	if piece.Length == 0 {
		require.Equal(t, piece.Width, p.Diameter, "a circle keeps its size")
		require.Contains(t, []Angle{piece.Turn, 90 - piece.Turn}, p.Turn, "a circle keeps its grain")
		require.Empty(t, p.Outline)
		return
	}
	require.Contains(t, []Angle{45, 135}, p.Turn, "a strip lies on the bias")
	sin, cos := math.Sincos(p.Turn.Radians())
	run, rise := flatPoint{cos, sin}, flatPoint{-sin, cos}
	least, most := math.Inf(1), math.Inf(-1)
	for i := range p.Outline {
		edge := corner(p, i+1).minus(corner(p, i))
		least, most = min(least, corner(p, i).dot(rise)), max(most, corner(p, i).dot(rise))
		if edge.norm() < 1e-9 {
			continue
		}
		off := edge.norm() * 1e-9
		long, square := math.Abs(edge.dot(rise)) < off, math.Abs(edge.dot(run)) < off && !piece.Ring
		thread := (math.Abs(edge.x) < off || math.Abs(edge.y) < off) && p.Parts+btoi(piece.Ring) > 1
		require.True(t, long || square || thread, "an edge runs neither along the strip, nor square to it, nor on the thread: %+v", p)
	}
	require.InDelta(t, float64(piece.Width), most-least, 1e-6, "a strip keeps its width")
}

func btoi(b bool) int {
	if b {
		return 1
	}
	return 0
}

// requireWhole checks that every piece is there once, its parts numbered, and that
// they make up its length and their seams.
func requireWhole(t require.TestingT, pieces []Piece, lay Lay) {
	parts := make([][]Placed, len(pieces))
	for _, p := range lay.Pieces {
		parts[p.Piece] = append(parts[p.Piece], p)
	}
	for i, piece := range pieces {
		n := len(parts[i])
		require.NotZero(t, n, "piece %d is missing", i)
		seen, area := map[int]bool{}, 0.0
		for _, p := range parts[i] {
			require.Equal(t, piece.Kind, p.Kind)
			require.Equal(t, n, p.Parts, "of how many parts")
			require.Equal(t, parts[i][0].Turn, p.Turn, "the parts of one strip keep one direction")
			require.True(t, p.Part >= 1 && p.Part <= n && !seen[p.Part], "part %d of %d", p.Part, n)
			seen[p.Part] = true
			area += p.area()
		}
		want := math.Pi / 4 * float64(piece.Width*piece.Width)
		if piece.Length > 0 {
			joins := n - 1
			if piece.Ring {
				joins = n
			}
			// a seam of s on a slanted edge that is √2 times as long as the strip is wide
			want = float64(piece.Width) * (float64(piece.Length) + float64(joins)*2*math.Sqrt2*float64(piece.Seam))
		}
		require.InEpsilon(t, want, area, 1e-9, "the area of piece %d in %d parts", i, n)
		if piece.Length > 0 {
			requireEnds(t, piece, parts[i])
		}
	}
}

// requireEnds checks that the parts of a strip can be joined to it: two square ends,
// and all others on threads that run the same way, as long as the strip is wide on
// the slant.
func requireEnds(t require.TestingT, piece Piece, parts []Placed) {
	square, across, along := 0, 0, 0
	for _, p := range parts {
		sin, cos := math.Sincos(p.Turn.Radians())
		for i := range p.Outline {
			edge := corner(p, i+1).minus(corner(p, i))
			off := 1e-9 * (1 + edge.norm())
			switch {
			case math.Abs(edge.dot(flatPoint{cos, sin})) < off && math.Abs(edge.norm()-float64(piece.Width)) < 1e-6:
				square++
			case math.Abs(edge.norm()-float64(piece.Width)*math.Sqrt2) < 1e-6 && math.Abs(edge.y) < off:
				across++
			case math.Abs(edge.norm()-float64(piece.Width)*math.Sqrt2) < 1e-6 && math.Abs(edge.x) < off:
				along++
			}
		}
	}
	want := [3]int{2, 0, 2 * (len(parts) - 1)}
	if piece.Ring {
		want = [3]int{0, 0, 2 * len(parts)}
	}
	if across > 0 {
		want[1], want[2] = want[2], want[1]
	}
	require.Equal(t, want, [3]int{square, across, along}, "ends square, across and along the cloth, of %+v", parts)
}
