package server

import (
	"net/http"
	"strconv"

	"github.com/gin-gonic/gin"

	"perchbook/orders"
)

// A searchView is what is looked for and what was found. Names and words of clients must not stand in
// an address, so the page is answered to a post.
type searchView struct {
	Sought   field
	Problems []mend
	Asked    bool
	Nothing  bool
	Clients  []foundClient
	Texts    []foundText
	Next     int // to go on from; 0 at the end
	Later    bool
}

type foundClient struct {
	Name string
	Rows []commissionRow
}

type foundText struct {
	Href, Number, Client, Kind, When string
	Excerpt                          []orders.Excerpt
}

func (s *Server) showSearch(c *gin.Context) error {
	s.render(c, http.StatusOK, "search", s.frame(c, "Search"), searchView{Sought: soughtField("")})
	return nil
}

func soughtField(typed string) field {
	return field{Key: "sought", Label: "What are you looking for?", Value: typed,
		Hint: "A client’s name, also not quite right or only its beginning; a number such as 26-014; words of a letter or a note."}
}

func (s *Server) search(c *gin.Context) error {
	ctx := c.Request.Context()
	typed := tidy(c.PostForm("sought"))
	before, _ := strconv.Atoi(c.PostForm("before"))
	found, err := s.Store.Search(ctx, typed, max(0, before))
	if err != nil {
		return err
	}
	d, err := s.desk(ctx)
	if err != nil {
		return err
	}
	view := searchView{Sought: soughtField(typed), Asked: typed != "", Next: found.Next, Later: before > 0}
	if typed == "" {
		view.Sought.Problem = "Type a name, a number or a word."
		view.Problems = mends(view.Sought)
	}
	for _, f := range found.Clients {
		client := foundClient{Name: f.Name}
		for _, com := range f.Commissions {
			client.Rows = append(client.Rows, d.row(com))
		}
		view.Clients = append(view.Clients, client)
	}
	for _, f := range found.Texts {
		view.Texts = append(view.Texts, d.foundText(f))
	}
	view.Nothing = view.Asked && len(view.Clients)+len(view.Texts) == 0
	if !view.Asked {
		s.render(c, http.StatusUnprocessableEntity, "search", s.frame(c, "Problem: Search"), view)
		return nil
	}
	s.render(c, http.StatusOK, "search", s.frame(c, "Search"), view)
	return nil
}

func (d desk) foundText(f orders.FoundText) foundText {
	t := foundText{
		Href: "/workroom/commissions/" + f.Commission.ID, Number: f.Commission.Number, Client: f.Commission.ClientName,
		Kind: map[string]string{orders.FoundCommission: "Commission", orders.FoundLetter: "Letter", orders.FoundNote: "Note"}[f.Kind], Excerpt: f.Excerpt,
	}
	if f.Kind == orders.FoundLetter {
		t.Href += "#letters"
	}
	if !f.At.IsZero() {
		t.When = d.when(f.At)
	}
	return t
}
