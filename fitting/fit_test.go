package fitting

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestCases(t *testing.T) {
	files, err := filepath.Glob("../testdata/fitting/cases/*.json")
	require.NoError(t, err)
	for _, f := range files {
		b, _ := os.ReadFile(f)
		var c struct {
			In      Input
			Out     map[string]map[string]any
			Refused string
		}
		require.NoError(t, json.Unmarshal(b, &c))
		r, err := Fit(c.In)
		t.Log(f, err, c.Refused)
		if err != nil {
			continue
		}
		bb, _ := json.Marshal(r)
		var got map[string]any
		json.Unmarshal(bb, &got)
		for s, m := range c.Out {
			for k, v := range m {
				g := got[s].(map[string]any)[k]
				switch v := v.(type) {
				case float64:
					d := g.(float64) - v
					if d > 1e-4 || d < -1e-4 {
						t.Log("  ", s, k, v, g)
					}
				default:
					if g != v {
						t.Log("  ", s, k, v, g)
					}
				}
			}
		}
		t.Log(r.Elastic.PlusMinus)
	}
}
func BenchmarkFit(b *testing.B) {
	bb, _ := os.ReadFile("../testdata/fitting/cases/right-tilt-steep-brim.json")
	var c struct{ In Input }
	json.Unmarshal(bb, &c)
	for b.Loop() {
		Fit(c.In)
	}
}
