package main

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A worked case holds an input with right values from an independent program, or
// with the field that must be refused.
type workedCase struct {
	In      json.RawMessage
	Out     map[string]map[string]any
	Refused string
}

func TestFitCommandAgreesWithTheWorkedCases(t *testing.T) {
	files, err := filepath.Glob("../../testdata/fitting/cases/*.json")
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(files), 9, "the worked cases are missing")
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".json"), func(t *testing.T) {
			body, err := os.ReadFile(file)
			require.NoError(t, err)
			var c workedCase
			require.NoError(t, json.Unmarshal(body, &c))
			status, got := runFit(t, string(c.In))
			if c.Refused != "" {
				assert.Equal(t, 1, status, "a refused case must end with status 1")
				assert.Equal(t, c.Refused, got["refused"]["field"], "refused for another field")
				assert.NotEmpty(t, got["refused"]["why"], "a refusal must say why")
				return
			}
			require.Equal(t, 0, status, "refused: %v", got["refused"])
			require.NotEmpty(t, c.Out)
			for part, figures := range c.Out {
				for name, want := range figures {
					agree(t, part+"."+name, want, got[part][name])
				}
			}
		})
	}
}

// agree holds a figure against the contract's tolerances: 0.05 mm, 1 degree of
// view, 0.001 for the rest.
func agree(t *testing.T, field string, want, got any) {
	t.Helper()
	number, ok := want.(float64)
	if !ok {
		assert.Equal(t, want, got, field)
		return
	}
	tolerance := 0.001
	switch {
	case strings.HasSuffix(field, "_mm"):
		tolerance = 0.05
	case strings.HasPrefix(field, "view."):
		tolerance = 1
	}
	if assert.IsType(t, number, got, "%s is missing", field) {
		assert.LessOrEqual(t, math.Abs(got.(float64)-number), tolerance, "%s is %v, worked out independently %v", field, got, number)
	}
}

func runFit(t *testing.T, in string) (int, map[string]map[string]any) {
	t.Helper()
	var out bytes.Buffer
	status := fitCommand(nil, strings.NewReader(in), &out, &out)
	var whole map[string]json.RawMessage
	require.NoError(t, json.Unmarshal(out.Bytes(), &whole), "not JSON: %s", out.String())
	parts := map[string]map[string]any{}
	for name, body := range whole {
		var part map[string]any
		if json.Unmarshal(body, &part) == nil {
			parts[name] = part
		}
	}
	return status, parts
}

func TestFitCommandRefusesWhatTheContractDoesNotKnow(t *testing.T) {
	for name, c := range map[string]struct{ in, field string }{
		"a misspelt figure":           {`{"measures": {"girth": 570}}`, "measures.girth"},
		"a part that does not exist":  {`{"measures": {"girth_mm": 570}, "shoe": {}}`, "shoe"},
		"a word for a number":         {`{"measures": {"girth_mm": "57 cm"}}`, "measures.girth_mm"},
		"a number too large":          {`{"measures": {"girth_mm": 1e999}}`, "measures.girth_mm"},
		"a list for a part":           {`{"measures": [570]}`, "measures"},
		"no girth":                    {`{"measures": {}}`, "measures.girth_mm"},
		"null for everything":         {`{"measures": null}`, "measures.girth_mm"},
		"an unknown word":             {`{"measures": {"girth_mm": 570, "taken_by": "a bird"}}`, "measures.taken_by"},
		"no JSON":                     {`girth 57`, ""},
		"nothing":                     {``, ""},
		"null":                        {`null`, ""},
		"two documents":               {`{} {}`, ""},
		"inches typed as centimetres": {`{"measures": {"girth_mm": 225}}`, "measures.girth_mm"},
	} {
		t.Run(name, func(t *testing.T) {
			status, got := runFit(t, c.in)
			assert.Equal(t, 1, status)
			require.Contains(t, got, "refused")
			assert.Equal(t, c.field, got["refused"]["field"])
			assert.NotEmpty(t, got["refused"]["why"])
		})
	}
}

func TestFitCommandTakesNullForNotGiven(t *testing.T) {
	status, got := runFit(t, `{"measures": {"girth_mm": 560, "nape_to_crown_mm": null, "ear_to_ear_mm": null},
		"hat": {"base_mm": 120, "forward_deg": 0, "sideways_deg": 0, "brim_width_mm": 40, "brim_slope_deg": 0}}`)
	require.Equal(t, 0, status, "refused: %v", got["refused"])
	assert.InDelta(t, 86.0794, got["head"]["c_mm"], 1e-3, "the missing nape tape is 0.40 of the girth")
}

// The friction is a setting of the hold: fine hair needs a tighter elastic.
func TestFitCommandTakesEveryPartOfTheContract(t *testing.T) {
	hat := `"measures":{"girth_mm":560,"nape_to_crown_mm":224},"hat":{"base_mm":110,"forward_deg":18,"sideways_deg":-22,"brim_width_mm":60,"brim_slope_deg":55}`
	least := func(friction string) float64 {
		status, got := runFit(t, `{`+hat+`,"hold":{"friction":`+friction+`}}`)
		require.Equal(t, 0, status, "refused: %v", got["refused"])
		return got["hold"]["t_min_n"].(float64)
	}
	assert.Greater(t, least("0.3"), least("0.5"), "the friction given did not reach the hold")
}
