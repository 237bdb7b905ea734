package draw

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"perchbook/fitting"
)

// A net that neither gains nor loses thread: at radius r of the flat shape a
// thread makes with the strip the angle whose cosine is r/(rho sqrt 2).
func TestThreadsKeepTheNetsAngle(t *testing.T) {
	from := fitting.Circle{Forward: fitting.Vec{X: 1}, Left: fitting.Vec{Y: 1}, Radius: 60}
	for _, slope := range []float64{-50, 0, 30, 75} {
		b := fitting.Brim{Inner: from, Width: 70, Slope: fitting.Angle(slope)}
		sin, cos := math.Sincos(b.Slope.Radians())
		to := from
		to.Centre.Z, to.Radius = 70*sin, 60+70*cos
		c := newCone(from, to, fitting.Vec{Z: 1})
		p := b.Pattern()
		rho := math.Sqrt((p.FlatInnerRadius.Millimetres()*p.FlatInnerRadius.Millimetres() + p.FlatOuterRadius.Millimetres()*p.FlatOuterRadius.Millimetres()) / 2)
		for _, thread := range weave(p, c)[:2] {
			for i := 1; i < len(thread); i++ {
				middle, step := thread[i].Plus(thread[i-1]).Times(0.5), unit(thread[i].Minus(thread[i-1]))
				round := math.Hypot(middle.X, middle.Y)
				along := unit(fitting.Vec{X: -middle.Y / round, Y: middle.X / round})
				flat := round / cos // a point's distance from the axis is its flat radius times cos(slope)
				require.InDelta(t, flat/(rho*math.Sqrt2), math.Abs(step.Dot(along)), 0.02, "a thread leaves the net at slope %g", slope)
			}
		}
	}
}
