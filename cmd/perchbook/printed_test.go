package main

import (
	"bytes"
	"os/exec"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestOnePageOfTheFitSheetGoesToTheBench prints the signed hats of the demonstration as the milliner
// would and reads the paper back: all that the bench needs is on the first page, all else after it.
func TestOnePageOfTheFitSheetGoesToTheBench(t *testing.T) {
	reader, err := exec.LookPath("pdftotext")
	if err != nil {
		without(t, "pdftotext")
	}
	b := openBrowser(t, startPortal(t, options{demo: true}))
	b.signIn()
	signSecond(b, "Tansy Oakapple")
	printed := 0
	for _, commission := range b.links("/workroom", "/workroom/commissions/") {
		for _, sheet := range b.links(commission, "/sheets/") {
			b.visit(sheet)
			for name, paper := range map[string]chromedp.PDFOption{"A4": chromedp.PDFPaper(chromedp.PaperA4), "Letter": chromedp.PDFPaper(chromedp.PaperLetter)} {
				pdf, err := chromedp.Run(b.ctx, chromedp.PrintToPDF(paper))
				require.NoError(t, err)
				read := exec.Command(reader, "-raw", "-", "-")
				read.Stdin = bytes.NewReader(pdf)
				text, err := read.Output()
				require.NoError(t, err)
				pages := strings.Split(string(text), "\f")
				require.Greater(t, len(pages), 2, "%s on %s: pages", sheet, name)
				first := strings.Join(strings.Fields(pages[0]), " ")
				for _, words := range []string{"Cut and tick off", "Brim strip", "Elastic", "Lay of the cloth", "the lay takes", "Match the swatch.", "Check the finish.", "never drive or cycle"} {
					assert.Contains(t, first, words, "%s on %s", sheet, name)
				}
				assert.NotContains(t, first, "Every figure of the hat", "%s on %s", sheet, name)
				assert.LessOrEqual(t, len(pages)-1, 3, "%s on %s takes more paper than it needs", sheet, name)
				printed++
			}
		}
	}
	require.GreaterOrEqual(t, printed, 2, "no sheet was printed")
}

// signSecond changes a hat that is signed already and signs it anew: the sheet that says most.
func signSecond(b *browser, client string) {
	b.t.Helper()
	b.visit("/workroom/commissions")
	b.follow(client)
	b.visit(b.path() + "/settle")
	b.write("[name='hat.brim_width_mm']", "7.5 cm")
	b.press("#figures .at-top button")
	b.write("[name=why]", "The brim was a little too wide for the doors of the carriage in which she goes.")
	b.press("button[value=sign]")
	require.Contains(b.t, b.path(), "/sheets/2")
}

// What is hung on the wall or laid into the box takes no more paper than it needs.
func TestPaperIsNotWasted(t *testing.T) {
	counter, err := exec.LookPath("pdfinfo")
	if err != nil {
		without(t, "pdfinfo")
	}
	b := openBrowser(t, startPortal(t, options{demo: true}))
	b.signIn()
	var card string
	for _, commission := range b.links("/workroom/commissions", "/workroom/commissions/") {
		if cards := b.links(commission, "/care"); len(cards) > 0 {
			card = cards[0]
			break
		}
	}
	require.NotEmpty(t, card, "no hat has a card")
	for path, most := range map[string]string{"/workroom/weeks": "2", "/workroom/diary": "1", card: "1"} {
		b.visit(path)
		for name, paper := range map[string]chromedp.PDFOption{"A4": chromedp.PDFPaper(chromedp.PaperA4), "Letter": chromedp.PDFPaper(chromedp.PaperLetter)} {
			pdf, err := chromedp.Run(b.ctx, chromedp.PrintToPDF(paper))
			require.NoError(t, err)
			read := exec.Command(counter, "-")
			read.Stdin = bytes.NewReader(pdf)
			text, err := read.Output()
			require.NoError(t, err)
			assert.Regexp(t, `Pages:\s+`+most+`\n`, string(text), "%s on %s", path, name)
		}
	}
}

// links are the addresses on a page that hold a part, each once.
func (b *browser) links(page, part string) []string {
	b.t.Helper()
	b.visit(page)
	var all []string
	seen := map[string]bool{}
	for _, path := range eval[[]string](b, `[...document.querySelectorAll('main a[href]')].map(a=>new URL(a.href).pathname)`) {
		if strings.Contains(path, part) && !strings.HasSuffix(path, ".pdf") && !seen[path] {
			all, seen[path] = append(all, path), true
		}
	}
	return all
}
