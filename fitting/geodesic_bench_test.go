package fitting

import (
	"fmt"
	"os/exec"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// One of our geodesics against one of GeographicLib's, with the elliptic
// integrals (GeodSolve -E), on the same pairs in the same run: at most 1.5 times
// as long is aimed at. The start of its process does not
// count, its reading and writing of numbers does: the time of a pair is what twice
// as many pairs take longer.
func BenchmarkGeodesicAgainstGeodSolve(b *testing.B) {
	if _, err := exec.LookPath("GeodSolve"); err != nil {
		b.Skip("GeodSolve is not installed (Debian: geographiclib-tools)")
	}
	const flattening, many = 0.2, 20000
	r := newRand(b)
	pairs := make([]pair, many)
	for i := range pairs {
		pairs[i] = anyRow(r, flattening)
	}
	theirs := (geodSolve(b, append(pairs, pairs...)) - geodSolve(b, pairs)) / many
	e := newSurface(Head{100, 100, 80})
	ends := make([][2]Vec, many)
	for i, p := range pairs {
		ends[i] = [2]Vec{p.place(p.lat1, p.lon1), p.place(p.lat2, p.lon2)}
	}
	i := 0
	for b.Loop() {
		if _, ok := e.connect(ends[i%many][0], ends[i%many][1]); !ok {
			b.Fatal("no way found")
		}
		i++
	}
	ours := b.Elapsed() / time.Duration(b.N)
	b.ReportMetric(float64(theirs.Nanoseconds()), "GeodSolve-ns/op")
	b.ReportMetric(float64(ours)/float64(theirs), "of-GeodSolve")
}

// geodSolve is the least time of three that GeodSolve takes for the pairs.
func geodSolve(b *testing.B, pairs []pair) time.Duration {
	var lines strings.Builder
	for _, p := range pairs {
		fmt.Fprintf(&lines, "%.12f %.12f %.12f %.12f\n", p.lat1, p.lon1, p.lat2, p.lon2)
	}
	least := time.Hour
	for range 3 {
		solve := exec.Command("GeodSolve", "-E", "-i", "-p", "9", "-e", "100", fmt.Sprint(pairs[0].flattening))
		solve.Stdin = strings.NewReader(lines.String())
		begun := time.Now()
		_, err := solve.Output()
		require.NoError(b, err)
		least = min(least, time.Since(begun))
	}
	return least
}
