package fitting

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// readCase reads a worked case's input. The command's own test compares all the
// figures of all cases, through the contract.
func readCase(t testing.TB, name string) Input {
	t.Helper()
	body, err := os.ReadFile(filepath.Join("..", "testdata", "fitting", "cases", name+".json"))
	require.NoError(t, err)
	var c struct{ In Input }
	require.NoError(t, json.Unmarshal(body, &c))
	return c.In
}

// anyInput draws a hat on a head that may be fitted.
func anyInput(t *rapid.T) Input {
	in := Input{Measures: anyMeasures(t), Hat: Hat{
		Base:            new(Length(rapid.Float64Range(70, 150).Draw(t, "base"))),
		Forward:         new(Angle(rapid.Float64Range(-20, 45).Draw(t, "forward"))),
		Sideways:        new(Angle(rapid.Float64Range(-40, 40).Draw(t, "sideways"))),
		BrimWidth:       new(Length(rapid.Float64Range(0, 120).Draw(t, "brim"))),
		BrimSlope:       new(Angle(rapid.Float64Range(-75, 75).Draw(t, "slope"))),
		AnchorFromFront: new(rapid.Float64Range(0.15, 0.5).Draw(t, "anchor")),
	}}
	in.Hair.Thickness = Length(rapid.Float64Range(0, 10).Draw(t, "hair"))
	return in
}

// anySolution draws one that is not refused.
func anySolution(t *rapid.T) (Input, Solution) {
	in := anyInput(t)
	s, err := Solve(in)
	if err != nil {
		t.Skip("refused")
	}
	return in, s
}

func TestFitIsTheSolutionsResult(t *testing.T) {
	in := readCase(t, "right-tilt-steep-brim")
	s, err := Solve(in)
	require.NoError(t, err)
	r, err := Fit(in)
	require.NoError(t, err)
	require.Equal(t, s.Result, r)
	again, err := Fit(in)
	require.NoError(t, err)
	require.Equal(t, r, again, "the same input must give the same answer")
}

// A hat tilted to the other side is the mirror image, to the last digit.
func TestMirroredHatIsTheMirrorImage(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in, s := anySolution(t)
		*in.Hat.Sideways *= -1
		m, err := Fit(in)
		require.NoError(t, err, "only one side is refused")
		r := s.Result
		require.Equal(t, r.Elastic.LeftPath, m.Elastic.RightPath)
		require.Equal(t, r.Elastic.RightPath, m.Elastic.LeftPath)
		require.Equal(t, r.Elastic.LeftBehindEar, m.Elastic.RightBehindEar)
		require.InDelta(t, float64(r.Elastic.Cut), float64(m.Elastic.Cut), 1e-9)
		require.InDelta(t, float64(r.Elastic.PlusMinus), float64(m.Elastic.PlusMinus), 1e-6)
		require.InDelta(t, float64(r.Placement.CrownToCentre), float64(m.Placement.CrownToCentre), 1e-7)
		require.InDelta(t, float64(r.Placement.TapeLineToRim), float64(m.Placement.TapeLineToRim), 1e-6)
		require.Equal(t, r.Brim, m.Brim)
		mirrored := View{m.View.Ahead, m.View.Right30, m.View.Left30, m.View.Right60, m.View.Left60}
		for azimuth, v := range r.View.views() {
			require.InDelta(t, float64(v), float64(mirrored.views()[azimuth]), 1e-6, "view at %v", azimuth)
		}
		if r.Placement.Clock != nil && *r.Placement.Clock < 11.999 && *r.Placement.Clock > 0.001 {
			require.InDelta(t, 12-*r.Placement.Clock, *m.Placement.Clock, 1e-9)
		}
	})
}

