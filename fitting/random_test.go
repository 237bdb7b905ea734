package fitting

import (
	"flag"
	"math/rand/v2"
	"testing"
	"time"
)

var seed = flag.Uint64("fitting.seed", 0, "seed of the random tests; 0 picks one")

// newRand says in the log how to repeat what it draws.
func newRand(t testing.TB) *rand.Rand {
	t.Helper()
	s := *seed
	if s == 0 {
		s = uint64(time.Now().UnixNano())
	}
	t.Logf("repeat with -fitting.seed=%d", s)
	return rand.New(rand.NewPCG(s, 0))
}

// draw returns a number from lo to hi.
func draw(r *rand.Rand, lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
