package server

import (
	"bytes"
	"net/http"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/orders"
)

// pricedBench has prices and terms, so that a client may be asked to agree.
func pricedBench(t *testing.T) *benchSite {
	t.Helper()
	b := signedInBench(t)
	b.accepted("/workroom/studio/prices", say("version", "0", "currency", "eur", "seller", "The Tern Lane Workroom\nTern Lane 3, Saltmere", "tax_name", "VAT", "tax", "20",
		"hour_rate", "22", "overhead", "15", "margin", "25", "deposit", "50", "postage", "9,50", "cloth_price", "24.50",
		"wording", "Goods made to your measure can’t simply be given back.", "checked", "3 March 2026"))
	return b
}

// quote sends the client of a signed commission a quotation.
func (b *benchSite) quote(c orders.Commission) {
	b.t.Helper()
	b.accepted(room(c)+"/quotation", say("newest", "0", "do", "send", "says", "A small hat in Moss", "what-0", "sinamay", "much-0", "0.8", "unit-0", "m", "each-0", "24,50",
		"what-1", "elastic", "much-1", "0.45", "each-1", "1.60", "hours", "6:30", "hour_rate", "22", "overhead", "15", "margin", "25", "delivery", "9.50",
		"tax", "20", "deposit", "50", "valid", "31 July 2026"))
}

func TestTermsSayBesideTheFieldWhatIsWrong(t *testing.T) {
	b := signedInBench(t)
	page := b.refused(http.StatusUnprocessableEntity, "/workroom/studio/prices", say("version", "0", "currency", "gold", "tax", "x", "overhead", "101", "hour_rate", "1,280", "checked", "soon"))
	for _, key := range []string{"currency", "tax", "overhead", "hour_rate", "checked"} {
		assert.Contains(t, page, `id="f-`+key+`-problem"`, key)
	}
	shows(t, page, `value="gold"`)
}

func TestAQuotationIsWorkedOutOnThePageBeforeItIsSent(t *testing.T) {
	b := pricedBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	b.signed(c)
	page := b.see(room(c) + "/quotation")
	shows(t, page, `value="sinamay"`) // from the cutting sheet
	shows(t, page, `value="24.50"`)   // from the terms
	page = b.accepted(room(c)+"/quotation", say("newest", "0", "do", "work", "says", "A hat", "what-0", "sinamay", "much-0", "0.8", "each-0", "24.50", "what-1", "elastic", "much-1", "0.45", "each-1", "1.60",
		"hours", "6.5", "hour_rate", "22", "overhead", "15", "margin", "25", "delivery", "9.50", "tax", "20", "deposit", "50", "valid", "31 July 2026"))
	shows(t, page, "EUR 293.14") // as the store's test works it out by hand
	all, err := b.store.Quotations(t.Context(), c.ID)
	require.NoError(t, err)
	assert.Empty(t, all, "working it out sends nothing")

	page = b.refused(http.StatusUnprocessableEntity, room(c)+"/quotation", say("newest", "0", "version", "1", "do", "send", "says", "", "what-0", "", "each-0", "5", "hours", "many", "valid", "31 July 2026"))
	for _, key := range []string{"what-0", "hours"} {
		assert.Contains(t, page, `id="f-`+key+`-problem"`, key)
	}
}

// leftOff is the form of a quotation as a milliner would leave it half written.
func leftOff(version, do string, more ...string) url.Values {
	v := say("newest", "0", "version", version, "do", do, "says", "A hat in Moss <with> a quill", "what-0", "sinamay", "each-0", "24.50", "hours", "some", "valid", "31 July 2026")
	for name, values := range say(more...) {
		v[name] = values
	}
	return v
}

func TestAQuotationBeingWrittenOutlivesSigningOut(t *testing.T) {
	b := pricedBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	at := room(c) + "/quotation"
	hides(t, b.see(at), "Throw it away")
	b.accepted(at, leftOff("0", "keep"))
	b.accepted("/workroom/leave", nil)
	require.Equal(t, "/enter", b.get(at).location, "signed out")
	b.post("/enter", say("name", benchMaker, "password", benchPassword))
	page := b.see(at)
	for _, typed := range []string{"A hat in Moss &lt;with&gt; a quill</textarea>", `value="some"`, `value="sinamay"`, `name="version" value="1"`, "Kept as it stands here, by Wren, Tue 28 April 2026, 10:20."} {
		shows(t, page, typed)
	}
	shows(t, b.see(room(c)+"/money"), "Go on with the quotation")
	b.refused(http.StatusUnprocessableEntity, at, leftOff("1", "work"))
	shows(t, b.see(at), `name="version" value="2"`) // what is wrong is kept too
	page = b.accepted(at, leftOff("2", "afresh"))
	hides(t, page, "quill")
	shows(t, b.see(room(c)+"/money"), "Write the quotation")
}