// Head, seat, brim and elastic have no scale of their own: twice the head with
// twice the hat has twice the elastic. (Eyes, laps and knots do not grow.)
func TestEverythingGrowsAlike(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in, small := anySolution(t)
		k := rapid.Float64Range(0.5, 2).Draw(t, "scale")
		h := Head{small.Head.A * Length(k), small.Head.B * Length(k), small.Head.C * Length(k)}
		s := seatAt(h, *in.Hat.Base*Length(k), *in.Hat.Forward, *in.Hat.Sideways)
		e, err := NewElastic(h, s, in.Hair.Thickness*Length(k), *in.Hat.AnchorFromFront)
		if err != nil && in.Hair.Thickness*Length(k) > mostHair {
			t.Skip("hair too thick")
		}
		require.NoError(t, err)
		require.InDelta(t, k*small.Seat.Sag, s.Sag, 1e-9)
		require.InDelta(t, k*float64(small.Result.Placement.TapeLineToRim), float64(h.tapeLineToRim(s)), 1e-6)
		require.InDelta(t, k*float64(small.Elastic.Left.Length), float64(e.Left.Length), 1e-6)
		require.InDelta(t, k*float64(small.Elastic.Right.Length), float64(e.Right.Length), 1e-6)
		b, err := NewBrim(s, *in.Hat.BrimWidth*Length(k), *in.Hat.BrimSlope, 0, 0)
		require.NoError(t, err)
		require.InDelta(t, k*float64(small.Result.Brim.FlatOuterRadius), float64(b.Pattern().FlatOuterRadius), 1e-9)
		require.InDelta(t, small.Result.Brim.EdgeRatio, b.Pattern().EdgeRatio, 1e-12)
	})
}

func TestElasticAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := anyInput(t)
		stretch, knot := rapid.Float64Range(0, 0.3).Draw(t, "stretch"), Length(rapid.Float64Range(0, 40).Draw(t, "knot"))
		in.Elastic = Cord{WorkingStretch: &stretch, Knot: &knot}
		r, err := Fit(in)
		if err != nil {
			t.Skip("refused")
		}
		e := r.Elastic
		require.InDelta(t, float64(e.LeftPath+e.RightPath), float64(e.Worn), 1e-12)
		require.InDelta(t, float64(e.Worn), float64(e.Relaxed)*(1+stretch), 1e-9)
		require.InDelta(t, float64(e.Relaxed+2*knot), float64(e.Cut), 1e-9)
		require.Positive(t, e.PlusMinus)
	})
}

func TestDefaultsAreThoseOfTheContract(t *testing.T) {
	in := readCase(t, "crown-set-flat-brim")
	left, err := Fit(in)
	require.NoError(t, err)
	in.Hat.AnchorFromFront, in.Hat.Folds, in.Hat.Trim = new(1.0/3), new(4), new(Mass(20))
	in.Elastic = Cord{WorkingStretch: new(0.10), Knot: new(Length(15))}
	in.Measures.TakenBy, in.Measures.Readings, in.Measures.Sex = Client, 1, SexUnknown
	said, err := Fit(in)
	require.NoError(t, err)
	require.Equal(t, left, said)
	zero := in
	zero.Elastic = Cord{WorkingStretch: new(0.0), Knot: new(Length(0))}
	r, err := Fit(zero)
	require.NoError(t, err)
	assert.Equal(t, r.Elastic.Worn, r.Elastic.Cut, "a stretch and a knot of nothing are not the same as none given")
}

