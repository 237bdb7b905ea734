package server

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/fitting"
)

func fitted(t *testing.T, base, forward, sideways, brim, slope float64, cloth fitting.Cloth) fitting.Result {
	t.Helper()
	girth, nape := 560*fitting.Millimetre, 224*fitting.Millimetre
	b, w := fitting.Length(base), fitting.Length(brim)
	f, s, e := fitting.Angle(forward), fitting.Angle(sideways), fitting.Angle(slope)
	r, err := fitting.Fit(fitting.Input{
		Measures: fitting.Measures{Girth: &girth, NapeToCrown: &nape},
		Hat:      fitting.Hat{Base: &b, Forward: &f, Sideways: &s, BrimWidth: &w, BrimSlope: &e}, Cloth: cloth,
	})
	require.NoError(t, err)
	return r
}

func rowSays(rows []size, name string) string {
	for _, r := range rows {
		if r.Name == name {
			return r.Amount.Figure + " " + r.Remark
		}
	}
	return ""
}

// The trial hats of the fit model: one that the elastic holds, and a small one that no tension does.
func TestHoldIsSaidForTheBench(t *testing.T) {
	held := holdSizes(fitted(t, 110, 18, -22, 60, 55, fitting.Cloth{}).Hold)
	assert.Contains(t, rowSays(held, "Held by"), "elastic alone")
	assert.Contains(t, rowSays(held, "Weighs about"), "51 g")
	assert.Contains(t, rowSays(held, "Elastic pulls like"), "20 g", "0.2 N")
	assert.Contains(t, rowSays(held, "Bears"), "gentle breeze", "3.8 m/s")

	slips := holdSizes(fitted(t, 90, 20, -30, 45, 58, fitting.Cloth{}).Hold)
	assert.Contains(t, rowSays(slips, "Held by"), "comb")
	assert.Empty(t, rowSays(slips, "Elastic pulls like"), "no tension holds it, so none is told")
}

func TestClothIsSaidForTheBench(t *testing.T) {
	does := clothSizes(fitted(t, 110, 18, -22, 60, 55, fitting.Cloth{}).Cloth)
	assert.Contains(t, rowSays(does, "Takes"), "90.0 cm")
	assert.NotContains(t, rowSays(does, "Takes"), "does not do")
	short := 300 * fitting.Millimetre
	assert.Contains(t, rowSays(clothSizes(fitted(t, 110, 18, -22, 60, 55, fitting.Cloth{Length: &short}).Cloth), "Takes"), "does not do")
}
