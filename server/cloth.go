package server

import (
	"errors"
	"net/http"
	"strconv"

	"github.com/gin-gonic/gin"

	"perchbook/orders"
)

// clothView is what hats are made of here, with the length that is left of each.
type clothView struct {
	Problems []mend
	Away     bool // those put away
	Rolls    []rollCard
	Begin    string // address of the first page; "" there
	More     string // of the next
	Elastics []elasticRow
	Notions  []orders.Notion
	Notion   field
	Blocks   []amount
}

// A rollCard is one roll in the list.
type rollCard struct {
	Href, Name, Swatch string
	Left, Free         string
	Short              bool // less is left than is reserved
	Remarks            []string
}

// An elasticRow is one reel of the settings, and its length where that is kept.
type elasticRow struct {
	Reel int
	Name string
	Card *rollCard
	Form lengthForm // to begin keeping it
}

// A lengthForm writes one length down.
type lengthForm struct {
	Entry  string // so that one sent twice is kept once
	Length field
	Why    field
}

const (
	clothRoom   = "/workroom/cloth"
	rollsOnPage = 40
)

func (s *Server) clothRoutes(g gin.IRouter) {
	g.GET("", s.page(s.showCloth))
	g.GET("/put-away", s.page(s.showPutAway))
	g.GET("/shopping", s.page(s.showShopping))
	g.POST("/notions", s.page(s.saveNotions))
	g.POST("/elastic/:reel", s.page(s.addElastic))
	g.GET("/rolls", s.page(s.showNewRoll))
	g.POST("/rolls", s.page(s.addRoll))
	g.GET("/rolls/:number", s.page(s.showRoll))
	g.POST("/rolls/:number", s.page(s.saveRoll))
	g.POST("/rolls/:number/bought", s.page(s.buyRoll))
	g.POST("/rolls/:number/counted", s.page(s.countRoll))
	g.POST("/rolls/:number/away", s.page(s.putRollAway))
	g.POST("/rolls/:number/out", s.page(s.takeRollOut))
}

func rollPath(number int) string { return clothRoom + "/rolls/" + strconv.Itoa(number) }

func (s *Server) showCloth(c *gin.Context) error { return s.clothPage(c, http.StatusOK, clothTyped{}) }

// clothTyped is what was typed and could not be taken.
type clothTyped struct {
	Reel                  int
	Length, LengthTrouble string
	Notion, NotionTrouble string
}

func (s *Server) clothPage(c *gin.Context, status int, t clothTyped) error {
	ctx := c.Request.Context()
	from, _ := strconv.Atoi(c.Query("from")) // what is no number begins at the beginning
	v := clothView{Notion: field{Key: "notion", Label: "Another", Hint: "Wire, thread, lining, ribbon, combs.", Value: t.Notion, Problem: t.NotionTrouble}}
	if err := s.listRolls(c, &v, from); err != nil {
		return err
	}
	elastics, err := s.Store.Elastics(ctx)
	if err != nil {
		return err
	}
	st, err := s.Store.Studio(ctx)
	if err != nil {
		return err
	}
	v.elastics(st.Materials.Reels, elastics, t)
	for _, mm := range st.Blocks {
		v.Blocks = append(v.Blocks, tape(mm))
	}
	if v.Notions, err = s.Store.Notions(ctx); err != nil {
		return err
	}
	v.Problems = append(v.Problems, mends(v.Notion)...)
	name := "Cloth and notions"
	if len(v.Problems) > 0 {
		name = "Problem: " + name
	}
	s.render(c, status, "cloth", s.frame(c, name), v)
	return nil
}

func (s *Server) showPutAway(c *gin.Context) error {
	from, _ := strconv.Atoi(c.Query("from"))
	v := clothView{Away: true}
	if err := s.listRolls(c, &v, from); err != nil {
		return err
	}
	s.render(c, http.StatusOK, "put-away", s.frame(c, "Rolls put away"), v)
	return nil
}

func (s *Server) listRolls(c *gin.Context, v *clothView, from int) error {
	list, next, err := s.Store.Rolls(c.Request.Context(), v.Away, from, rollsOnPage)
	if err != nil {
		return err
	}
	for _, r := range list {
		v.Rolls = append(v.Rolls, cardOfRoll(r))
	}
	path := c.Request.URL.Path
	if from > 1 {
		v.Begin = path
	}
	if next > 0 {
		v.More = path + "?from=" + strconv.Itoa(next)
	}
	return nil
}

