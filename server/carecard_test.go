package server

import (
	"net/http"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/fitting"
	"perchbook/orders"
	"perchbook/templates"
)

func TestTheCareCardSaysHowThisHatIsWorn(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	link := orders.CommissionPath + b.store.CommissionLink(c)
	assert.Equal(t, http.StatusNotFound, b.get(link+"/care").status, "nothing is settled yet")
	b.signed(c)
	hides(t, b.see(link), link+"/care") // too early to be told of
	for _, page := range []string{b.see(link + "/care"), b.see(room(c) + "/care")} {
		for _, words := range []string{"never under the chin", "Shake the drops off", "comes off to drive", "your own right", "<svg"} {
			shows(t, page, words)
		}
	}
}

func TestAClientWhoNeverComesIsToldHowToTryItOn(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	link := orders.CommissionPath + b.store.CommissionLink(c)
	assert.Equal(t, http.StatusNotFound, b.get(link+"/try-on").status)
	b.signed(c)
	page := b.see(link + "/try-on")
	for _, words := range []string{"never under the chin", "A finger must still go under it", "draws open again", link + "/ask/photographs", "<svg"} {
		shows(t, page, words)
	}
}

func TestTheCareCardNamesWhatHoldsTheHat(t *testing.T) {
	in := fitting.Input{Measures: fitting.Measures{Girth: new(560 * fitting.Millimetre), NapeToCrown: new(224 * fitting.Millimetre)}}
	r, err := fitting.Fit(in)
	require.NoError(t, err)
	for fastening, words := range map[fitting.Fastening]string{fitting.ByComb: "Mind the points", fitting.ByBand: "sits on a band"} {
		r.Hold.Fastening = fastening
		assert.Contains(t, careOf(templates.English, in, r).Elastic[3], words)
	}
	r.Hold.Fastening = fitting.ByElastic
	assert.Len(t, careOf(templates.English, in, r).Elastic, 3, "no comb where none is needed")
}