func TestTwoPagesOfOneQuotationDoNotWriteOverEachOther(t *testing.T) {
	b := pricedBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	at := room(c) + "/quotation"
	b.accepted(at, leftOff("0", "keep"))
	for _, do := range []string{"keep", "work", "send"} {
		page := b.refused(http.StatusConflict, at, leftOff("0", do, "hours", "7", "says", "Typed over there", "what-0", "felt", "unit-1", "m"))
		shows(t, page, "This was changed on another page meanwhile.")
		shows(t, page, "Typed over there</textarea>")
		shows(t, page, `value="felt"`)
		theirs := group(t, page, "theirs")
		shows(t, theirs, `<th scope="row">Hours at the bench</th><td>some</td>`)
		shows(t, theirs, `<th scope="row">Material 1, material</th><td>sinamay</td>`)
		shows(t, theirs, `<th scope="row">Material 2, unit</th><td>nothing</td>`)
		hides(t, theirs, "Valid until") // the same on both
		shows(t, page, `name="version" value="1"`)
	}
	shows(t, b.see(at), `value="some"`)
	shows(t, b.accepted(at, leftOff("1", "work", "hours", "7", "says", "Typed over there")), "Typed over there")

	b.accepted(at, leftOff("2", "send", "hours", "7"))
	all, err := b.store.Quotations(t.Context(), c.ID)
	require.NoError(t, err)
	require.Len(t, all, 1)
	page := b.refused(http.StatusConflict, at, leftOff("2", "send", "hours", "7", "says", "Pressed twice"))
	shows(t, page, "Another quotation was sent meanwhile.")
	shows(t, page, "Pressed twice</textarea>")
}

func TestARushFeeIsOfferedWhereTheWeeksAreFull(t *testing.T) {
	b := pricedBench(t)
	calm := b.enquiry(orders.DoorWeb, map[string]string{"day": "2026-12-12"})
	near := b.enquiry(orders.DoorWeb, map[string]string{"day": "2026-06-06"})
	hides(t, b.see(room(near)+"/quotation"), "rush fee") // nobody has said how long things take
	b.accepted("/workroom/studio/pace", goodPace())
	hides(t, b.see(room(calm)+"/quotation"), "rush fee")
	shows(t, b.see(room(near)+"/quotation"), "The day is nearer than your lead times allow. Your rush fee is EUR 60.00.")
	b.accepted("/workroom/studio/pace", goodPace("version", "1", "week", "0:30"))
	at := room(calm) + "/quotation"
	page := b.see(at)
	shows(t, page, "The weeks before that day are full. Your rush fee is EUR 60.00.")
	shows(t, page, "Put the rush fee in")

	page = b.accepted(at, leftOff("0", "rush", "hours", "2", "tax", "20"))
	shows(t, page, `name="rush" value="60.00"`)
	hides(t, page, "Put the rush fee in")
	sums := group(t, page, "sums")
	shows(t, sums, `<th scope="row">The hat</th><td>EUR 24.50</td>`) // the fee is no part of it
	shows(t, sums, `<th scope="row">For an early day</th><td>EUR 60.00</td>`)
	shows(t, sums, `<th scope="row">VAT, 20 %</th><td>EUR 16.90</td>`)
	shows(t, sums, `<th scope="row">Total</th><td>EUR 101.40</td>`)
	b.accepted(at, leftOff("1", "send", "hours", "2", "tax", "20", "rush", "60"))
	shows(t, b.see(orders.CommissionPath+b.store.CommissionLink(calm)), `<th scope="row">For an early day</th><td>EUR 60.00</td>`)
	b.accepted(at, leftOff("0", "keep", "newest", "1", "rush", "75"))
	b.refused(http.StatusUnprocessableEntity, at, leftOff("1", "rush", "newest", "1", "rush", "75"))
	shows(t, b.see(at), `name="rush" value="75"`) // hers stands
}

func TestNobodyIsAskedToAgreeBeforeTheWordingIsChecked(t *testing.T) {
	b := signedInBench(t)
	c := b.enquiry(orders.DoorWeb, nil)
	b.signed(c)
	page := b.refused(http.StatusUnprocessableEntity, room(c)+"/quotation", say("newest", "0", "do", "send", "says", "A hat", "what-0", "sinamay", "each-0", "20", "valid", "31 July 2026"))
	shows(t, page, "prices and terms")
	assert.Contains(t, page, `id="unready"`)
}