func TestRefusals(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	good := func() Input { return readCase(t, "right-tilt-steep-brim") }
	for name, c := range map[string]struct {
		field  string
		change func(*Input)
		why    string
	}{
		"no girth":              {"measures.girth_mm", func(in *Input) { in.Measures.Girth = nil }, "missing"},
		"girth in inches as cm": {"measures.girth_mm", func(in *Input) { *in.Measures.Girth = 225 }, "read as inches it is 57.2 cm"},
		"girth in cm as mm":     {"measures.girth_mm", func(in *Input) { *in.Measures.Girth = 57 }, "read as centimetres it is 57.0 cm"},
		"girth in inches as mm": {"measures.girth_mm", func(in *Input) { *in.Measures.Girth = 22.5 }, "read as inches it is 57.2 cm"},
		"girth in mm as cm":     {"measures.girth_mm", func(in *Input) { *in.Measures.Girth = 5700 }, "read as millimetres it is 57.0 cm"},
		"girth not a number":    {"measures.girth_mm", func(in *Input) { *in.Measures.Girth = Length(nan) }, ""},
		"girth without end":     {"measures.girth_mm", func(in *Input) { *in.Measures.Girth = Length(inf) }, ""},
		"a child's girth":       {"measures.girth_mm", func(in *Input) { *in.Measures.Girth = 449.9 }, ""},
		"nape in inches as cm":  {"measures.nape_to_crown_mm", func(in *Input) { *in.Measures.NapeToCrown = 90 }, "read as inches it is 22.9 cm"},
		"nape too short":        {"measures.nape_to_crown_mm", func(in *Input) { *in.Measures.NapeToCrown = 0.324 * 570 }, ""},
		"nape too long":         {"measures.nape_to_crown_mm", func(in *Input) { *in.Measures.NapeToCrown = 0.503 * 570 }, ""},
		"a flat narrow head": {"measures.nape_to_crown_mm", func(in *Input) {
			*in.Measures.NapeToCrown, in.Measures.HeadLength, in.Measures.HeadBreadth = 0.326*570, new(Length(204)), new(Length(143))
		}, "flatter"},
		"nape not a number":       {"measures.nape_to_crown_mm", func(in *Input) { *in.Measures.NapeToCrown = Length(nan) }, ""},
		"calipers too wide":       {"measures.head_length_mm", func(in *Input) { in.Measures.HeadLength, in.Measures.HeadBreadth = new(Length(220)), new(Length(170)) }, "calipers"},
		"length not a number":     {"measures.head_length_mm", func(in *Input) { in.Measures.HeadLength = new(Length(nan)) }, ""},
		"breadth in cm as mm":     {"measures.head_breadth_mm", func(in *Input) { in.Measures.HeadBreadth = new(Length(15)) }, "centimetres"},
		"ear to ear of a wig":     {"measures.ear_to_ear_mm", func(in *Input) { in.Measures.EarToEar = new(Length(600)) }, ""},
		"brow to nape in inches":  {"measures.brow_to_nape_mm", func(in *Input) { in.Measures.BrowToNape = new(Length(140)) }, "inches"},
		"an unknown hand":         {"measures.taken_by", func(in *Input) { in.Measures.TakenBy = "sister" }, "client or maker"},
		"an unknown shape":        {"face.shape", func(in *Input) { in.Face.Shape = "egg" }, "oval"},
		"thick hair not a number": {"hair.thickness_mm", func(in *Input) { in.Hair.Thickness = Length(nan) }, ""},
		"hair below nothing":      {"hair.thickness_mm", func(in *Input) { in.Hair.Thickness = -1 }, ""},
		"base not a number":       {"hat.base_mm", func(in *Input) { *in.Hat.Base = Length(nan) }, ""},
		"base of nothing":         {"hat.base_mm", func(in *Input) { *in.Hat.Base = 0 }, ""},
		"base too large there":    {"hat.base_mm", func(in *Input) { *in.Hat.Base = 200 }, "smaller"},
		"forward not a number":    {"hat.forward_deg", func(in *Input) { *in.Hat.Forward = Angle(nan) }, ""},
		"forward upside down":     {"hat.forward_deg", func(in *Input) { *in.Hat.Forward = 90 }, ""},
		"sideways not a number":   {"hat.sideways_deg", func(in *Input) { *in.Hat.Sideways = Angle(nan) }, ""},
		"over the top":            {"hat.sideways_deg", func(in *Input) { *in.Hat.Base, *in.Hat.Sideways = 85, 45 }, "right"},
		"brim not a number":       {"hat.brim_width_mm", func(in *Input) { *in.Hat.BrimWidth = Length(nan) }, ""},
		"brim below nothing":      {"hat.brim_width_mm", func(in *Input) { *in.Hat.BrimWidth = -1 }, ""},
		"slope upright":           {"hat.brim_slope_deg", func(in *Input) { *in.Hat.BrimSlope = 80.1 }, ""},
		"slope not a number":      {"hat.brim_slope_deg", func(in *Input) { *in.Hat.BrimSlope = Angle(nan) }, ""},
		"lip not a number":        {"hat.lip_width_mm", func(in *Input) { in.Hat.LipWidth = new(Length(nan)) }, ""},
		"lip slope not a number":  {"hat.lip_slope_deg", func(in *Input) { in.Hat.LipSlope = new(Angle(nan)) }, ""},
		"anchor behind the base":  {"hat.anchor_from_front", func(in *Input) { in.Hat.AnchorFromFront = new(1.1) }, ""},
		"anchor not a number":     {"hat.anchor_from_front", func(in *Input) { in.Hat.AnchorFromFront = new(nan) }, ""},
		"three folds":             {"hat.folds", func(in *Input) { in.Hat.Folds = new(3) }, ""},
		"trimming not a number":   {"hat.trim_g", func(in *Input) { in.Hat.Trim = new(Mass(nan)) }, ""},
		"stretch below nothing":   {"elastic.working_stretch", func(in *Input) { in.Elastic.WorkingStretch = new(-0.1) }, ""},
		"stretch not a number":    {"elastic.working_stretch", func(in *Input) { in.Elastic.WorkingStretch = new(nan) }, ""},
		"knot not a number":       {"elastic.knot_mm", func(in *Input) { in.Elastic.Knot = new(Length(nan)) }, ""},
		"rule not a number":       {"occasion.least_base_mm", func(in *Input) { in.Occasion.LeastBase = new(Length(nan)) }, ""},
	} {
		t.Run(name, func(t *testing.T) {
			in := good()
			c.change(&in)
			_, err := Fit(in)
			requireRefused(t, err, c.field)
			var refused Refusal
			require.ErrorAs(t, err, &refused)
			assert.Contains(t, refused.Why, c.why)
			assert.NotContains(t, refused.Why, "%!", "badly formatted")
			assert.NotContains(t, err.Error(), refused.Why, "the error text ends up in logs and must not hold the figures")
		})
	}
}

