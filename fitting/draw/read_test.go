package draw_test

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"io"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"perchbook/fitting"
	"perchbook/fitting/draw"
)

type xy struct{ x, y float64 }

// picture is a drawing read back from its SVG.
type picture struct {
	left, top, width, height float64
	title, desc              string
	runs                     map[string][][]xy // by "group part"
	dots                     map[string][]xy
	words                    []word
	role                     string
}

type word struct {
	text string
	at   xy
	size float64
}

var views = map[string]draw.Camera{
	"front": draw.Front(), "right": draw.FromRight(), "left": draw.FromLeft(), "back": draw.Back(), "above": draw.Above(),
	"askew right": draw.ThreeQuarter(fitting.Right), "askew left": draw.ThreeQuarter(fitting.Left),
}

// facing are the views in which something of her face is seen.
func facing(view string) bool { return view != "back" && view != "above" }

// flat projects on its own account: what the cameras must agree with.
func flat(view string, p fitting.Vec) xy {
	sin, cos := math.Sincos(40 * math.Pi / 180)
	return map[string]xy{
		"front": {p.Y, -p.Z}, "right": {p.X, -p.Z}, "left": {-p.X, -p.Z}, "back": {-p.Y, -p.Z}, "above": {-p.Y, -p.X},
		"askew right": {p.X*sin + p.Y*cos, -p.Z}, "askew left": {p.Y*cos - p.X*sin, -p.Z},
	}[view]
}

// solved are the hats of the worked cases that are not refused.
func solved(t testing.TB) map[string]fitting.Solution {
	files, err := filepath.Glob("../../testdata/fitting/cases/*.json")
	require.NoError(t, err)
	hats := map[string]fitting.Solution{}
	for _, f := range files {
		var c struct{ In fitting.Input }
		text, err := os.ReadFile(f)
		require.NoError(t, err)
		require.NoError(t, json.Unmarshal(text, &c), f)
		if c.In.Hat.Complete() {
			if s, err := fitting.Solve(c.In); err == nil {
				hats[strings.TrimSuffix(filepath.Base(f), ".json")] = s
			}
		}
	}
	require.GreaterOrEqual(t, len(hats), 7, "too few cases could be solved")
	lip, slope := fitting.Length(12), fitting.Angle(70)
	hats["with a lip"] = hat(t, 0.4, fitting.Hat{LipWidth: &lip, LipSlope: &slope}, 115, 20, -20, 60, 30)
	hats["wide and bold"] = hat(t, 0.4, fitting.Hat{}, 115, 18, 22, 130, 20)
	hats["level, drooping"] = hat(t, 0.42, fitting.Hat{}, 130, 0, 0, 50, -30)
	hats["no brim"] = hat(t, 0.4, fitting.Hat{}, 110, 15, 20, 0, 40)
	return hats
}

func hat(t testing.TB, nape float64, h fitting.Hat, base, forward, sideways, brim, slope float64) fitting.Solution {
	s, err := fitting.Solve(input(nape, h, base, forward, sideways, brim, slope))
	require.NoError(t, err)
	return s
}

func input(nape float64, h fitting.Hat, base, forward, sideways, brim, slope float64) fitting.Input {
	girth := fitting.Length(565)
	up := fitting.Length(nape) * girth
	b, w := fitting.Length(base), fitting.Length(brim)
	f, s, d := fitting.Angle(forward), fitting.Angle(sideways), fitting.Angle(slope)
	h.Base, h.BrimWidth, h.Forward, h.Sideways, h.BrimSlope = &b, &w, &f, &s, &d
	return fitting.Input{Measures: fitting.Measures{Girth: &girth, NapeToCrown: &up}, Hat: h}
}

func svg(t testing.TB, s fitting.Solution, view string, o draw.Options) []byte {
	var b bytes.Buffer
	require.NoError(t, draw.View(&b, s, views[view], o))
	return b.Bytes()
}

func read(t testing.TB, s fitting.Solution, view string, o draw.Options) picture {
	return parse(t, svg(t, s, view, o))
}

func parse(t testing.TB, text []byte) picture {
	p := picture{runs: map[string][][]xy{}, dots: map[string][]xy{}}
	d := xml.NewDecoder(bytes.NewReader(text))
	d.Strict = true
	var group []string
	var in string
	size := 0.0
	for {
		token, err := d.Token()
		if err == io.EOF {
			return p
		}
		require.NoError(t, err, "the drawing is no XML")
		switch e := token.(type) {
		case xml.StartElement:
			a := map[string]string{}
			for _, at := range e.Attr {
				a[at.Name.Local] = at.Value
				require.NotEqual(t, "style", at.Name.Local, "the pages forbid style attributes")
				require.False(t, strings.HasPrefix(at.Name.Local, "on"), "the pages forbid script")
			}
			in = e.Name.Local
			number := func(name string) float64 { return numbers(t, a[name])[0] }
			switch in {
			case "svg":
				v := numbers(t, a["viewBox"])
				p.left, p.top, p.width, p.height, p.role = v[0], v[1], v[2], v[3], a["role"]
			case "g":
				group = append(group, a["class"])
				if s, ok := a["font-size"]; ok {
					size = numbers(t, s)[0]
				}
			case "path":
				key := group[len(group)-1] + " " + a["class"]
				for run := range strings.SplitSeq(strings.TrimPrefix(a["d"], "M"), "M") {
					n := numbers(t, strings.Replace(run, "L", " ", 1))
					points := make([]xy, len(n)/2)
					for i := range points {
						points[i] = xy{n[2*i], n[2*i+1]}
					}
					p.runs[key] = append(p.runs[key], points)
				}
			case "circle":
				p.dots[a["class"]] = append(p.dots[a["class"]], xy{number("cx"), number("cy")})
			case "text":
				p.words = append(p.words, word{at: xy{number("x"), number("y")}, size: size})
			case "title", "desc", "rect":
			default:
				t.Fatalf("unexpected element %s", in)
			}
		case xml.EndElement:
			if e.Name.Local == "g" {
				group = group[:len(group)-1]
			}
			in = ""
		case xml.CharData:
			switch in {
			case "title":
				p.title += string(e)
			case "desc":
				p.desc += string(e)
			case "text":
				p.words[len(p.words)-1].text += string(e)
			}
		}
	}
}

func numbers(t testing.TB, s string) []float64 {
	var out []float64
	for f := range strings.FieldsSeq(s) {
		x, err := strconv.ParseFloat(f, 64)
		require.NoError(t, err)
		require.False(t, x != x || x-x != 0, "%s is no place", f)
		out = append(out, x)
	}
	require.NotEmpty(t, out, "numbers are missing")
	return out
}
