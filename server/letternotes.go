package server

import (
	"cmp"
	"context"
	"fmt"

	"net/http"
	"net/url"
	"slices"
	"strings"

	"github.com/gin-gonic/gin"

	"perchbook/orders"
	"perchbook/templates"
)

// noteView puts a note of the milliner's own among the letters, marked as what it is.
func noteView(f file, n orders.Note) letterView {
	v := letterView{ID: "note-" + n.ID, From: n.By, When: f.when(n.At), State: "note for the workroom; never sent", Said: []saying{{Text: n.Body}}, Note: true, at: n.At}
	v.About = f.about(n.CommissionID)
	return v
}

// about names another commission of the client that a letter or note belongs to; "" for this one.
func (f file) about(commissionID string) string {
	i := slices.IndexFunc(f.Others, func(c orders.Commission) bool { return c.ID == commissionID })
	if i < 0 {
		return ""
	}
	return "about " + f.Others[i].Number
}

// inOrder sorts letters and notes by time; those of one moment stay as they are.
func inOrder(list []letterView) {
	slices.SortStableFunc(list, func(a, b letterView) int { return a.at.Compare(b.at) })
}

func (s *Server) writeNote(c *gin.Context) error {
	ctx, id := c.Request.Context(), c.Param("id")
	t := typed{Aside: tidy(c.PostForm("aside"))}
	n, err := s.Store.WriteNote(ctx, id, t.Aside, s.maker(c))
	if err == nil {
		s.note(c, "The note is kept. It never goes out.")
		return onward(c, "/workroom/commissions/"+id+"#note-"+n.ID)
	}
	p, ok := asProblem(err)
	if !ok {
		return err
	}
	t.Note = p
	return s.commissionAgain(c, id, t)
}

// setOwed marks the client's letters as needing an answer, or not.
func (s *Server) setOwed(c *gin.Context) error {
	ctx, id := c.Request.Context(), c.Param("id")
	com, err := s.Store.Commission(ctx, id)
	if err != nil {
		return err
	}
	set, said := s.Store.OweNothing, "Noted: no answer is needed."
	if c.PostForm("owed") == "yes" {
		set, said = s.Store.Owe, "Noted: the client is owed an answer. It stands under Today."
	}
	if err := set(ctx, com.ClientID); err != nil {
		return err
	}
	s.note(c, said)
	return onward(c, "/workroom/commissions/"+id+"#letters")
}

// ways are how a client may be written to.
var ways = []orders.Option{{Value: "", Label: "By chat where there is one, else by e-mail where that is set up"}, {Value: orders.ByMail, Label: "By e-mail, also where there is a chat"}, {Value: orders.ByHand, Label: "By hand: I send letters myself"}}

func (s *Server) savePrefers(c *gin.Context) error {
	ctx, id := c.Request.Context(), c.Param("id")
	com, err := s.Store.Commission(ctx, id)
	if err != nil {
		return err
	}
	if err := s.Store.Prefer(ctx, com.ClientID, c.PostForm("prefers")); err != nil {
		return err
	}
	s.note(c, "Kept. New letters go that way; those written before stay as they are.")
	return onward(c, "/workroom/commissions/"+id+"#letters")
}

// fromWording is the text of a letter begun from a wording; "" when there is no such kind.
func (s *Server) fromWording(ctx context.Context, commissionID, kind string) (string, error) {
	list, err := s.Store.Wordings(ctx)
	if err != nil {
		return "", err
	}
	for _, w := range list {
		if w.Kind == kind {
			return s.Store.Fill(ctx, commissionID, w.Body)
		}
	}
	return "", nil
}

// mostMailed is how long an address for the mail program may be; longer ones are cut off by some (common
// practice).
const mostMailed = 1800

// mailTo is what opens the milliner's own mail program with a letter to a client who is reached by e-mail.
func mailTo(f file, text string) string {
	if !isMail(f.Client.Reach) {
		return ""
	}
	escaped := func(s string) string { return strings.ReplaceAll(url.QueryEscape(s), "+", "%20") }
	address := "mailto:" + f.Client.Reach + "?subject=" + escaped(fmt.Sprintf("%s, %s", cmp.Or(f.studio.Name, "Your hat"), f.Number))
	if whole := address + "&body=" + escaped(strings.ReplaceAll(text, "\n", "\r\n")); len(whole) <= mostMailed {
		return whole
	}
	return address
}

// An enclosure is a kind of file that goes with letters: how one is read, and how it is handed out.
type enclosure struct {
	param string
	read  func(context.Context, string) ([]byte, orders.Letter, error)
	hand  func(*gin.Context, []byte) error
}

func (s *Server) letterPhotos() enclosure { return enclosure{"photo", s.Store.LetterPhoto, photograph} }
func (s *Server) letterPapers() enclosure { return enclosure{"paper", s.Store.LetterPaper, saved} }

// withLetter hands the milliner what went with a letter of this commission's client.
func (s *Server) withLetter(e enclosure) func(*gin.Context) error {
	return func(c *gin.Context) error {
		com, err := s.Store.Commission(c.Request.Context(), c.Param("id"))
		if err != nil {
			return err
		}
		return e.handIf(c, func(l orders.Letter) bool { return l.ClientID == com.ClientID })
	}
}

// withHerLetter hands a client what went with a letter about this hat.
func withHerLetter(e enclosure) func(*gin.Context, door) error {
	return func(c *gin.Context, d door) error {
		return e.handIf(c, func(l orders.Letter) bool { return l.CommissionID == d.Commission.ID })
	}
}

// handIf hands it out where its letter may be seen; any other is not found.
func (e enclosure) handIf(c *gin.Context, seen func(orders.Letter) bool) error {
	file, l, err := e.read(c.Request.Context(), c.Param(e.param))
	if err == nil && !seen(l) {
		err = orders.ErrNotFound
	}
	if err != nil {
		return err
	}
	return e.hand(c, file)
}

// saved hands a PDF file out to be saved and never to be opened here, since nobody has looked into it.
func saved(c *gin.Context, pdf []byte) error {
	c.Header("Content-Disposition", `attachment; filename="enclosed.pdf"`)
	c.Data(http.StatusOK, "application/pdf", pdf)
	return nil
}

// photosWith are links to the photographs of a letter.
func photosWith(in templates.Language, base string, l orders.Letter) []photoLink {
	var links []photoLink
	for i, id := range l.Photos {
		links = append(links, photoLink{Src: base + "/letters/photographs/" + id, Words: in.Say("Photograph %d of this letter", i+1)})
	}
	return links
}

// papersWith are links to the PDF files of a letter.
func papersWith(in templates.Language, base string, l orders.Letter) []photoLink {
	var links []photoLink
	for i, id := range l.Papers {
		links = append(links, photoLink{Src: base + "/letters/papers/" + id + "/enclosed.pdf", Words: in.Say("PDF file %d of this letter", i+1)})
	}
	return links
}
