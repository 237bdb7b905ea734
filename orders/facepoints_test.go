package orders

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/fitting"
)

func TestPointsAreThreeProportionsOfAFace(t *testing.T) {
	q := question(t, "face_points")
	a, p := q.Parse(Said{Text: []string{"1.3333 0.7778 0.8"}}, time.Now())
	require.Nil(t, p)
	assert.Equal(t, Answer{Value: "1.333 0.778 0.800", Said: "1.333 0.778 0.800"}, a)
	assert.Equal(t, "1.33 times as long as it is wide at the cheekbones; forehead 0.78 and jaw 0.80 of that width", q.Show(a))
	for _, typed := range []string{
		"1.3", "1.3 0.8", "1.3 0.8 0.8 0.8", "NaN 0.8 0.8", "1.3 NaN 0.8", "1.3 0.8 +Inf", "9 0.8 0.8", "-1.3 0.8 0.8", "1.3 0.1 0.8", "1.3 0.8 2",
		"a b c", "1,3 0,8 0,8", "data:image/jpeg;base64,AAAA",
	} {
		_, p := q.Parse(Said{Text: []string{typed}}, time.Now())
		require.NotNil(t, p, "%q was taken", typed)
		assert.Contains(t, p.Text, "do not make a face", typed)
	}
	a, p = q.Parse(Said{Text: []string{""}}, time.Now())
	require.Nil(t, p)
	assert.Empty(t, a.Value, "none marked is left out")
}

// The engine is told of a face in the one way that she chose, whatever else she has tried.
func TestAFaceIsToldInOneWay(t *testing.T) {
	tried := func(way string) Answers {
		return Answers{"face": {Value: way}, "face_length": {Value: "185.0"}, "face_cheekbones": {Value: "134.0"}, "face_forehead": {Value: ""}, "face_jaw": {Value: "112.0"}, "face_points": {Value: "1.384 0.780 0.820"}}
	}
	assert.Equal(t, fitting.Face{Shape: fitting.Heart}, faceOf(tried("heart")))
	assert.Equal(t, fitting.Face{Points: &fitting.FacePoints{Height: 1.384, Forehead: 0.78, Jaw: 0.82}}, faceOf(tried(byPoints)))
	assert.Equal(t, fitting.Face{HairlineToChin: millimetres(185), Cheekbone: millimetres(134), Jaw: millimetres(112)}, faceOf(tried(byTapes)))
	assert.Equal(t, fitting.Face{}, faceOf(Answers{"face": {Value: byPoints}}), "chosen and never marked")
}

// What she may type for a tape of the face, the engine takes too.
func TestTapesOfTheFaceAreTheEngines(t *testing.T) {
	for _, key := range []string{"face_length", "face_cheekbones", "face_forehead", "face_jaw"} {
		q := question(t, key)
		for _, mm := range []float64{q.Min, q.Max} {
			in := fitting.Input{Measures: fitting.Measures{Girth: millimetres(570), NapeToCrown: millimetres(228)}, Face: faceOf(Answers{"face": {Value: byTapes}, key: {Value: stored(mm)}})}
			_, err := fitting.Advise(in)
			require.NoError(t, err, "%s of %v mm", key, mm)
		}
	}
}
