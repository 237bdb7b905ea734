package fitting

import (
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// optional are the tapes that are not always taken, and what the engine makes of
// each on a head.
var optional = map[string]struct {
	of    func(*Measures) **Length
	model func(Head) Length
}{
	"measures.nape_to_crown_mm": {func(m *Measures) **Length { return &m.NapeToCrown }, Head.NapeToCrown},
	"measures.ear_to_ear_mm":    {func(m *Measures) **Length { return &m.EarToEar }, func(h Head) Length { return h.EarToEar(SexUnknown) }},
	"measures.brow_to_nape_mm":  {func(m *Measures) **Length { return &m.BrowToNape }, Head.BrowToNape},
	"measures.head_length_mm":   {func(m *Measures) **Length { return &m.HeadLength }, func(h Head) Length { l, _ := h.Calipers(SexUnknown); return l }},
	"measures.head_breadth_mm":  {func(m *Measures) **Length { return &m.HeadBreadth }, func(h Head) Length { _, b := h.Calipers(SexUnknown); return b }},
}

// anyTapes draws tapes that lie about a head's true ones, not all of them.
func anyTapes(t *rapid.T) Measures {
	girth := Length(rapid.Float64Range(500, 640).Draw(t, "girth"))
	index := rapid.Float64Range(0.74, 0.82).Draw(t, "index")
	h := tapes{girth: girth, index: index, nape: girth * Length(rapid.Float64Range(0.385, 0.43).Draw(t, "nape over girth"))}.exact()
	m := Measures{Girth: &girth, Readings: rapid.IntRange(1, 3).Draw(t, "readings"), TakenBy: rapid.SampledFrom([]Taker{Client, Maker}).Draw(t, "taker")}
	for _, field := range slices.Sorted(maps.Keys(optional)) {
		tape := optional[field]
		if rapid.Bool().Draw(t, field) {
			*tape.of(&m) = new(tape.model(h) + Length(rapid.Float64Range(-3, 3).Draw(t, "off")))
		}
	}
	return m
}

// The slow twin: the sum of squares grows whichever way the head is changed, and
// its second derivatives are nearly the inverse of the doubt's.
func TestHeadIsTheLikeliestOfItsTapes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tp, err := readTapes(anyTapes(t))
		require.NoError(t, err)
		sum := func(h Head) (sum float64) {
			for _, c := range tp.clues {
				sum += c.miss(h) * c.miss(h)
			}
			return sum
		}
		least := sum(tp.head())
		for _, way := range []Head{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}, {1, -1, 1}, {-1, 1, 1}} {
			if tp.calipers { // its index is theirs
				way.B = Length(tp.index) * way.A
			}
			if way == (Head{}) {
				continue
			}
			for _, k := range []float64{-0.1, 0.1} {
				require.Greater(t, sum(tp.head().moved(way, k)), least, "another head fits the tapes better")
			}
		}
		for _, move := range tp.likeliest.moves {
			if move == (Head{}) {
				continue
			}
			bend := (sum(tp.head().moved(move, 0.1)) + sum(tp.head().moved(move, -0.1)) - 2*least) / (2 * 0.1 * 0.1)
			require.InDelta(t, 1, bend, 0.25, "a change of one standard deviation must add one to the sum")
		}
	})
}

// A tape of just what the others make of it changes nothing, and settles the head
// a little more.
func TestTapeThatAgreesChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := anyTapes(t)
		before, err := readTapes(m)
		require.NoError(t, err)
		for field, tape := range optional {
			if *tape.of(&m) != nil || strings.HasPrefix(field, "measures.head_") && (m.HeadLength != nil || m.HeadBreadth != nil) || field == "measures.nape_to_crown_mm" {
				continue
			}
			more := m
			*tape.of(&more) = new(tape.model(before.head()))
			after, err := readTapes(more)
			require.NoError(t, err)
			require.InDelta(t, 0, float64(after.head().A-before.head().A), 1e-5, field)
			require.InDelta(t, 0, float64(after.head().B-before.head().B), 1e-5, field)
			require.InDelta(t, 0, float64(after.head().C-before.head().C), 1e-5, field)
			is, was := doubtOf(after.likeliest), doubtOf(before.likeliest)
			for i := range is {
				require.LessOrEqual(t, is[i], was[i]*(1+1e-6), "%s makes axis %d more doubtful", field, i)
			}
		}
	})
}

