package server

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/gin-gonic/gin"

	"perchbook/orders"
	"perchbook/templates"
)

// letterBook is the thread with one client, oldest first, and a sheet to write on.
type letterBook struct {
	Letters  []letterView // the newest, the milliner's own notes among them
	Older    []letterView
	Intake   []letterView // what was asked and answered in the chat
	Owed     string       // since when an answer is needed; "" when none is
	Body     field
	Enclosed field
	Button   string
	Aside    field
	Wordings []stageChoice // to begin a letter from
	Ways     []stageChoice // how the client would be written to
}

const linkHint = "Where you write {link}, the client’s own page is put in."

type letterView struct {
	ID, From, When, State string
	Said                  []saying
	Text                  string
	Out                   bool
	Action                string // where "I have sent it" goes; "" unless the letter is to be sent by hand
	MailTo                string // opens her mail program with it; "" when the client is not reached so
	Note                  bool   // no letter, and never sent
	About                 string // another commission of the client's
	Photos, Papers        []photoLink
	at                    time.Time
}

func (s *Server) letterBook(ctx context.Context, f file, t typed) (letterBook, error) {
	book := letterBook{Button: "Put it into the letter book", Body: field{
		Key: "body", Label: "Write to " + f.Client.Name, Value: t.Body,
		Hint: "You send it by hand, since there is no other way to the client. " + linkHint,
	}}
	switch {
	case f.Client.Prefers == orders.ByHand:
		book.Body.Hint = "You send it by hand, as the client prefers. " + linkHint
	case f.Way == orders.ChannelMail:
		book.Button = "Send it by e-mail"
		book.Body.Hint = "It goes out to the client’s e-mail address. " + linkHint
	case f.Way != "":
		book.Button = "Send it by chat"
		book.Body.Hint = "It goes out by the client’s chat. " + linkHint
	}
	book.Enclosed = field{Key: "enclosed", Label: "Photographs or PDF files with it", Hint: "Up to four, a PDF of at most 8 MB. The client sees them on her own page."}
	book.Aside = field{Key: "aside", Label: "Note for the workroom", Hint: "For yourself; it never goes out.", Value: t.Aside}
	if t.Note != nil {
		book.Aside.Problem = t.Note.Text
	}
	if t.Letter != nil && t.Letter.Key == book.Enclosed.Key {
		book.Enclosed.Problem = t.Letter.Text
	} else if t.Letter != nil {
		book.Body.Problem = t.Letter.Text
	}
	if !f.Client.Owed.IsZero() {
		book.Owed = f.when(f.Client.Owed)
	}
	if err := s.fillChoices(ctx, &book, f); err != nil {
		return book, err
	}
	for _, l := range f.Letters {
		view, err := s.letterView(ctx, f, l)
		if err != nil {
			return book, err
		}
		if l.Kind == orders.LetterIntake {
			book.Intake = append(book.Intake, view)
		} else {
			book.Letters = append(book.Letters, view)
		}
	}
	for _, n := range f.Notes {
		book.Letters = append(book.Letters, noteView(f, n))
	}
	inOrder(book.Letters)
	older := max(0, len(book.Letters)-openLetters)
	if toSend := slices.IndexFunc(book.Letters, func(l letterView) bool { return l.Action != "" }); toSend >= 0 {
		older = min(older, toSend)
	}
	book.Older, book.Letters = book.Letters[:older], book.Letters[older:]
	return book, nil
}

// openLetters is how many of the newest stand open; those that wait to be sent by hand always do.
const openLetters = 4

// fillChoices lists the wordings to begin from and the ways to write.
func (s *Server) fillChoices(ctx context.Context, book *letterBook, f file) error {
	wordings, err := s.Store.Wordings(ctx)
	for _, w := range wordings {
		book.Wordings = append(book.Wordings, stageChoice{w.Kind, w.Name, false})
	}
	for _, w := range ways {
		book.Ways = append(book.Ways, stageChoice{w.Value, w.Label, w.Value == f.Client.Prefers})
	}
	return err
}

func (s *Server) letterView(ctx context.Context, f file, l orders.Letter) (letterView, error) {
	text, err := s.Store.FillLinks(ctx, l)
	if err != nil {
		return letterView{}, err
	}
	v := letterView{ID: "letter-" + l.ID, From: f.Client.Name, When: f.when(l.At), State: stateWords(f, l), Text: text, Said: s.linked(text), Out: l.Out, at: l.At,
		About: f.about(l.CommissionID), Photos: photosWith(templates.English, "/workroom/commissions/"+f.ID, l), Papers: papersWith(templates.English, "/workroom/commissions/"+f.ID, l)}
	if l.Out {
		v.From = "The workroom"
	}
	if l.State == orders.ToCopy || l.State == orders.Failed {
		v.Action = "/workroom/commissions/" + f.ID + "/letters/" + l.ID + "/copied"
		v.MailTo = mailTo(f, text)
	}
	return v, nil
}

