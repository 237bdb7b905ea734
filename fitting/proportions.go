package fitting

import "math"

// proportions are what the advice knows of a face.
type proportions struct {
	height, width float64 // mm, hairline to chin and across the widest place
	shares        [len(faceShapes)]float64
	points        *FacePoints // as the photograph gave them, nil without
}

// faceShapes places the six drawn faces among the survey's, in standard
// deviations from the mean of: height over cheekbones, forehead over cheekbones,
// jaw over cheekbones. Our choices from the usual descriptions (round: about as
// long as wide; heart: wide forehead; and so on), drawn in to what heads are.
// The tilts are start values.
var faceShapes = [6]struct {
	shape           FaceShape
	long, brow, jaw float64
	tilt            Angle
}{
	{Oval, 0.4, 0, -0.5, 22},
	{Round, -1.6, 0, -0.3, 30},
	{Long, 1.8, 0, 0, 15},
	{Square, -1.2, 0.7, 1.5, 30},
	{Heart, 0.2, 1.5, -1.3, 28},
	{Pear, -0.2, -1, 1.5, 22},
}

// The survey's faces. Height is nose root to chin (113.1 mm, s.d. 6.1, women of
// ANSUR II) and what lies above it to the hairline; 1.35 is 181 over 133.8 mm, and
// its spread our choice. The other two are of the women of NIOSH 2003, each over
// her own cheekbones, between calipers; a tape finds a little more of all three.
const (
	usualLong, longDeviation = 1.35, 0.09
	usualBrow, browDeviation = 0.759, 0.039
	usualJaw, jawDeviation   = 0.819, 0.051
)

// UsualFace is how many times as long as wide a face usually is, from hairline to chin
// over its cheekbones.
const UsualFace = usualLong

// What tapes of a face can be: our choices, wide of the survey's percentiles.
const (
	leastFaceHeight, mostFaceHeight = 120 * Millimetre, 270 * Millimetre
	leastCheekbone, mostCheekbone   = 95 * Millimetre, 200 * Millimetre
	leastForehead, mostForehead     = 70 * Millimetre, 200 * Millimetre
	leastJaw, mostJaw               = 65 * Millimetre, 200 * Millimetre
)

// readFace takes the proportions from tapes where there are tapes, else from points,
// else from the shape picked, else from the survey. Shape and tapes together: she is the shape
// that was picked, with those tapes.
func readFace(f Face, girth Length, sex Sex) (proportions, error) {
	for _, t := range []struct {
		field, what string
		tape        *Length
		least, most Length
	}{
		{"face.hairline_to_chin_mm", "The face from hairline to chin", f.HairlineToChin, leastFaceHeight, mostFaceHeight},
		{"face.cheekbone_mm", "The face across the cheekbones", f.Cheekbone, leastCheekbone, mostCheekbone},
		{"face.forehead_mm", "The face across the forehead", f.Forehead, leastForehead, mostForehead},
		{"face.jaw_mm", "The face across the jaw", f.Jaw, leastJaw, mostJaw},
	} {
		if t.tape == nil {
			continue
		}
		if err := within(t.field, t.what, *t.tape, t.least, t.most); err != nil {
			return proportions{}, err
		}
	}
	if f.Points != nil {
		if err := f.Points.Check(); err != nil {
			return proportions{}, err
		}
	}
	p := proportions{points: f.Points}
	cheekbone := given(f.Cheekbone, usualCheekbone(girth, sex))
	seen := f.over(cheekbone)
	p.place(f.Shape, seen)
	p.width = cheekbone.Millimetres() * max(1, seen[1].likeliest(1), seen[2].likeliest(1))
	p.height = cheekbone.Millimetres() * seen[0].likeliest(f.long())
	return p, nil
}

// ratio is one measure of a face over its cheekbones, with the standard deviation that
// the measuring adds, and what is usual. It is not known without tape or point.
type ratio struct {
	known            bool
	at, doubt        float64
	usual, deviation float64
}

