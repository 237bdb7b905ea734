package server

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"perchbook/fitting"
	"perchbook/orders"
)

// faceWords say how the engine reads a face that was taped or marked on a picture, with the ± of the
// picture; "" for one that was picked, or of which nothing is known.
func faceWords(f orders.Fitted) string {
	r := f.Settled.Result.Face
	if told := f.Input.Face; told.Shape != "" || told == (fitting.Face{}) || len(r.Shares) == 0 {
		return ""
	}
	words := fmt.Sprintf("%s times as long as wide (%s is usual)", decimal(r.Height.Millimetres()/r.Width.Millimetres(), 2), decimal(fitting.UsualFace, 2))
	if r.Points != nil {
		words = fmt.Sprintf("By points on a picture, less what a camera two steps off does: %s ± %s times as long as wide at the cheekbones (%s is usual), forehead %s ± %s of them, jaw %s ± %s. A picture tells no size",
			decimal(r.Points.Height, 2), decimal(r.PointsPlusMinus.Height, 2), decimal(fitting.UsualFace, 2),
			decimal(r.Points.Forehead, 2), decimal(r.PointsPlusMinus.Forehead, 2), decimal(r.Points.Jaw, 2), decimal(r.PointsPlusMinus.Jaw, 2))
	}
	return words + ". Most like " + sharesInWords(r.Shares) + "."
}

// sharesInWords names the drawn faces that a face is like, the likest first.
func sharesInWords(shares map[fitting.FaceShape]float64) string {
	shapes := slices.SortedFunc(maps.Keys(shares), func(a, b fitting.FaceShape) int {
		if shares[a] != shares[b] {
			return map[bool]int{true: -1, false: 1}[shares[a] > shares[b]]
		}
		return strings.Compare(string(a), string(b))
	})
	var said []string
	for _, s := range shapes {
		if n := 100 * shares[s]; n >= 10 {
			said = append(said, fmt.Sprintf("%s (%s %%)", s, decimal(n, 0)))
		}
	}
	return strings.Join(said, ", ")
}
