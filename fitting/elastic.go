package fitting

import "slices"

// Elastic is how the elastic runs, under the hair, when the hat is worn.
type Elastic struct {
	Under       Head // the surface it runs on
	Left, Right Strand
}

// Strand is one side of the elastic, from its anchor to the nape.
type Strand struct {
	Anchor    Vec // on the surface, below the point of the rim that it is sewn to
	BehindEar bool
	Length    Length
	legs      []path // from the nape up, one or two
	on        surface
}

// NewElastic leads the elastic from the anchors, a fraction q back from the
// base's front, to the nape: see [NewElasticAt].
func NewElastic(h Head, s Seat, hair Length, q float64) (Elastic, error) {
	return NewElasticAt(h, s, hair, Anchors{q, q})
}

// NewElasticAt leads the elastic from the anchors to the nape, under hair of the
// given thickness. Each side is the geodesic that comes down on its own side, led
// behind the ear where it would come down in front of it; its length is right to
// 1e-7 mm. Where there is no such geodesic the elastic would run over to the
// other side, and the sideways tilt is refused.
func NewElasticAt(h Head, s Seat, hair Length, at Anchors) (Elastic, error) {
	if err := within("hair.thickness_mm", "The thickness of the hair", hair, 0, mostHair); err != nil {
		return Elastic{}, err
	}
	for _, q := range []float64{at.Left, at.Right} {
		if err := between("hat.anchor_from_front", "The anchor's place back from the base's front", q, 0, 1, ""); err != nil {
			return Elastic{}, err
		}
	}
	under := newSurface(h.Under(hair))
	left, ok := under.strand(s, at.Left, Left)
	if !ok {
		return Elastic{}, overTheTop("left")
	}
	right, ok := under.strand(s, at.Right, Right)
	if !ok {
		return Elastic{}, overTheTop("right")
	}
	return Elastic{under.Head, left, right}, nil
}

func overTheTop(side string) Refusal {
	return Refusal{"hat.sideways_deg", "Tilted so far, the " + side + " end of the elastic would slip over the head to the other side. " +
		"Tilt the base less, make it larger, or move the anchor."}
}

// strand leads one side. The right one is worked out as the left one of the head
// in a mirror, so that both come out alike to the last digit.
func (e surface) strand(s Seat, q float64, side Side) (Strand, bool) {
	anchor := e.OnSurface(s.Anchor(q, side))
	if side == Right {
		anchor = anchor.mirrored()
	}
	way, ok := e.ownSide(anchor)
	if !ok {
		return Strand{}, false
	}
	legs := []path{way}
	behind := e.fall(way).X > -earBack*e.A.Millimetres()
	if behind {
		ear := e.BehindEar(Left)
		low, lowOK := e.connect(e.Nape(), ear)
		high, highOK := e.connect(ear, anchor)
		if !lowOK || !highOK {
			return Strand{}, false
		}
		legs = []path{low, high}
	}
	if side == Right {
		anchor = anchor.mirrored()
		for _, leg := range legs {
			leg.mirror()
		}
	}
	return newStrand(e, anchor, behind, legs), true
}

func newStrand(e surface, anchor Vec, behind bool, legs []path) Strand {
	length := 0.0
	for _, leg := range legs {
		length += leg.length
	}
	return Strand{anchor, behind, Length(length), legs, e}
}

// ownSide finds the geodesic from the nape to an anchor of the left side that
// comes down on the left. Where the anchor has crossed the middle it is followed
// from the anchor's mirror image.
func (e surface) ownSide(anchor Vec) (path, bool) {
	if anchor.Y >= 0 {
		return e.shortestOnLeft(anchor)
	}
	way, ok := e.shortestOnLeft(anchor.mirrored())
	if !ok {
		return path{}, false
	}
	way, ok = e.lead(way, func(part float64) Vec {
		return e.OnSurface(Vec{anchor.X, anchor.Y * (2*part - 1), anchor.Z})
	})
	return way, ok && e.fall(way).Y > 0
}

// leftward are the azimuths, in radians from straight up, in which the geodesic
// of the left side is looked for where it is not near the plane through nape,
// anchor and centre: for anchors near the middle, which the way over the top
// attracts, and on the forehead, nearly opposite the nape. underFace are those
// below ear and face, which count on low broad heads where nothing else is found:
// such an elastic goes behind the ear.
var (
	leftward  = []float64{0.4, 0.8, 1.2}
	underFace = []float64{1.9, 2.6}
)

// shortestOnLeft finds the shortest geodesic from the nape to an anchor of the
// left side that comes down there.
func (e surface) shortestOnLeft(anchor Vec) (path, bool) {
	nape := e.Nape()
	start := e.newPlaneArc(nape, anchor).aim()
	if way, ok := e.hit(nape, anchor, start); ok && e.fall(way).Y > 0 {
		return way, true
	}
	normal := e.Normal(nape)
	start.along = Vec{0, 0, 1}.Minus(normal.Times(normal.Z)).unit()
	way, ok := e.shortest(nape, anchor, start, leftward)
	if !ok {
		way, ok = e.shortest(nape, anchor, start, underFace)
	}
	return way, ok && e.fall(way).Y > 0
}

// fall is where the way, seen from its end, first comes down to the height of
// the point behind the ear.
func (e surface) fall(way path) Vec {
	level := -earDown * e.C.Millimetres()
	if way.end().at.Z <= level {
		return way.end().at
	}
	i := len(way.nodes) - 2
	for i > 0 && way.nodes[i].at.Z > level {
		i--
	}
	lower, upper := way.nodes[i], way.nodes[i+1]
	step := way.length / float64(len(way.nodes)-1)
	height := func(x float64) float64 { // over the level, between the two: a cubic, right to some 0.01 mm
		return (1-x)*(1-x)*((1+2*x)*(lower.at.Z-level)+x*step*lower.along.Z) +
			x*x*((3-2*x)*(upper.at.Z-level)-(1-x)*step*upper.along.Z)
	}
	s := e.advance(lower, step*rising(func(x float64) float64 { return height(x) / step }, 0, 1), mostColumns)
	return s.at.Plus(s.along.Times((level - s.at.Z) / s.along.Z))
}

// Pull returns the direction, unit, in which the strand pulls at its anchor.
func (s Strand) Pull() Vec { return s.legs[len(s.legs)-1].end().along.Times(-1) }

// short is the columns of extrapolation that steps a few times shorter than fine
// ones need: what is left of the error is under 1e-5 mm.
const short = 3

// Points returns the strand from the anchor to the nape as points of the
// surface, at most spacing apart along it, but never under a millimetre.
func (s Strand) Points(spacing Length) []Vec {
	g := fine()
	if step := max(spacing, Millimetre).Millimetres() / s.on.bend; step < g.step/2 {
		g = grade{short, step}
	}
	var points []Vec
	for _, leg := range s.legs {
		start := leg.nodes[0]
		for i, node := range s.on.trace(start.at, aim{start.along, leg.length}, g).nodes {
			if i > 0 || len(points) == 0 { // the second leg begins where the first ended
				points = append(points, node.at)
			}
		}
	}
	slices.Reverse(points)
	return points
}
