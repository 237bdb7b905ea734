package fitting

import "math"

// proportions are what the advice knows of a face.
type proportions struct {
	height, width float64 // mm, hairline to chin and across the widest place
	shares        [len(faceShapes)]float64
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

// What tapes of a face can be: our choices, wide of the survey's percentiles.
const (
	leastFaceHeight, mostFaceHeight = 120 * Millimetre, 270 * Millimetre
	leastCheekbone, mostCheekbone   = 95 * Millimetre, 200 * Millimetre
	leastForehead, mostForehead     = 70 * Millimetre, 200 * Millimetre
	leastJaw, mostJaw               = 65 * Millimetre, 200 * Millimetre
)

// readFace takes the proportions from tapes where there are tapes, else from the
// shape picked, else from the survey. Shape and tapes together: she is the shape
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
	var p proportions
	cheekbone := given(f.Cheekbone, usualCheekbone(girth, sex))
	p.place(f, cheekbone)
	p.width = max(cheekbone, given(f.Forehead, 0), given(f.Jaw, 0)).Millimetres()
	p.height = given(f.HairlineToChin, cheekbone*Length(f.long())).Millimetres()
	return p, nil
}

// usualCheekbone follows from the girth by ANSUR II's regressions: s.d. 5.1 mm
// for women, 5.5 for men.
func usualCheekbone(girth Length, sex Sex) Length {
	return bySex(sex, 71.52+0.1109*girth, 41.33+0.1764*girth)
}

// place finds how far the face is each of the drawn ones: wholly the one picked,
// else the nearer the more, by the tapes that there are.
func (p *proportions) place(f Face, cheekbone Length) {
	off := func(tape *Length, usual, deviation, drawn float64) float64 {
		if tape == nil {
			return 0
		}
		return (float64(*tape/cheekbone)-usual)/deviation - drawn
	}
	sum := 0.0
	for i, s := range faceShapes {
		if f.Shape != "" {
			if f.Shape == s.shape {
				p.shares[i] = 1
			}
			continue
		}
		l := off(f.HairlineToChin, usualLong, longDeviation, s.long)
		b := off(f.Forehead, usualBrow, browDeviation, s.brow)
		j := off(f.Jaw, usualJaw, jawDeviation, s.jaw)
		p.shares[i] = math.Exp(-min(l*l+b*b+j*j, 1000) / 2)
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
	r := FaceRead{Length(p.height), Length(p.width), map[FaceShape]float64{}}
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
