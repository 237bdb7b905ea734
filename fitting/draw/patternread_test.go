package draw_test

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"perchbook/fitting"
	"perchbook/fitting/draw"
)

// pixelsPerMM is what 254 dots an inch make.
const pixelsPerMM = 10

// leaf is one page of a PDF as another program renders and reads it.
type leaf struct {
	width, height int
	grey          []byte
	text          string
	across, down  int // how far the next page lies, in pixels
}

// dark is how black a pixel is, from 0 to 1.
func (l leaf) dark(x, y int) float64 {
	if x < 0 || y < 0 || x >= l.width || y >= l.height {
		return 0
	}
	return 1 - float64(l.grey[y*l.width+x])/255
}

// outside finds another program that reads what we write; without it the test is skipped, or
// fails where nothing may be missing.
func outside(t testing.TB, name string) string {
	path, err := exec.LookPath(name)
	if err != nil {
		if os.Getenv("PERCHBOOK_NEED_ALL") == "1" {
			t.Fatalf("%s is missing and PERCHBOOK_NEED_ALL is set", name)
		}
		t.Skipf("skipped: %s is missing; .ci/run installs it", name)
	}
	return path
}

func patterns(t require.TestingT, r fitting.Result, o draw.PatternOptions) []byte {
	var b bytes.Buffer
	require.NoError(t, draw.Patterns(&b, r, o))
	return b.Bytes()
}

// leaves renders a PDF at 254 dots an inch and reads its words.
func leaves(t testing.TB, pdf []byte, paper draw.Paper) []leaf {
	render, read := outside(t, "pdftoppm"), outside(t, "pdftotext")
	dir := t.TempDir()
	file := filepath.Join(dir, "patterns.pdf")
	require.NoError(t, os.WriteFile(file, pdf, 0o600))
	out, err := exec.Command(render, "-r", "254", "-gray", file, filepath.Join(dir, "page")).CombinedOutput()
	require.NoError(t, err, "%s", out)
	text, err := exec.Command(read, "-raw", file, "-").Output()
	require.NoError(t, err)
	words := strings.Split(string(text), "\f")
	images, err := filepath.Glob(filepath.Join(dir, "page-*.pgm"))
	require.NoError(t, err)
	require.Equal(t, len(images), len(words)-1, "pages rendered and pages read")
	var all []leaf
	for i, image := range images {
		body, err := os.ReadFile(image)
		require.NoError(t, err)
		size := papers[paper]
		l := leaf{text: words[i], across: size[0] - (2*freeMargin+shared)*pixelsPerMM, down: size[1] - (freeMargin+freeFoot+shared)*pixelsPerMM}
		var most int
		n, err := fmt.Sscanf(string(body[:20]), "P5\n%d %d\n%d", &l.width, &l.height, &most)
		require.NoError(t, err)
		require.Equal(t, 3, n)
		l.grey = body[len(body)-l.width*l.height:]
		all = append(all, l)
	}
	return all
}

// on are the pages of one piece, found by the words under them.
func on(t testing.TB, all []leaf, piece string) map[[2]int]leaf {
	place := regexp.MustCompile(`(?m)^\s*` + piece + `, 26-014 / 2(?:, row (\d+) of \d+, column (\d+) of \d+)?\s`)
	found := map[[2]int]leaf{}
	for _, l := range all {
		if m := place.FindStringSubmatch(l.text); m != nil {
			row, _ := strconv.Atoi(m[1])
			column, _ := strconv.Atoi(m[2])
			found[[2]int{max(row, 1) - 1, max(column, 1) - 1}] = l
		}
	}
	require.NotEmpty(t, found, "no page of the %s", piece)
	return found
}

// What the pages are said to keep free, and to share.
const (
	freeMargin, freeFoot = 10, 17
	shared               = 10
)

// joined lays a piece's pages together as one, their margins cut off; where two
// overlap the later one lies on top.
func joined(pages map[[2]int]leaf) leaf {
	var whole leaf
	for at, l := range pages {
		whole.across, whole.down = l.across, l.down
		whole.width = max(whole.width, (at[1]+1)*l.across+shared*pixelsPerMM)
		whole.height = max(whole.height, (at[0]+1)*l.down+shared*pixelsPerMM)
	}
	whole.grey = bytes.Repeat([]byte{255}, whole.width*whole.height)
	for at, l := range pages {
		right, down := l.across, l.down
		for y := range down + shared*pixelsPerMM {
			from := (y+freeMargin*pixelsPerMM)*l.width + freeMargin*pixelsPerMM
			to := (y+at[0]*down)*whole.width + at[1]*right
			copy(whole.grey[to:to+right+shared*pixelsPerMM], l.grey[from:])
		}
	}
	return whole
}

// nearestLine is the middle of the line that a ray from (x, y), pixels, meets
// about so many pixels away; not found if there is none within 2 mm.
func (l leaf) nearestLine(x, y, angle, about float64) (float64, bool) {
	sin, cos := math.Sincos(angle)
	best, sum, moment, ink := math.Inf(1), 0.0, 0.0, 0.0
	finish := func() {
		if ink > 2 && math.Abs(moment/sum-about) < math.Abs(best-about) {
			best = moment / sum
		}
		sum, moment, ink = 0, 0, 0
	}
	for d := about - 20; d <= about+20; d += 0.25 {
		k := l.smooth(x+d*sin, y-d*cos)
		if k < 0.1 {
			finish()
			continue
		}
		sum, moment, ink = sum+k, moment+k*d, ink+k*0.25
	}
	finish()
	return best, !math.IsInf(best, 1)
}

// smooth is the darkness between pixels, whose middles lie at halves.
func (l leaf) smooth(x, y float64) float64 {
	i, j := math.Floor(x-0.5), math.Floor(y-0.5)
	u, v := x-0.5-i, y-0.5-j
	a, b := int(i), int(j)
	return (1-v)*((1-u)*l.dark(a, b)+u*l.dark(a+1, b)) + v*((1-u)*l.dark(a, b+1)+u*l.dark(a+1, b+1))
}

// acrossLines are the middles, in pixels from the top, of the lines that cross
// the band of columns from left to right.
func (l leaf) acrossLines(left, right int) []float64 {
	var lines []float64
	sum, moment := 0.0, 0.0
	for y := range l.height + 1 {
		k := 0.0
		for x := left; x < right; x++ {
			k += l.dark(x, y) / float64(right-left)
		}
		if k < 0.25 {
			if sum > 0 {
				lines = append(lines, moment/sum)
			}
			sum, moment = 0, 0
			continue
		}
		sum, moment = sum+k, moment+k*(float64(y)+0.5)
	}
	return lines
}

// turned swaps the leaf's axes.
func (l leaf) turned() leaf {
	t := leaf{width: l.height, height: l.width, grey: make([]byte, len(l.grey))}
	for y := range l.height {
		for x := range l.width {
			t.grey[x*t.width+y] = l.grey[y*l.width+x]
		}
	}
	return t
}
