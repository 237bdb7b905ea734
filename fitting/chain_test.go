package fitting

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// chain is the slow twin of a geodesic: points on the surface, joined by rubber
// bands, that are moved until none pulls any more. No equation of motion, no
// curvature and no Newton's method in it.
type chain []Vec

// tighten pulls the chain tight, each point towards the middle of its neighbours
// along the surface, doubling the number of points till there are links links.
func (c chain) tighten(h Head, links int) chain {
	for {
		c.settle(h)
		if len(c) > links {
			return c
		}
		finer := chain{c[0]}
		for i, p := range c[1:] {
			finer = append(finer, h.OnSurface(c[i].Plus(p).Times(0.5)), p)
		}
		c = finer
	}
}

func (c chain) settle(h Head) {
	n := len(c) - 1
	over := 2 / (1 + math.Sin(math.Pi/float64(n))) // successive over-relaxation
	for range 60 * n {
		most := 0.0
		for i := 1; i < n; i++ {
			pull := c[i-1].Plus(c[i+1]).Times(0.5).Minus(c[i])
			normal := h.Normal(c[i])
			pull = pull.Minus(normal.Times(pull.Dot(normal)))
			c[i] = h.OnSurface(c[i].Plus(pull.Times(over)))
			most = max(most, pull.Norm())
		}
		if most < 1e-9 {
			return
		}
	}
}

func (c chain) length() float64 {
	sum := 0.0
	for i, p := range c[1:] {
		sum += p.Minus(c[i]).Norm()
	}
	return sum
}

// twinLength is the length of the tightened chain, its links' shortness for
// being straight taken out by comparing 32 links with 64.
func twinLength(h Head, through ...Vec) (float64, chain) {
	c := chain(through).tighten(h, 32)
	coarse := c.length()
	c = c.tighten(h, 64)
	return c.length() + (c.length()-coarse)/3, c
}

func TestGeodesicAgreesWithATightenedChain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h, p, q := anyPair(t)
		way, ok := newSurface(h).connect(p, q)
		require.True(t, ok, "no way found")
		middle := p.Plus(q).Times(0.5)
		off := p.Cross(q).unit().Times(10) // on either side, or a chain may balance on the ridge between
		one, _ := twinLength(h, p, h.OnSurface(middle.Plus(off)), q)
		other, _ := twinLength(h, p, h.OnSurface(middle.Minus(off)), q)
		want := min(one, other)
		require.InDelta(t, want, way.length, 0.01)
	})
}
