package draw

import "perchbook/fitting"

const between = 6 // points for one of a smoothed curve

// curve interpolates through four numbers, between the middle two, the way
// Catmull and Rom do.
func curve(a, b, c, d, t float64) float64 {
	return b + t/2*(c-a+t*(2*a-5*b+4*c-d+t*(3*(b-c)+d-a)))
}

// through calls at with every place of a smoothed curve of n points: the indices
// of the four that count and the part of the way between the middle two.
func through(n int, at func(i [4]int, t float64)) {
	for k := range n - 1 {
		i := [4]int{max(k-1, 0), k, k + 1, min(k+2, n-1)}
		for j := range between {
			at(i, float64(j)/between)
		}
	}
	at([4]int{n - 2, n - 1, n - 1, n - 1}, 0)
}

func rounded(p []fitting.Vec) []fitting.Vec {
	var out []fitting.Vec
	through(len(p), func(i [4]int, t float64) {
		a, b, c, d := p[i[0]], p[i[1]], p[i[2]], p[i[3]]
		out = append(out, fitting.Vec{X: curve(a.X, b.X, c.X, d.X, t), Y: curve(a.Y, b.Y, c.Y, d.Y, t), Z: curve(a.Z, b.Z, c.Z, d.Z, t)})
	})
	return out
}

func smooth(s []slice) []slice {
	var out []slice
	through(len(s), func(i [4]int, t float64) {
		a, b, c, d := s[i[0]], s[i[1]], s[i[2]], s[i[3]]
		out = append(out, slice{
			curve(a.z, b.z, c.z, d.z, t), curve(a.front, b.front, c.front, d.front, t),
			curve(a.back, b.back, c.back, d.back, t), curve(a.half, b.half, c.half, d.half, t),
		})
	})
	return out
}
