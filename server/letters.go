package server

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/gin-gonic/gin"

	"perchbook/orders"
)

// letterBook is the thread with one client, oldest first, and a sheet to write on.
type letterBook struct {
	Letters []letterView
	Intake  []letterView // what was asked and answered in the chat
	Body    field
	Button  string
}

const linkHint = "Where you write {link}, the client’s own page is put in."

// byChat says whether a letter passed through a chat, by which the client can then be reached.
func byChat(l orders.Letter) bool { return l.ChatID != "" }

type letterView struct {
	ID, From, When, State string
	Said                  []saying
	Text                  string
	Out                   bool
	Action                string // where "I have sent it" goes; "" unless the letter is to be copied
}

func (s *Server) letterBook(ctx context.Context, f file, t typed) (letterBook, error) {
	book := letterBook{Button: "Put it into the letter book", Body: field{
		Key: "body", Label: "Write to " + f.Client.Name, Value: t.Body,
		Hint: "It waits here for you to copy, since the client has no chat. " + linkHint,
	}}
	if slices.ContainsFunc(f.Letters, byChat) {
		book.Button = "Send it by chat"
		book.Body.Hint = "It goes out by the client’s chat. " + linkHint
	}
	if t.Letter != nil {
		book.Body.Problem = t.Letter.Text
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
	return book, nil
}

func (s *Server) letterView(ctx context.Context, f file, l orders.Letter) (letterView, error) {
	text, err := s.Store.FillLinks(ctx, l)
	if err != nil {
		return letterView{}, err
	}
	v := letterView{ID: "letter-" + l.ID, From: f.Client.Name, When: f.when(l.At), State: stateWords(f.desk, l), Text: text, Said: s.linked(text), Out: l.Out}
	if l.Out {
		v.From = "The workroom"
	}
	if l.State == orders.ToCopy || l.State == orders.Failed {
		v.Action = "/workroom/commissions/" + f.ID + "/letters/" + l.ID + "/copied"
	}
	return v, nil
}

// stateWords says where a letter stands.
func stateWords(d desk, l orders.Letter) string {
	switch l.State {
	case orders.Waiting:
		return "goes out by chat as soon as it can"
	case orders.Sent:
		return "sent by chat, " + d.when(l.Sent)
	case orders.ToCopy:
		return "to copy: send it your own way"
	case orders.Copied:
		return "sent by you, " + d.when(l.Sent)
	case orders.Failed:
		return strings.TrimSuffix("could not be delivered by chat: "+l.Reason, ": ") + "; send it your own way"
	case orders.Received:
		return "came in"
	}
	return l.State
}

func (s *Server) writeLetter(c *gin.Context) error {
	ctx, id := c.Request.Context(), c.Param("id")
	t := typed{Body: tidy(c.PostForm("body"))}
	l, err := s.Store.Write(ctx, id, t.Body)
	if err == nil {
		if l.State == orders.ToCopy {
			s.note(c, "Written down. The client has no chat: copy the letter below and send it your own way.")
		} else {
			s.note(c, "Written down; it goes out by chat.")
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
				return "The client does not know yet: there is no chat, so copy the letter and send it your own way.", nil
			}
			return "A letter tells the client by chat.", nil
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