// Every figure of a result is a number, whatever is said.
func requireNumbers(t require.TestingT, v reflect.Value, name string) {
	switch v.Kind() {
	case reflect.Float64:
		require.False(t, math.IsNaN(v.Float()) || math.IsInf(v.Float(), 0), "%s is %v", name, v.Float())
	case reflect.Struct:
		for i := range v.NumField() {
			requireNumbers(t, v.Field(i), name+"."+v.Type().Field(i).Name)
		}
	case reflect.Slice:
		for i := range v.Len() {
			requireNumbers(t, v.Index(i), name)
		}
	case reflect.Pointer:
		if !v.IsNil() {
			requireNumbers(t, v.Elem(), name)
		}
	case reflect.String:
		require.False(t, strings.Contains(v.String(), "%!"), "%s is badly formatted: %s", name, v.String())
	}
}

func FuzzFit(f *testing.F) {
	f.Add(570., 230., 0., 0., 120., 25., -35., 90., 60., 1./3, 0., 0., 0.10, 15., 4)
	f.Add(560., 224., 0., 0., 120., 0., 0., 40., 0., 1./3, 0., 0., 0.10, 15., 1)
	f.Add(580., 240., 202., 146., 110., 20., -25., 80., -55., 0.2, 6., 5., 0., 0., 2)
	f.Add(450., 150., 0., 0., 30., 75., 75., 400., 80., 0., 30., 50., 1., 100., 4)
	f.Add(700., 350., 0., 0., 85., -75., 45., 0., -80., 1., 0., 0., 0., 0., 4)
	f.Add(math.NaN(), math.Inf(1), -1., 1e300, math.NaN(), 90., -90., 1e-300, 80., 2., -0., 0., -1., 1e9, -4)
	f.Fuzz(func(t *testing.T, girth, nape, length, breadth, base, forward, sideways, brim, slope, anchor, hair, lip, stretch, knot float64, folds int) {
		in := Input{
			Measures: Measures{Girth: new(Length(girth))},
			Hat: Hat{Base: new(Length(base)), Forward: new(Angle(forward)), Sideways: new(Angle(sideways)), BrimWidth: new(Length(brim)),
				BrimSlope: new(Angle(slope)), AnchorFromFront: &anchor, LipWidth: new(Length(lip)), Folds: &folds},
			Elastic: Cord{WorkingStretch: &stretch, Knot: new(Length(knot))},
		}
		in.Hair.Thickness = Length(hair)
		for tape, mm := range map[**Length]float64{&in.Measures.NapeToCrown: nape, &in.Measures.HeadLength: length, &in.Measures.HeadBreadth: breadth} {
			if mm != 0 {
				*tape = new(Length(mm))
			}
		}
		r, err := Fit(in)
		if err != nil {
			var refused Refusal
			require.ErrorAs(t, err, &refused)
			require.NotEmpty(t, refused.Field)
			return
		}
		requireNumbers(t, reflect.ValueOf(r), "result")
		require.Greater(t, r.Elastic.Worn, Length(0))
		require.GreaterOrEqual(t, r.Brim.EdgeRatio, 1.0)
	})
}
