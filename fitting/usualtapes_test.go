package fitting

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const tapesTable = "../testdata/fitting/tapes.csv"

const aboutTapes = `# The tapes of adult heads in mm: mean, standard deviation, and how they go together (correlations),
# women and men counting the same. Derived from the individual records of ANSUR II (Gordon et al., 2012
# Anthropometric Survey of U.S. Army Personnel, NATICK/TR-15/007, 2014) and NIOSH dataset
# RD-10130-2020-0 (Zhuang and Bradtmiller, J Occup Environ Hyg 2(11):567-576, 2005). No survey taped nape
# to crown or brow to nape, and only the second ear to ear. So each head of ANSUR II is the engine's of its
# girth, length and breadth, as much taller or lower as it stands above its ears more or less than heads
# of its girth and sex do; the tapes are that head's. To them is added what the model does not explain,
# independent of the rest: to ear to ear as much as makes its spread about the girth that of NIOSH 2003; to
# nape to crown as much as makes it 0.02 of the girth (our choice, as in the engine), in brow to
# nape as well, and as much again for its part in front of the crown (our choice). Heads with a missing figure, or
# refused by the engine for calipers against tape, are left out.
`

var tapeNames = [4]string{"girth", "nape_to_crown", "ear_to_ear", "brow_to_nape"}

type fourTapes [4]float64

// spreads are means and covariances of four figures.
type spreads struct {
	n    float64
	mean fourTapes
	cov  [4]fourTapes
}

func spreadsOf(all []fourTapes) spreads {
	m := spreads{n: float64(len(all))}
	for _, x := range all {
		for i := range x {
			m.mean[i] += x[i] / m.n
		}
	}
	for _, x := range all {
		for i := range x {
			for j := range x {
				m.cov[i][j] += (x[i] - m.mean[i]) * (x[j] - m.mean[j]) / (m.n - 1)
			}
		}
	}
	return m
}

// mixed counts two groups the same.
func (m spreads) mixed(o spreads) spreads {
	both := spreads{n: m.n + o.n}
	for i := range both.mean {
		both.mean[i] = (m.mean[i] + o.mean[i]) / 2
		for j := range both.mean {
			both.cov[i][j] = (m.cov[i][j]+o.cov[i][j])/2 + (m.mean[i]-o.mean[i])*(m.mean[j]-o.mean[j])/4
		}
	}
	return both
}

// about is the variance of one figure about its regression on another.
func (m spreads) about(t, on Tape) float64 {
	return m.cov[t][t] - m.cov[t][on]*m.cov[t][on]/m.cov[on][on]
}

// sexed are the spreads of women and men, mixed.
func sexed(women, men []fourTapes) spreads { return spreadsOf(women).mixed(spreadsOf(men)) }

// modelled are the tapes of one sex's heads of ANSUR II as the engine's head has them.
func modelled(people []surveyed, sex string) (all []fourTapes) {
	var heights []fourTapes
	for _, p := range people {
		if p.sex == sex && !math.IsNaN(p.girth+p.top) {
			heights = append(heights, fourTapes{p.girth, p.top})
		}
	}
	usual := spreadsOf(heights)
	for _, p := range people {
		taller := p.top - usual.mean[1] - usual.cov[0][1]/usual.cov[0][0]*(p.girth-usual.mean[0])
		if p.sex != sex || math.IsNaN(taller+p.length+p.breadth) {
			continue
		}
		h, err := NewHead(Measures{Girth: new(Length(p.girth)), HeadLength: new(Length(p.length)), HeadBreadth: new(Length(p.breadth)), Sex: sexes[sex]})
		if err != nil {
			continue
		}
		h.C += Length(taller)
		b, c := h.B.Millimetres(), h.C.Millimetres()
		tragion := c - tragionBelowCrown(sexes[sex], h.Girth()).Millimetres() - taller
		ears := 2 * (ellipseArc(b, c, math.Pi/2) - ellipseArc(b, c, math.Asin(tragion/c)))
		all = append(all, fourTapes{p.girth, h.NapeToCrown().Millimetres(), ears, h.BrowToNape().Millimetres()})
	}
	return all
}

