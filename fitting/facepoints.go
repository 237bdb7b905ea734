package fitting

import "math"

// FacePoints are the proportions of a face as points on a photograph from the front
// give them, each over the breadth of the cheekbones in that picture: hairline to
// chin, forehead and jaw. Forehead and jaw may be marked on one side, as a share of
// that side's half of the cheekbones.
//
// A photograph gives no size, and it makes what is nearer to the camera larger.
type FacePoints struct {
	Height   float64 `json:"height"`
	Forehead float64 `json:"forehead"`
	Jaw      float64 `json:"jaw"`
}

// What points can be: our choices, wide of any face seen from an arm's length. The
// second pair is of forehead and jaw.
const (
	LeastPointHeight, MostPointHeight = 0.8, 2.2
	LeastPointWidth, MostPointWidth   = 0.4, 1.3
)

// Check refuses proportions that no face has. NaN is none.
func (f FacePoints) Check() error {
	if err := between("face.points.height", "The face from hairline to chin over its cheekbones", f.Height, LeastPointHeight, MostPointHeight, ""); err != nil {
		return err
	}
	if err := between("face.points.forehead", "The forehead over the cheekbones", f.Forehead, LeastPointWidth, MostPointWidth, ""); err != nil {
		return err
	}
	return between("face.points.jaw", "The jaw over the cheekbones", f.Jaw, LeastPointWidth, MostPointWidth, "")
}

// How a photograph is wrong. All are modelling choices. Near the camera a face looks
// longer and narrower than it is, as everyone knows who has held one in her hand; she
// is asked to stand two steps off.
const (
	cameraDistance = 1500.0    // mm to the cheekbones, as asked
	cameraSpread   = 0.3e-3    // per mm: s.d. of one over the distance, which is from about 0.6 m to 2 m or more
	markDoubt      = 2.5       // mm on the face: s.d. of a mark from where it belongs
	hairlineDoubt  = 5.0       // mm: the hairline is no line
	unevenDoubt    = 2.0       // mm: half of a face against half of its width
	usualHalf      = 133.8 / 2 // mm, of the cheekbones, women; ANSUR II
)

// before is how much nearer to the camera than the cheekbones a measure lies, in mm: a
// modelling choice. The jaw's corners lie further off.
var before = FacePoints{Height: 55, Forehead: 35, Jaw: -10}

// corrected takes what the distance of the camera does to the proportions off them.
func (f FacePoints) corrected() FacePoints {
	off := func(seen, before float64) float64 { return seen * (1 - before/cameraDistance) }
	return FacePoints{off(f.Height, before.Height), off(f.Forehead, before.Forehead), off(f.Jaw, before.Jaw)}
}

// doubt is the s.d. of each corrected proportion: of the marks, of the one side that
// stands for both, and of the camera's distance.
func (f FacePoints) doubt() FacePoints {
	squares := func(all ...float64) (sum float64) {
		for _, x := range all {
			sum += x * x
		}
		return sum
	}
	long := 2 * usualHalf * usualLong
	height := squares(hairlineDoubt/long, markDoubt/long, markDoubt/(usualHalf*math.Sqrt2), before.Height*cameraSpread)
	side := func(half, before float64) float64 {
		return squares(markDoubt/half, unevenDoubt/half, markDoubt/usualHalf, unevenDoubt/usualHalf, before*cameraSpread)
	}
	return FacePoints{
		Height:   f.Height * math.Sqrt(height),
		Forehead: f.Forehead * math.Sqrt(side(usualHalf*usualBrow, before.Forehead)),
		Jaw:      f.Jaw * math.Sqrt(side(usualHalf*usualJaw, before.Jaw)),
	}
}
