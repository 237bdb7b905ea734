package fitting

import (
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const facesTable = "../testdata/fitting/faces.csv"

const aboutFaces = `# Faces by their proportions: nose root to chin, narrowest forehead and jaw at its angles, each over
# the cheekbones of the same face, between calipers: mean, standard deviation, and how they go
# together (correlations). Derived from the individual records of NIOSH dataset RD-10130-2020-0
# (Zhuang and Bradtmiller, J Occup Environ Hyg 2(11):567-576, 2005); faces with a missing figure left
# out.
`

// ratios are a face's height, forehead and jaw over its cheekbones.
type ratios [3]float64

// ratiosOf are the surveyed faces of one sex that have all figures.
func ratiosOf(people []surveyed, sex string) (all []ratios) {
	for _, p := range people {
		r := ratios{p.noseChin / p.cheekbone, p.forehead / p.cheekbone, p.jaw / p.cheekbone}
		if p.sex == sex && !math.IsNaN(r[0]+r[1]+r[2]) {
			all = append(all, r)
		}
	}
	return all
}

// facesLike is what the table holds of some faces.
type facesLike struct {
	n        int
	mean, sd ratios
	together ratios // height with forehead, height with jaw, forehead with jaw
}

func summaryOf(all []ratios) facesLike {
	f := facesLike{n: len(all)}
	var each [3]sample
	for _, r := range all {
		for i := range each {
			each[i].add(r[i])
		}
	}
	for i, s := range each {
		f.mean[i], f.sd[i] = s.mean(), s.sd()
	}
	for _, r := range all {
		for k, pair := range [][2]int{{0, 1}, {0, 2}, {1, 2}} {
			i, j := pair[0], pair[1]
			f.together[k] += (r[i] - f.mean[i]) / f.sd[i] * (r[j] - f.mean[j]) / f.sd[j] / float64(f.n-1)
		}
	}
	return f
}

func (f facesLike) row(sex string) string {
	figures := []string{sex, fmt.Sprint(f.n)}
	for _, list := range []ratios{f.mean, f.sd, f.together} {
		for _, x := range list {
			figures = append(figures, fmt.Sprintf("%.4f", x))
		}
	}
	return strings.Join(figures, ",") + "\n"
}

func readFaces(t *testing.T) map[string]facesLike {
	t.Helper()
	faces := map[string]facesLike{}
	for _, row := range readTable(t, facesTable) {
		at := func(k int) ratios { return ratios{number(t, row[k]), number(t, row[k+1]), number(t, row[k+2])} }
		faces[row[0]] = facesLike{int(number(t, row[1])), at(2), at(5), at(8)}
	}
	return faces
}

func TestTableOfFacesIsTheRecords(t *testing.T) {
	people := surveys(t)
	want := aboutFaces + "sex,n,height,forehead,jaw,height_sd,forehead_sd,jaw_sd,height_with_forehead,height_with_jaw,forehead_with_jaw\n"
	for _, sex := range []string{"F", "M"} {
		want += summaryOf(ratiosOf(people, sex)).row(sex)
	}
	if *writeTables {
		require.NoError(t, os.WriteFile(facesTable, []byte(want), 0o666))
	}
	got, err := os.ReadFile(facesTable)
	require.NoError(t, err)
	require.Equal(t, want, string(got), "the table is not what the records make; -fitting.tables writes it anew")
}

// The engine's usual faces are the surveyed women's.
func TestUsualFaceIsTheSurveys(t *testing.T) {
	women := readFaces(t)["F"]
	require.Greater(t, women.n, 1400)
	assert.InDelta(t, women.mean[1], usualBrow, 0.0005)
	assert.InDelta(t, women.sd[1], browDeviation, 0.0005)
	assert.InDelta(t, women.mean[2], usualJaw, 0.0005)
	assert.InDelta(t, women.sd[2], jawDeviation, 0.0005)
}

// requireEveryShape holds that every shape is somebody's largest share and none is
// nearly everybody's. The survey has no hairline: nose root to chin stands for the
// face's height, as far from its mean.
func requireEveryShape(t *testing.T, faces []ratios, women facesLike) {
	t.Helper()
	var shares, first [len(faceShapes)]float64
	for _, r := range faces {
		long := usualLong + (r[0]-women.mean[0])/women.sd[0]*longDeviation
		tape := func(ratio float64) *Length { return new(Length(ratio * 136)) }
		p, err := readFace(Face{HairlineToChin: tape(long), Cheekbone: tape(1), Forehead: tape(r[1]), Jaw: tape(r[2])}, 560, Female)
		require.NoError(t, err)
		most, sum := 0, 0.0
		for i, share := range p.shares {
			shares[i] += share / float64(len(faces))
			sum += share
			if share > p.shares[most] {
				most = i
			}
		}
		require.InDelta(t, 1, sum, 1e-12)
		first[most] += 1 / float64(len(faces))
	}
	for i, s := range faceShapes {
		t.Logf("%s: %.0f %% of all shares, the largest of %.0f %% of the faces", s.shape, 100*shares[i], 100*first[i])
		assert.Less(t, shares[i], 0.4, "%s is nearly everybody", s.shape)
		assert.Less(t, first[i], 0.5, "%s is the largest share of nearly everybody", s.shape)
		assert.Greater(t, first[i], 0.07, "%s is hardly anybody", s.shape)
	}
}

func TestSharesOfTheRecordsFaces(t *testing.T) {
	faces := ratiosOf(surveys(t), "F")
	require.Greater(t, len(faces), 1400)
	requireEveryShape(t, faces, readFaces(t)["F"])
}

// The same of faces drawn with the table's means, spreads and correlations.
func TestSharesOfFacesLikeTheSurveys(t *testing.T) {
	r, women := newRand(t), readFaces(t)["F"]
	c := women.together
	b := (c[2] - c[0]*c[1]) / math.Sqrt(1-c[0]*c[0]) // of the jaw with what the height leaves of the forehead
	var faces []ratios
	for range 5000 {
		height, forehead, jaw := r.NormFloat64(), r.NormFloat64(), r.NormFloat64()
		off := ratios{height, c[0]*height + math.Sqrt(1-c[0]*c[0])*forehead, c[1]*height + b*forehead + math.Sqrt(1-c[1]*c[1]-b*b)*jaw}
		for i := range off {
			off[i] = women.mean[i] + off[i]*women.sd[i]
		}
		faces = append(faces, off)
	}
	requireEveryShape(t, faces, women)
}
