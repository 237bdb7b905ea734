package server

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/fitting"
	"perchbook/orders"
)

// The code on paper names the sheet and nothing of the client, and leads through the sign-in.
func TestPrintedCodeLeadsToTheSheetBehindSignIn(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	b.signed(c)
	at := room(c) + "/sheets/1"
	hides(t, b.see(at), `class="code"`) // nobody else can open this machine's pages
	b.srv.PublicURL = testOrigin
	shows(t, b.see(at), `class="code"`)

	clear(b.cookies)
	require.Equal(t, "/enter", b.get(at).location, "the sheet is behind the sign-in")
	signIn := say("name", benchMaker, "password", benchPassword)
	assert.Equal(t, at, b.post("/enter", signIn).location, "back to the sheet that was asked for")

	clear(b.cookies)
	b.get(room(c))
	assert.Equal(t, "/workroom", b.post("/enter", signIn).location)
}

func TestSheetSaysWhatClothWouldDo(t *testing.T) {
	folds, base, tilt, brim, slope := 4, fitting.Length(115), fitting.Angle(20), fitting.Length(90), fitting.Angle(60)
	in := fitting.Input{
		Measures: fitting.Measures{Girth: new(fitting.Length(570)), NapeToCrown: new(fitting.Length(230))},
		Hat:      fitting.Hat{Base: &base, Forward: &tilt, Sideways: &tilt, BrimWidth: &brim, BrimSlope: &slope, Folds: &folds},
	}
	words := func() (string, cuttingSheet) {
		sol, err := fitting.Solve(in)
		require.NoError(t, err)
		sheet := cuttingSheetOf(in, sol.Result)
		require.NotEmpty(t, sheet.Lay, "the lay is drawn")
		return strings.Join(sheet.Yield, " "), sheet
	}
	does, whole := words()
	assert.Contains(t, does, "On 90.0 × 100.0 cm (35 3/8 × 39 3/8 in): the lay takes")
	assert.Regexp(t, `Hats alike: 1 from this piece, \d\d from a roll of 10 m`, does)
	assert.Equal(t, "4 × Base circle", whole.Pieces[len(whole.Pieces)-1].Name)

	in.Cloth = fitting.Cloth{Width: new(fitting.Length(600)), Length: new(fitting.Length(400))}
	short, _ := words()
	assert.Contains(t, short, "A piece of 60.0 × 40.0 cm (23 5/8 × 15 3/4 in) does not do. One of 60.0 × ")
	assert.Contains(t, short, "Hats alike: 0 from this piece")
}