// doubtOf is the standard deviation of A, B and C.
func doubtOf(l likeliest) (sd [3]float64) {
	for _, m := range l.moves {
		for i, axis := range []Length{m.A, m.B, m.C} {
			sd[i] = math.Hypot(sd[i], axis.Millimetres())
		}
	}
	return sd
}

// The doubt of A, B and C is what heads from tapes with drawn errors show.
func TestDoubtOfTheHeadIsItsSpread(t *testing.T) {
	r := newRand(t)
	girth, nape, ear, brow := Length(570), Length(230), Length(348), Length(386)
	taken := Measures{Girth: &girth, NapeToCrown: &nape, EarToEar: &ear, BrowToNape: &brow}
	tp, err := readTapes(taken)
	require.NoError(t, err)
	var axes [3]sample
	for range 4000 {
		clues := append([]clue{}, tp.clues...)
		for k := range clues {
			clues[k].taken = clues[k].model(tp.head()) + clues[k].sd*r.NormFloat64()
		}
		l, found := likeliestHead(clues, build{float64(tp.head().A), float64(tp.head().C), float64(tp.head().B / tp.head().A)}, 3)
		require.True(t, found)
		for i, axis := range []Length{l.head.A, l.head.B, l.head.C} {
			axes[i].add(axis.Millimetres())
		}
	}
	for i, sd := range doubtOf(tp.likeliest) {
		assert.InEpsilon(t, sd, axes[i].sd(), 0.06, "axis %d", i)
	}
}

// Each tape and caliper: typed in inches it is recognised; far from the others it
// is named; a little off it is weighed and, past two standard deviations, spoken of.
func TestTapeToTakeAgainIsNamed(t *testing.T) {
	right := func() Measures {
		m := Measures{Girth: new(Length(570)), NapeToCrown: new(Length(228)), TakenBy: Maker, Readings: 3}
		h, err := NewHead(m)
		require.NoError(t, err)
		m.EarToEar, m.BrowToNape = new(h.EarToEar(SexUnknown)), new(h.BrowToNape())
		return m
	}
	all := map[string]func(*Measures) **Length{"measures.girth_mm": func(m *Measures) **Length { return &m.Girth }}
	for field, tape := range optional {
		all[field] = tape.of
	}
	usual := map[string]Length{"measures.head_length_mm": 193, "measures.head_breadth_mm": 149}
	for field, of := range all {
		t.Run(field, func(t *testing.T) {
			taken := func(change func(Length) Length) error {
				m := right()
				tape := given(*of(&m), usual[field])
				*of(&m) = new(change(tape))
				_, err := NewHead(m)
				return err
			}
			require.NoError(t, taken(func(l Length) Length { return l }))
			for slip, change := range map[string]func(Length) Length{
				"inches were typed as centimetres":      func(l Length) Length { return l / 2.54 },
				"centimetres were typed as millimetres": func(l Length) Length { return l / 10 },
				"millimetres were typed as centimetres": func(l Length) Length { return l * 10 },
			} {
				err := taken(change)
				requireRefused(t, err, field)
				assert.Contains(t, err.(Refusal).Why, slip)
				assert.Contains(t, err.(Refusal).Why, "again")
			}
			requireRefused(t, taken(func(Length) Length { return Length(math.NaN()) }), field)
		})
	}
	for field, off := range map[string]Length{"measures.ear_to_ear_mm": 70, "measures.brow_to_nape_mm": 40, "measures.nape_to_crown_mm": -30} {
		m := right()
		tape := *all[field](&m)
		*tape += off
		_, err := NewHead(m)
		requireRefused(t, err, field)
		assert.Contains(t, err.(Refusal).Why, "where the other tapes make it")
	}
	lone := right()
	lone.HeadLength = new(Length(240))
	_, err := NewHead(lone)
	requireRefused(t, err, "measures.head_length_mm")
}

// A lone caliper moves the head towards it, by the index.
func TestLoneCaliperIsWeighed(t *testing.T) {
	m := Measures{Girth: new(Length(570)), NapeToCrown: new(Length(230)), TakenBy: Maker}
	plain, err := NewHead(m)
	require.NoError(t, err)
	length, _ := plain.Calipers(SexUnknown)
	m.HeadLength = new(length + 6)
	long, err := NewHead(m)
	require.NoError(t, err)
	got, _ := long.Calipers(SexUnknown)
	assert.Greater(t, got, length+2, "the caliper is ignored")
	assert.Less(t, got, length+6, "the caliper is believed wholly")
	assert.Less(t, float64(long.B/long.A), usualIndex-0.01)
	assert.InDelta(t, 570, long.Girth().Millimetres(), 1)
}

