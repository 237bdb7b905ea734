package fitting

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestSolveNeedsEveryFigure(t *testing.T) {
	in := readCase(t, "right-tilt-steep-brim")
	in.Hat.Base = nil
	_, err := Solve(in)
	requireRefused(t, err, "hat.base_mm")
	r, err := Fit(in)
	require.NoError(t, err, "what is missing is advised")
	require.NotEmpty(t, r.Reasons)
}
