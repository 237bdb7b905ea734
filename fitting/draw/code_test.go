package draw_test

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/fitting/draw"
)

// Another program reads the code back.
func TestCodeIsReadBack(t *testing.T) {
	render, read := outside(t, "rsvg-convert"), outside(t, "zbarimg")
	for _, address := range []string{"https://hats.ternlane.example/workroom/commissions/k7c2m9xq4t/sheets/2", "http://192.0.2.7:8080/workroom/commissions/a/sheets/11"} {
		var b bytes.Buffer
		require.NoError(t, draw.Code(&b, address))
		svg, png := filepath.Join(t.TempDir(), "code.svg"), filepath.Join(t.TempDir(), "code.png")
		require.NoError(t, os.WriteFile(svg, b.Bytes(), 0o600))
		require.NoError(t, exec.Command(render, "-w", "240", "-o", png, svg).Run())
		out, err := exec.Command(read, "--quiet", "--raw", png).Output()
		require.NoError(t, err, "no code was found")
		assert.Equal(t, address, strings.TrimSpace(string(out)))
	}
}

func TestCodeFailures(t *testing.T) {
	assert.ErrorContains(t, draw.Code(broken{}, "https://hats.ternlane.example/"), "no paper")
	assert.Error(t, draw.Code(&bytes.Buffer{}, strings.Repeat("x", 5000)), "no code holds so much")
}