// Readings that lie farther apart make the head more doubtful.
func TestReadingsApartMakeTheHeadDoubtful(t *testing.T) {
	m := Measures{Girth: new(Length(570)), NapeToCrown: new(Length(230)), Readings: 2}
	usual, err := readTapes(m)
	require.NoError(t, err)
	m.Repeat = new(Length(9))
	apart, err := readTapes(m)
	require.NoError(t, err)
	assert.InEpsilon(t, math.Sqrt((36+81/2.0)/(36+9/2.0)), doubtOf(apart.likeliest)[2]/doubtOf(usual.likeliest)[2], 0.05)
	m.Repeat = new(Length(-1))
	_, err = NewHead(m)
	requireRefused(t, err, "measures.repeat_mm")
}

// A tape known to be worse than the others is believed less, and never more.
func TestADoubtOfItsOwnMakesATapeWorse(t *testing.T) {
	m := Measures{Girth: new(Length(570)), NapeToCrown: new(Length(230)), EarToEar: new(Length(352)), Readings: 3}
	usual, err := readTapes(m)
	require.NoError(t, err)
	for _, of := range []struct {
		name  string
		doubt **Length
		tape  func(Head) Length
	}{
		{"girth", &m.Doubts.Girth, Head.Girth}, {"nape to crown", &m.Doubts.NapeToCrown, Head.NapeToCrown},
		{"ear to ear", &m.Doubts.EarToEar, func(h Head) Length { return h.EarToEar(SexUnknown) }},
	} {
		sure := func() (at Length, clue float64) {
			got, err := readTapes(m)
			require.NoError(t, err, of.name)
			for _, c := range got.clues {
				clue += 1 / (c.sd * c.sd)
			}
			return of.tape(got.head()), clue
		}
		_, before := sure()
		*of.doubt = new(Length(1))
		at, same := sure()
		assert.InDelta(t, float64(of.tape(usual.head())), float64(at), 1e-9, "%s: less doubt than its readings leave is no news", of.name)
		assert.InDelta(t, before, same, 1e-12, of.name)
		*of.doubt = new(Length(12))
		moved, less := sure()
		assert.Less(t, less, before, "%s is as sure as ever", of.name)
		assert.Greater(t, math.Abs(float64(moved-at)), 0.01, "%s gives no way to the others", of.name)
		for _, wrong := range []Length{-1, 31, Length(math.NaN())} {
			*of.doubt = new(wrong)
			_, err := NewHead(m)
			requireRefused(t, err, "measures.doubts")
		}
		*of.doubt = nil
	}
}

// Whatever is typed, there is a head or a tape to take again. Shares of the girth,
// a little beyond what is let in.
func TestAnyTapesMakeAHeadOrARefusal(t *testing.T) {
	bounds := map[string][2]float64{"measures.nape_to_crown_mm": {0.32, 0.51}, "measures.ear_to_ear_mm": {0.44, 0.81},
		"measures.brow_to_nape_mm": {0.49, 0.91}, "measures.head_length_mm": {0.2, 0.5}, "measures.head_breadth_mm": {0.18, 0.4}}
	rapid.Check(t, func(t *rapid.T) {
		m := Measures{Girth: new(Length(rapid.Float64Range(445, 705).Draw(t, "girth"))), Sex: rapid.SampledFrom([]Sex{Female, Male, SexUnknown}).Draw(t, "sex"),
			TakenBy: rapid.SampledFrom([]Taker{Client, Maker}).Draw(t, "taker"), Readings: rapid.IntRange(0, 4).Draw(t, "readings")}
		for _, field := range slices.Sorted(maps.Keys(optional)) {
			if rapid.Bool().Draw(t, field) {
				*optional[field].of(&m) = new(*m.Girth * Length(rapid.Float64Range(bounds[field][0], bounds[field][1]).Draw(t, "of the girth")))
			}
		}
		tp, err := readTapes(m)
		if err != nil {
			var refused Refusal
			require.ErrorAs(t, err, &refused)
			require.Contains(t, refused.Field, "measures.")
			require.Contains(t, refused.Why, "again")
			return
		}
		h := tp.head()
		require.True(t, h.A > 50 && h.B > 40 && h.C >= leastHeight*h.A-1e-9 && h.C <= mostHeight*h.A+1e-9, "%+v", h)
		for _, sd := range doubtOf(tp.likeliest) {
			require.True(t, sd >= 0 && sd < 30, "a standard deviation of %v", sd)
		}
	})
}
