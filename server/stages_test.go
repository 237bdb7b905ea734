package server

import (
	"net/http"
	"net/url"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/orders"
)

// moved sends the move form as the page would.
func (b *benchSite) moved(c orders.Commission, to orders.Stage, more ...string) url.Values {
	form := say("version", strconv.Itoa(b.commission(c.ID).Version), "stage", string(to), "why", "")
	for name, values := range say(more...) {
		form[name] = values
	}
	return form
}

// finishing is a commission whose hat stands at its finishing.
func (b *benchSite) finishing() orders.Commission {
	c := b.enquiry(orders.DoorWeb, nil)
	b.signed(c)
	for _, to := range []orders.Stage{orders.Agreed, orders.InHand, orders.InFitting, orders.Finishing} {
		b.accepted(room(c)+"/move", b.moved(c, to))
	}
	return b.commission(c.ID)
}

func TestTheFinishingCheckIsTickedOffByName(t *testing.T) {
	b := signedInBench(t)
	c := b.finishing()
	shows(t, b.see(room(c)), "Tick off the finishing check")
	page := b.refused(http.StatusUnprocessableEntity, room(c)+"/move", b.moved(c, orders.Ready))
	shows(t, page, "The finishing check is not done")
	shows(t, page, "Move it all the same")
	page = b.accepted(room(c)+"/finishing", say("item", "pins", "item", "wire"))
	shows(t, page, `value="pins" checked`)
	shows(t, page, benchMaker+", Tue 28 April 2026, 10:20")
	b.refused(http.StatusUnprocessableEntity, room(c)+"/move", b.moved(c, orders.Ready))
	page = b.accepted(room(c)+"/finishing", say("item", "pins", "item", "wire", "item", "knots", "item", "label"))
	shows(t, page, "The finishing check is done.")
	b.accepted(room(c)+"/move", b.moved(c, orders.Ready))
	require.Equal(t, orders.Ready, b.commission(c.ID).Stage)
	page = b.see(room(c))
	shows(t, page, "✓ No pin or needle is left in")
	hides(t, page, `name="item"`) // done with
	shows(t, b.refused(http.StatusUnprocessableEntity, room(c)+"/finishing", say("item", "pins")), "the check is made when it is finished")
}

func TestAGuardIsPassedOverWithAReasonAndMarked(t *testing.T) {
	b := signedInBench(t)
	c := b.finishing()
	page := b.refused(http.StatusUnprocessableEntity, room(c)+"/move", b.moved(c, orders.Ready, "pass-over", "yes"))
	shows(t, page, "Write why it moves on all the same")
	shows(t, page, `name="pass-over" value="yes" checked`)
	page = b.accepted(room(c)+"/move", b.moved(c, orders.Ready, "pass-over", "yes", "why", "Looked over by her own maid."))
	shows(t, page, "passed over: finishing check")
	shows(t, page, "Looked over by her own maid.")
}

func TestNoHatIsCutBeforeItsDepositIsIn(t *testing.T) {
	b := pricedBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	b.signed(c)
	b.quote(c)
	hides(t, b.see(room(c)), "Before it can stand at")
	_, err := b.store.Accept(t.Context(), c.ID, 1, "Nella", 29314)
	require.NoError(t, err)
	page := b.see(room(c))
	shows(t, page, "Before it can stand at “in hand”")
	shows(t, page, "The deposit agreed to has not come in.")
	page = b.refused(http.StatusUnprocessableEntity, room(c)+"/move", b.moved(c, orders.InHand))
	shows(t, page, "The deposit agreed to has not come in.")
	shows(t, page, "Move it all the same")
	page = b.accepted(room(c)+"/move", b.moved(c, orders.InHand, "pass-over", "yes", "why", "She pays at the fitting."))
	shows(t, page, "passed over: deposit")
	shows(t, page, "She pays at the fitting.")
}

func TestAChangeOfASignedHatWaitsForTheNextSheet(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	b.signed(c)
	b.accepted(room(c)+"/move", b.moved(c, orders.Agreed))
	b.accepted(room(c)+"/settle", b.versioned(c, wholeHat("hat.brim_width_mm", "7 cm")))
	require.Equal(t, orders.Agreed, b.commission(c.ID).Stage, "it does not go back by itself")
	page := b.see(room(c) + "/settle")
	shows(t, page, "Changed since Fit sheet 26-001 / 1")
	shows(t, page, `Brim width: <b>7.0 cm (2 3/4 in)</b> <span class="soft">(was 9.0 cm`)
	shows(t, b.refused(http.StatusUnprocessableEntity, room(c)+"/move", b.moved(c, orders.InHand)), "Figures have been changed since the fit sheet was signed")

	b.accepted(room(c)+"/settle", b.versioned(c, wholeHat("hat.brim_width_mm", "7 cm", "do", "back")))
	assert.InDelta(t, 90, b.fitted(c.ID).Working.Figures["hat.brim_width_mm"], 0, "as on the sheet")
	hides(t, b.see(room(c)+"/settle"), "Changed since")
	b.accepted(room(c)+"/move", b.moved(c, orders.InHand))

	b.accepted(room(c)+"/settle", b.versioned(c, wholeHat("hat.brim_width_mm", "7 cm")))
	b.accepted(room(c)+"/settle", b.versioned(c, wholeHat("hat.brim_width_mm", "7 cm", "do", "sign", "why", "It hid her eyes.")))
	require.Equal(t, orders.InHand, b.commission(c.ID).Stage, "signing leaves it where it is")
	page = b.see(room(c))
	shows(t, page, "The next fit sheet, at “in hand”")
	shows(t, page, "fit sheet 2: It hid her eyes.")
	hides(t, page, "Not as signed")
}