// own is the spread of each tape that the model does not explain; the last of brow to nape in front of the
// crown.
func (m spreads) own(ears spreads) fourTapes {
	nape := math.Pow(napeToCrownDoubt.of(Length(m.mean[GirthTape])).Millimetres(), 2) - m.about(NapeTape, GirthTape)
	return fourTapes{0, math.Sqrt(nape), math.Sqrt(ears.about(EarTape, GirthTape) - m.about(EarTape, GirthTape)), math.Sqrt(nape)}
}

func (m spreads) spread(own fourTapes) spreads {
	nape, ear, front := own[NapeTape]*own[NapeTape], own[EarTape]*own[EarTape], own[BrowTape]*own[BrowTape]
	m.cov[NapeTape][NapeTape] += nape
	m.cov[NapeTape][BrowTape] += nape
	m.cov[BrowTape][NapeTape] += nape
	m.cov[BrowTape][BrowTape] += nape + front
	m.cov[EarTape][EarTape] += ear
	return m
}

// tapedEars are the heads of NIOSH 2003 of one sex, girth and ear to ear.
func tapedEars(people []surveyed, sex string) (all []fourTapes) {
	for _, p := range people {
		if p.sex == sex && !math.IsNaN(p.girth+p.earToEar) {
			all = append(all, fourTapes{GirthTape: p.girth, EarTape: p.earToEar})
		}
	}
	return all
}

func tapesOf(people []surveyed) (m spreads, own fourTapes) {
	m = sexed(modelled(people, "F"), modelled(people, "M"))
	own = m.own(sexed(tapedEars(people, "F"), tapedEars(people, "M")))
	return m.spread(own), own
}

func (m spreads) table() string {
	var b strings.Builder
	b.WriteString(aboutTapes + "tape,mean,sd," + strings.Join(tapeNames[:], ",") + "\n")
	for i, name := range tapeNames {
		fmt.Fprintf(&b, "%s,%.2f,%.2f", name, m.mean[i], math.Sqrt(m.cov[i][i]))
		for j := range tapeNames {
			fmt.Fprintf(&b, ",%.4f", m.cov[i][j]/math.Sqrt(m.cov[i][i]*m.cov[j][j]))
		}
		b.WriteString("\n")
	}
	return b.String()
}

func TestTableOfTapesIsTheRecords(t *testing.T) {
	m, own := tapesOf(surveys(t))
	t.Logf("%.0f heads; spread that the model does not explain: %.2f mm", m.n, own)
	want := m.table()
	if *writeTables {
		require.NoError(t, os.WriteFile(tapesTable, []byte(want), 0o666))
	}
	got, err := os.ReadFile(tapesTable)
	require.NoError(t, err)
	require.Equal(t, want, string(got), "the table is not what the records make; -fitting.tables writes it anew")
}

func TestUsualTapesAreTheTable(t *testing.T) {
	rows := readTable(t, tapesTable)
	require.Len(t, rows, len(tapeNames))
	for i, row := range rows {
		assert.Equal(t, tapeNames[i], row[0])
		assert.InDelta(t, number(t, row[1]), tapesOfHeads.mean[i], 1e-9, "mean of %s", row[0])
		assert.InDelta(t, number(t, row[2]), tapesOfHeads.sd[i], 1e-9, "standard deviation of %s", row[0])
		for j, r := range row[3:] {
			assert.InDelta(t, number(t, r), tapesOfHeads.together[i][j], 1e-9, "%s with %s", row[0], tapeNames[j])
		}
	}
}

// clientDoubt is how far the mean of a client's three readings is off.
func clientDoubt() Length { return Measures{TakenBy: Client, Readings: 3}.TapeDoubt() }