// over gives height, forehead and jaw over the cheekbones, by tape or else by points.
func (f Face) over(cheekbone Length) [3]ratio {
	r := [3]ratio{{usual: usualLong, deviation: longDeviation}, {usual: usualBrow, deviation: browDeviation}, {usual: usualJaw, deviation: jawDeviation}}
	if f.Points != nil {
		at := f.Points.corrected()
		doubt := at.doubt()
		r[0].at, r[0].doubt, r[0].known = at.Height, doubt.Height, true
		r[1].at, r[1].doubt, r[1].known = at.Forehead, doubt.Forehead, true
		r[2].at, r[2].doubt, r[2].known = at.Jaw, doubt.Jaw, true
	}
	for i, tape := range []*Length{f.HairlineToChin, f.Forehead, f.Jaw} {
		if tape != nil {
			r[i].at, r[i].doubt, r[i].known = float64(*tape/cheekbone), 0, true
		}
	}
	return r
}

// likeliest is the ratio drawn in to what is usual as far as it is doubtful, or
// another where it is not known.
func (r ratio) likeliest(unknown float64) float64 {
	if !r.known {
		return unknown
	}
	return r.usual + (r.at-r.usual)/r.widening()
}

// widening is the variance of what is measured of faces alike, over that of the faces.
func (r ratio) widening() float64 { return 1 + r.doubt*r.doubt/(r.deviation*r.deviation) }

// from is half the squared distance from a drawn face, which a doubtful ratio brings
// nearer to all of them.
func (r ratio) from(drawn float64) float64 {
	if !r.known {
		return 0
	}
	off := (r.at-r.usual)/r.deviation - drawn
	return off * off / 2 / r.widening()
}

// usualCheekbone follows from the girth by ANSUR II's regressions: s.d. 5.1 mm
// for women, 5.5 for men.
func usualCheekbone(girth Length, sex Sex) Length {
	return bySex(sex, 71.52+0.1109*girth, 41.33+0.1764*girth)
}

// place finds how far the face is each of the drawn ones: wholly the one picked,
// else the nearer the more, by what is known of it.
func (p *proportions) place(picked FaceShape, seen [3]ratio) {
	sum := 0.0
	for i, s := range faceShapes {
		if picked != "" {
			if picked == s.shape {
				p.shares[i] = 1
			}
			continue
		}
		p.shares[i] = math.Exp(-min(seen[0].from(s.long)+seen[1].from(s.brow)+seen[2].from(s.jaw), 500))
		sum += p.shares[i]
	}
	if sum > 0 {
		for i := range p.shares {
			p.shares[i] /= sum
		}
	}
}

// long is height over cheekbones of a face without that tape.
func (f Face) long() float64 {
	for _, s := range faceShapes {
		if s.shape == f.Shape {
			return usualLong + s.long*longDeviation
		}
	}
	return usualLong
}

// read is the face for the result.
func (p proportions) read() FaceRead {
	r := FaceRead{Height: Length(p.height), Width: Length(p.width), Shares: map[FaceShape]float64{}}
	if p.points != nil {
		at := p.points.corrected()
		doubt := at.doubt()
		r.Points, r.PointsPlusMinus = &at, &FacePoints{2 * doubt.Height, 2 * doubt.Forehead, 2 * doubt.Jaw}
	}
	for i, s := range faceShapes {
		r.Shares[s.shape] = p.shares[i]
	}
	return r
}

// longer is how much longer than usual for its width the face is, in standard
// deviations of the survey.
func (p proportions) longer() float64 { return (p.height/p.width - usualLong) / longDeviation }

// tilt is the start value for the face.
func (p proportions) tilt() Angle {
	var tilt Angle
	for i, s := range faceShapes {
		tilt += Angle(p.shares[i]) * s.tilt
	}
	return tilt
}
