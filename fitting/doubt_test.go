package fitting

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// lengthsOf are the figures that PlusMinus has, from whole new geodesics.
func lengthsOf(t *testing.T, in Input, h Head, forward, sideways float64) (l [10]float64) {
	t.Helper()
	s := seatAt(h, *in.Hat.Base, *in.Hat.Forward+Angle(forward), *in.Hat.Sideways+Angle(sideways))
	e, err := NewElastic(h, s, in.Hair.Thickness, 1.0/3)
	require.NoError(t, err)
	crown, err := Solution{Head: h, Seat: s}.fromCrown()
	require.NoError(t, err)
	for i, length := range []Length{h.A, h.B, h.C, s.CutDiameter(), Length(s.Sag), crown.Length, h.tapeLineToRim(s), e.Left.Length, e.Right.Length, e.Left.Length + e.Right.Length} {
		l[i] = length.Millimetres()
	}
	return l
}

// The slow twin: whole new hats from tapes that are off, one after the other.
func TestPlusMinusIsWhatWholeHatsShow(t *testing.T) {
	for _, name := range []string{"right-tilt-steep-brim", "forehead-set", "drooping-brim-under-thick-hair"} {
		in := readCase(t, name)
		s, err := Solve(in)
		require.NoError(t, err)
		tp, err := readTapes(in.Measures)
		require.NoError(t, err)
		sd := in.Measures.TapeDoubt()
		var squares [10]float64
		change := func(placing bool, at func(k float64) (Head, float64, float64)) {
			const k = 0.01
			h, forward, sideways := at(+k)
			more := lengthsOf(t, in, h, forward, sideways)
			h, forward, sideways = at(-k)
			less := lengthsOf(t, in, h, forward, sideways)
			for i := range squares {
				if !placing || i >= 7 {
					squares[i] += math.Pow((more[i]-less[i])/(2*k), 2)
				}
			}
		}
		from := func(girth, nape Length, index float64) Head {
			return tapes{girth: tp.girth + girth, nape: tp.nape + nape, index: tp.index + index}.exact()
		}
		change(false, func(k float64) (Head, float64, float64) { return from(sd*Length(k), 0, 0), 0, 0 })
		change(false, func(k float64) (Head, float64, float64) { return from(0, sd*Length(k), 0), 0, 0 })
		if !tp.calipers {
			change(false, func(k float64) (Head, float64, float64) { return from(0, 0, 0.0375*k), 0, 0 })
		}
		change(true, func(k float64) (Head, float64, float64) { return tp.exact(), 3 * k, 0 })
		change(true, func(k float64) (Head, float64, float64) { return tp.exact(), 0, 3 * k })
		p := s.Result.PlusMinus
		for i, got := range []Length{p.A, p.B, p.C, p.CutDiameter, p.Sag, p.CrownToCentre, p.TapeLineToRim, p.LeftPath, p.RightPath, p.Worn} {
			require.Positive(t, got)
			assert.InEpsilon(t, 2*math.Sqrt(squares[i]), got.Millimetres(), 0.002, "%s: figure %d", name, i)
		}
	}
}

// A maker's tapes leave less doubt than a client's, and a tape more less than none,
// in every figure.
func TestBetterTapesLeaveLessDoubt(t *testing.T) {
	in := readCase(t, "right-tilt-steep-brim")
	doubt := func(change func(*Measures)) PlusMinus {
		m := in
		change(&m.Measures)
		s, err := Solve(m)
		require.NoError(t, err)
		return s.Result.PlusMinus
	}
	guessed := doubt(func(m *Measures) { m.NapeToCrown = nil })
	client := doubt(func(*Measures) {})
	maker := doubt(func(m *Measures) { m.TakenBy = Maker })
	all := doubt(func(m *Measures) {
		m.TakenBy, m.HeadLength, m.HeadBreadth, m.BrowToNape = Maker, new(Length(195)), new(Length(152.1)), new(Length(385))
	})
	for i, list := range [][]PlusMinus{{guessed, client}, {client, maker}, {maker, all}} {
		for _, pair := range [][2]Length{{list[0].B, list[1].B}, {list[0].C, list[1].C}, {list[0].Sag, list[1].Sag}, {list[0].CrownToCentre, list[1].CrownToCentre}, {list[0].Worn, list[1].Worn}} {
			assert.LessOrEqual(t, pair[1], pair[0]*1.0001, "step %d", i)
		}
	}
	level := readCase(t, "crown-set-flat-brim")
	s, err := Solve(level)
	require.NoError(t, err)
	assert.Zero(t, s.Result.Placement.CrownToCentre)
	assert.InDelta(t, 0, s.Result.PlusMinus.CrownToCentre.Millimetres(), 1e-6, "the crown is the crown of any head")
}