// Of heads that are as they should be, taped by clients, each single tape and each pair is questioned in
// at most 2 in 100, and not so rarely that a slip would go through.
func TestHowOftenARightTapeIsQuestioned(t *testing.T) {
	people := surveys(t)
	m, own := tapesOf(people)
	r := rand.New(rand.NewPCG(1, 2012)) // always the same, since the shares lie near the limit
	said := func(what string, n, questioned int) {
		share := float64(questioned) / float64(n)
		t.Logf("%s: %d heads, questioned %.2f %%", what, n, 100*share)
		assert.LessOrEqual(t, share, 0.02, what)
		assert.GreaterOrEqual(t, share, 0.001, "%s: hardly anything is questioned", what)
	}
	for _, sex := range []string{"F", "M"} {
		heads := modelled(people, sex)
		require.Greater(t, len(heads), 1900)
		single, pair, any := [4]int{}, [4][4]int{}, 0
		for _, h := range heads {
			nape := own[NapeTape] * r.NormFloat64()
			h[NapeTape] += nape
			h[EarTape] += own[EarTape] * r.NormFloat64()
			h[BrowTape] += nape + own[BrowTape]*r.NormFloat64()
			doubted := false
			for i := range h {
				h[i] += clientDoubt().Millimetres() * r.NormFloat64()
			}
			for i := range h {
				if !Tape(i).Usual(clientDoubt()).Holds(Length(h[i])) {
					single[i]++
					doubted = true
				}
				for j := range i {
					if !Tape(i).UsualWith(Tape(j), Length(h[j]), clientDoubt(), clientDoubt()).Holds(Length(h[i])) {
						pair[i][j]++
						doubted = true
					}
				}
			}
			if doubted {
				any++
			}
		}
		for i := range single {
			said(sex+" "+tapeNames[i], len(heads), single[i])
			for j := range i {
				said(sex+" "+tapeNames[i]+" with "+tapeNames[j], len(heads), pair[i][j])
			}
		}
		t.Logf("%s: anything at all of four tapes: %.1f %%", sex, 100*float64(any)/float64(len(heads)))

		ears, off := tapedEars(people, sex), 0 // their own arcs, no model's
		for _, h := range ears {
			girth, ear := h[GirthTape]+clientDoubt().Millimetres()*r.NormFloat64(), h[EarTape]+clientDoubt().Millimetres()*r.NormFloat64()
			if !EarTape.UsualWith(GirthTape, Length(girth), clientDoubt(), clientDoubt()).Holds(Length(ear)) {
				off++
			}
		}
		said(sex+" ear to ear with girth, of NIOSH", len(ears), off)
	}
	assert.Greater(t, m.n, 6000.0)
}

// A tape that is off by what a slip makes is questioned by one of the pairs.
func TestASlipOfTheTapeIsQuestioned(t *testing.T) {
	usual := fourTapes(tapesOfHeads.mean)
	for name, slip := range map[string]struct {
		tape, with Tape
		off        Length
	}{
		"nape to crown from the hairline down the neck": {NapeTape, GirthTape, 50},
		"nape to crown that ends at the whorl":          {NapeTape, GirthTape, -45},
		"ear to ear from lobe to lobe":                  {EarTape, GirthTape, 60},
		"ear to ear without the crown":                  {EarTape, NapeTape, -50},
		"brow to nape from the eyebrows":                {BrowTape, NapeTape, 50},
	} {
		taken := Length(usual[slip.tape]) + slip.off
		b := slip.tape.UsualWith(slip.with, Length(usual[slip.with]), clientDoubt(), clientDoubt())
		assert.False(t, b.Holds(taken), "%s: %.0f mm lies between %.0f and %.0f", name, taken, b.Least, b.Most)
		assert.True(t, b.Holds(Length(usual[slip.tape])), "%s: the usual is usual", name)
	}
	assert.False(t, GirthTape.Usual(0).Holds(Length(math.NaN())), "no number is no tape")
	assert.False(t, EarTape.UsualWith(GirthTape, Length(math.NaN()), 0, 0).Holds(345))
}
