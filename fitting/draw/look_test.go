package draw

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"perchbook/fitting"
)

func TestLook(t *testing.T) {
	files, _ := filepath.Glob("../../testdata/fitting/cases/*.json")
	for _, f := range files {
		b, _ := os.ReadFile(f)
		var c struct{ In fitting.Input }
		json.Unmarshal(b, &c)
		s, err := fitting.Solve(c.In)
		if err != nil {
			continue
		}
		for _, cam := range []Camera{Front(), FromRight(), FromLeft()} {
			w, _ := os.Create("/tmp/draw/" + strings.TrimSuffix(filepath.Base(f), ".json") + "-" + cam.name + ".svg")
			if err := View(w, s, cam, Options{Sizes: true, Sheet: true}); err != nil {
				t.Fatal(err)
			}
			w.Close()
		}
	}
}