func TestAClientAgreesToWhatItCosts(t *testing.T) {
	b := pricedBench(t)
	c := b.enquiry(orders.DoorWeb, map[string]string{"name": "Odile Marrowby"})
	b.signed(c)
	b.quote(c)
	link := orders.CommissionPath + b.store.CommissionLink(c)
	page := b.see(link)
	for _, words := range []string{"A small hat in Moss", "Tern Lane 3, Saltmere", "EUR 293.14", "VAT, 20 %", "Goods made to your measure", "Order with obligation to pay"} {
		shows(t, page, words)
	}
	hides(t, page, "Margin")
	hides(t, page, "Yes, I like it") // agreeing says so
	total := regexp.MustCompile(`name="total" value="(\d+)"`).FindStringSubmatch(page)[1]
	page = b.refused(http.StatusUnprocessableEntity, link+"/agree", say("number", "1", "total", total))
	assert.Contains(t, page, `id="f-name-problem"`)
	page = b.refused(http.StatusUnprocessableEntity, link+"/agree", say("number", "1", "total", "5", "name", "Odile Marrowby"))
	shows(t, page, "has changed this meanwhile")
	page = b.accepted(link+"/agree", say("number", "1", "total", total, "name", "Odile Marrowby"))
	shows(t, page, "You agreed to this as Odile Marrowby")
	hides(t, page, "obligation")
	shows(t, b.see(room(c)), "Deposit still to come")
	shows(t, b.see(room(c)+"/money"), "Agreed to by Odile Marrowby")
}

func TestPaymentsAreWrittenDownOnce(t *testing.T) {
	b := pricedBench(t)
	c := b.enquiry(orders.DoorWeb, map[string]string{"name": "Zoë Żmijewska"})
	b.signed(c)
	b.quote(c)
	q, err := b.store.Accept(t.Context(), c.ID, 1, "Zoë", 29314)
	require.NoError(t, err)
	page := b.see(room(c) + "/money")
	shows(t, page, `value="146.57"`) // the deposit is proposed
	id := regexp.MustCompile(`name="id" value="(\w+)"`).FindStringSubmatch(page)[1]
	form := say("id", id, "amount", "146,57", "way", "cash", "day", "28 April 2026", "payer", "Zoë Żmijewska")
	b.accepted(room(c)+"/payments", form)
	page = b.accepted(room(c)+"/payments", form)
	assert.Equal(t, 1, strings.Count(page, ">Receipt 1<"), "pressed twice, kept once")
	hides(t, page, "Receipt 2")
	shows(t, page, q.Currency.Say(14657))
	bad := b.refused(http.StatusUnprocessableEntity, room(c)+"/payments", say("id", orders.NewPaymentID(), "amount", "ten", "way", "barter", "day", "31 February 2026", "payer", ""))
	assert.Contains(t, bad, `id="f-amount-problem"`)
	assert.Contains(t, bad, `id="f-day-problem"`)

	link := orders.CommissionPath + b.store.CommissionLink(c)
	shows(t, b.see(link), "/receipts/1/receipt.pdf")
	hers := b.get(link + "/receipts/1/receipt.pdf")
	assert.Equal(t, "application/pdf", hers.kind)
	assert.Equal(t, hers.body, b.get(room(c)+"/receipts/1/receipt.pdf").body, "the same bytes at either door")
	other := b.enquiry(orders.DoorWeb, map[string]string{"name": "Pim Fennick"})
	assert.Equal(t, http.StatusNotFound, b.get(orders.CommissionPath+b.store.CommissionLink(other)+"/receipts/1/receipt.pdf").status, "a receipt is nobody else's")
	shows(t, textOf(t, []byte(hers.body)), "EUR 146.57")
	shows(t, textOf(t, []byte(hers.body)), "Zoë Żmijewska")
}

// textOf reads a PDF back with pdftotext, of Debian's poppler-utils.
func textOf(t *testing.T, pdf []byte) string {
	t.Helper()
	if _, err := exec.LookPath("pdftotext"); err != nil {
		if os.Getenv("PERCHBOOK_NEED_ALL") == "1" {
			t.Fatal("pdftotext is not installed (Debian: poppler-utils), and PERCHBOOK_NEED_ALL asks for it")
		}
		t.Skip("pdftotext is not installed (Debian: poppler-utils)")
	}
	file := filepath.Join(t.TempDir(), "receipt.pdf")
	require.NoError(t, os.WriteFile(file, pdf, 0o600))
	var out bytes.Buffer
	cmd := exec.Command("pdftotext", file, "-")
	cmd.Stdout = &out
	require.NoError(t, cmd.Run())
	return out.String()
}