func cardOfRoll(r orders.Roll) rollCard {
	card := rollCard{Href: rollPath(r.Number), Name: r.Named(), Swatch: r.Made.Swatch, Left: metres(r.Left), Free: metres(max(0, r.Free)), Short: r.Free < 0}
	if r.Reel > 0 {
		card.Name = r.Made.Colour
		return card
	}
	if w := r.Made.Width; w > 0 {
		card.Remarks = append(card.Remarks, tape(w).Figure+" wide")
	}
	if d := r.Made.Density(); d > 0 {
		card.Remarks = append(card.Remarks, decimal(d, 0)+" g/m²")
	}
	if b := r.Made.BiasStretch(); b > 0 {
		card.Remarks = append(card.Remarks, decimal(100*b, 0)+" % on the bias")
	}
	return card
}

// elastics puts the reels of the settings beside the lengths that are kept.
func (v *clothView) elastics(reels []orders.Reel, kept []orders.Roll, t clothTyped) {
	for _, r := range reels {
		row := elasticRow{Reel: r.Number, Name: r.Name}
		for _, k := range kept {
			if k.Reel == r.Number {
				row.Card = new(cardOfRoll(k))
			}
		}
		row.Form.Length = field{Key: "length-" + strconv.Itoa(r.Number), Label: "Length on the reel", Hint: "Such as 25 m. It is kept from then on."}
		if t.Reel == r.Number {
			row.Form.Length.Value, row.Form.Length.Problem = t.Length, t.LengthTrouble
			v.Problems = append(v.Problems, mends(row.Form.Length)...)
		}
		v.Elastics = append(v.Elastics, row)
	}
}

func (s *Server) addElastic(c *gin.Context) error {
	reel, err := strconv.Atoi(c.Param("reel"))
	if err != nil {
		return orders.ErrNotFound
	}
	t := clothTyped{Reel: reel, Length: tidy(c.PostForm("length-" + strconv.Itoa(reel)))}
	var mm int
	if mm, t.LengthTrouble = readRollLength("Length on the reel", t.Length, 1, s.Now()); t.LengthTrouble != "" {
		return s.clothPage(c, http.StatusUnprocessableEntity, t)
	}
	_, err = s.Store.AddElastic(c.Request.Context(), reel, mm, s.maker(c))
	if p, ok := asProblem(err); ok {
		t.LengthTrouble = p.Text
		return s.clothPage(c, http.StatusUnprocessableEntity, t)
	}
	if err != nil && !errors.Is(err, orders.ErrConflict) { // its length is kept already
		return err
	}
	s.note(c, "Its length is kept: fit sheets reserve of it, and what is cut is taken off.")
	return onward(c, clothRoom)
}

// saveNotions marks what is to be bought, strikes off, and adds a line.
func (s *Server) saveNotions(c *gin.Context) error {
	ctx, name := c.Request.Context(), tidy(c.PostForm("notion"))
	list, err := s.Store.Notions(ctx)
	if err != nil {
		return err
	}
	marked, gone := map[string]bool{}, []string(nil)
	for _, n := range list {
		switch c.PostForm("n-" + n.ID) {
		case "enough":
			marked[n.ID] = false
		case "buy":
			marked[n.ID] = true
		case "off":
			gone = append(gone, n.ID)
		}
	}
	err = s.Store.Together(ctx, func(s *orders.Store) error {
		if err := s.MarkNotions(ctx, marked); err != nil {
			return err
		}
		for _, id := range gone {
			if err := s.StrikeNotion(ctx, id); err != nil {
				return err
			}
		}
		if name == "" {
			return nil
		}
		return s.AddNotion(ctx, name, c.PostForm("buy") == "yes")
	})
	if p, ok := asProblem(err); ok {
		return s.clothPage(c, http.StatusUnprocessableEntity, clothTyped{Notion: name, NotionTrouble: p.Text})
	}
	if err != nil {
		return err
	}
	s.note(c, "The notions are kept.")
	return onward(c, clothRoom+"#notions")
}
