package orders

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"perchbook/fitting"
)

// parsePoints takes the three proportions that six points on a photograph give. The photograph itself
// stays with her and is never sent.
func (q Question) parsePoints(said []string, _ Said, _ time.Time) (Answer, *Problem) {
	points, ok := readPoints(strings.Join(said, " "))
	if !ok {
		return Answer{}, q.problem("These six points do not make a face. Please choose the picture again and mark them anew, or pick an outline instead.")
	}
	value := fmt.Sprintf("%.3f %.3f %.3f", points.Height, points.Forehead, points.Jaw)
	return Answer{Value: value, Said: value}, nil
}

// readPoints reads three numbers that a face can have.
func readPoints(text string) (fitting.FacePoints, bool) {
	fields := strings.Fields(text)
	if len(fields) != 3 {
		return fitting.FacePoints{}, false
	}
	var x [3]float64
	for i, f := range fields {
		var err error
		if x[i], err = strconv.ParseFloat(f, 64); err != nil {
			return fitting.FacePoints{}, false
		}
	}
	points := fitting.FacePoints{Height: x[0], Forehead: x[1], Jaw: x[2]}
	return points, points.Check() == nil
}

func showPoints(value string) Phrase {
	p, ok := readPoints(value)
	if !ok {
		return Phrase{}
	}
	return Say("%.2f times as long as it is wide at the cheekbones; forehead %.2f and jaw %.2f of that width", p.Height, p.Forehead, p.Jaw)
}

// Ways of telling a face beside the outlines: options of the question "face".
const (
	byTapes  = "tapes"
	byPoints = "points"
)

// faceOf is what the engine is told of her face, in the way that she chose.
func faceOf(a Answers) fitting.Face {
	switch a["face"].Value {
	case byTapes:
		return fitting.Face{
			HairlineToChin: lengthOf(a["face_length"].Value), Cheekbone: lengthOf(a["face_cheekbones"].Value),
			Forehead: lengthOf(a["face_forehead"].Value), Jaw: lengthOf(a["face_jaw"].Value),
		}
	case byPoints:
		if p, ok := readPoints(a["face_points"].Value); ok {
			return fitting.Face{Points: &p}
		}
	}
	return fitting.Face{Shape: fitting.FaceShape(a.oneOf("face", "oval", "round", "long", "square", "heart", "pear"))}
}