// stateWords says where a letter stands.
func stateWords(f file, l orders.Letter) string {
	way := "by chat"
	if f.Channels[l.ChatID] == orders.ChannelMail {
		way = "by e-mail"
	}
	switch l.State {
	case orders.Waiting:
		return "goes out " + way + " as soon as it can"
	case orders.Sent:
		return "sent " + way + ", " + f.when(l.Sent)
	case orders.ToCopy:
		return "to send by hand"
	case orders.Copied:
		return "sent by you, " + f.when(l.Sent)
	case orders.Failed:
		return strings.TrimSuffix("could not be delivered "+way+": "+l.Reason, ": ") + "; to send by hand"
	case orders.Received:
		if l.ChatID != "" {
			return "came in by chat"
		}
		return "came in by the client’s page"
	}
	return l.State
}

func (s *Server) writeLetter(c *gin.Context) error {
	ctx, id := c.Request.Context(), c.Param("id")
	form := readLetter(c)
	t := typed{Body: form.body, Letter: form.problem}
	if t.Letter != nil {
		return s.commissionAgain(c, id, t)
	}
	l, err := s.Store.Write(ctx, id, t.Body, form.uploads...)
	if err == nil {
		if l.State == orders.ToCopy {
			s.note(c, "Written down. Send the letter below by hand.")
		} else {
			s.note(c, "Written down; it goes out by itself.")
		}
		return onward(c, "/workroom/commissions/"+id+"#letter-"+l.ID)
	}
	p, ok := asProblem(err)
	if !ok {
		return err
	}
	t.Letter = p
	return s.commissionAgain(c, id, t)
}

// told says whether the letter that has just been written to a client tells her by itself. Without a
// chat it does not, and the milliner must know.
func (s *Server) told(ctx context.Context, clientID string) (string, error) {
	letters, err := s.Store.Letters(ctx, clientID)
	if err != nil {
		return "", err
	}
	for _, l := range slices.Backward(letters) {
		if l.Out && l.Kind == orders.LetterTalk {
			if l.State == orders.ToCopy {
				return "The client does not know yet: send the letter by hand.", nil
			}
			return "A letter is on its way to the client.", nil
		}
	}
	return "The client has not been written to.", nil
}

// markCopied notes that the milliner has sent a letter herself. Only letters of this client count.
func (s *Server) markCopied(c *gin.Context) error {
	ctx, id := c.Request.Context(), c.Param("id")
	com, err := s.Store.Commission(ctx, id)
	if err != nil {
		return err
	}
	letters, err := s.Store.Letters(ctx, com.ClientID)
	if err != nil {
		return err
	}
	if !slices.ContainsFunc(letters, func(l orders.Letter) bool { return l.ID == c.Param("letter") }) {
		return fmt.Errorf("letter of commission %s: %w", id, orders.ErrNotFound)
	}
	if err := s.Store.MarkCopied(ctx, c.Param("letter")); err != nil {
		return err
	}
	s.note(c, "Noted as sent.")
	return onward(c, "/workroom/commissions/"+id+"#letter-"+c.Param("letter"))
}

// A saying is a piece of a letter; one that is an address of ours can be opened.
type saying struct{ Text, Href string }

// linked cuts a letter at the addresses of this site in it.
func (s *Server) linked(text string) []saying {
	var list []saying
	for {
		at := strings.Index(text, s.Store.Origin()+"/")
		if at < 0 {
			return append(list, saying{Text: text})
		}
		end := at + len(s.Store.Origin())
		for end < len(text) && (isLetterOrDigit(text[end]) || strings.IndexByte("/-_.", text[end]) >= 0) {
			end++
		}
		address := strings.TrimRight(text[at:end], ".")
		list = append(list, saying{Text: text[:at]}, saying{Text: address, Href: address})
		text = text[at+len(address):]
	}
}

func isLetterOrDigit(b byte) bool {
	return b >= '0' && b <= '9' || b >= 'a' && b <= 'z' || b >= 'A' && b <= 'Z'
}

// isMail says whether a client is reached by e-mail rather than by telephone.
func isMail(reach string) bool {
	return strings.Contains(reach, "@") && !strings.ContainsAny(reach, " ?&")
}
