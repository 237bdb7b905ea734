package server

import (
	"net/http"
	"strings"

	"github.com/gin-gonic/gin"

	"perchbook/fitting/draw"
	"perchbook/orders"
	"perchbook/templates"
)

// clientRoutes are the client's side: what anybody may see, the questions under the link of a
// draft, and her own page under the link of a commission. The questions stand under both, since
// she may add to her answers after she has sent them in.
func (s *Server) clientRoutes(g gin.IRouter) {
	g.GET("/", s.page(s.showWelcome))
	g.GET("/begin", s.page(s.showBegin))
	g.POST("/begin", s.page(s.begin))
	g.GET("/paper-tape", s.page(s.showPaperTape))
	g.GET("/paper-tape/a4.pdf", s.page(s.paperTape(draw.A4)))
	g.GET("/paper-tape/letter.pdf", s.page(s.paperTape(draw.Letter)))
	g.GET("/erased", s.page(s.showErased))
	g.POST("/language", s.page(s.speak))

	draft := g.Group(orders.DraftPath + ":link")
	draft.GET("", s.behind(s.openDraft, s.showResume))
	draft.POST("/send", s.behind(s.openDraft, s.sendIn))
	draft.GET("/send", s.behind(s.openDraft, func(c *gin.Context, d door) error { return onward(c, d.summary()) })) // a page loaded again
	s.questionRoutes(draft, s.openDraft)

	hat := g.Group(orders.CommissionPath + ":link")
	hat.GET("", s.behind(s.openHat, s.showHat))
	hat.POST("/letters", s.behind(s.openHat, s.receiveLetter))
	hat.GET("/letters/photographs/:photo", s.behind(s.openHat, withHerLetter(s.letterPhotos())))
	hat.GET("/letters/papers/:paper/enclosed.pdf", s.behind(s.openHat, withHerLetter(s.letterPapers())))
	hat.POST("/appointments/:id/confirm", s.behind(s.openHat, s.confirmAppointment))
	hat.POST("/appointments/:id/move", s.behind(s.openHat, s.askToMove))
	hat.GET("/appointments/:id/calendar.ics", s.behind(s.openHat, s.calendarFile))
	s.hoursRoutes(hat)
	hat.GET("/try-on", s.behind(s.openHat, s.showTryOn))
	hat.GET("/care", s.behind(s.openHat, s.showHerCareCard))
	hat.POST("/agree", s.behind(s.openHat, s.agree))
	hat.GET("/receipts/:receipt/receipt.pdf", s.behind(s.openHat, s.showHerReceipt))
	s.questionRoutes(hat, s.openHat)
}

func (s *Server) questionRoutes(g gin.IRouter, open opener) {
	s.herDataRoutes(g, open)
	g.POST("/language", s.behind(open, s.speakHere))
	g.GET("/notice", s.behind(open, s.showNotice))
	g.POST("/notice", s.behind(open, s.agreeAnew))
	g.GET("/ask/:page", s.behind(open, s.agreed(s.showAsk)))
	g.POST("/ask/:page", s.behind(open, s.saveAsk))
	g.GET("/check", s.behind(open, s.agreed(s.showCheck)))
	g.GET("/more", s.behind(open, s.agreed(s.showMore)))
	g.GET("/photographs/:photo", s.behind(open, s.clientPhoto))
	g.POST("/photographs/:photo/add", s.behind(open, s.addPhoto))
	g.GET("/photographs/:photo/add", s.behind(open, s.backToPhotos)) // a page loaded again
	g.POST("/photographs/:photo/remove", s.behind(open, s.removePhoto))
}

// A door is where a client is answering: a draft, and the commission once there is one.
type door struct {
	Base       string // the address under which all pages of this door stand
	Language   templates.Language
	Draft      orders.Draft
	Commission orders.Commission // zero until it was sent in
}

// opened notes the door that a request came through.
const opened = "door"

func (d door) sent() bool { return d.Commission.ID != "" }

// An opener finds what a private link opens.
type opener func(*gin.Context) (door, error)

// behind lets only the holder of a private link through. Once a draft was sent in, its link leads on
// to her own page; what a page left open still sends is kept first.
func (s *Server) behind(open opener, h func(*gin.Context, door) error) gin.HandlerFunc {
	return s.page(func(c *gin.Context) error {
		d, err := open(c)
		if err != nil {
			return err
		}
		d.Language = s.wished(c, d.Draft.Language)
		c.Set(speaks, d.Language)
		c.Set(opened, d)
		if c.Request.Method == http.MethodGet && !strings.HasPrefix(c.Request.URL.Path, d.Base) {
			return onward(c, d.Base)
		}
		return h(c, d)
	})
}

func (s *Server) openDraft(c *gin.Context) (door, error) {
	ctx := c.Request.Context()
	draft, err := s.Store.DraftByLink(ctx, c.Param("link"))
	if err != nil || draft.CommissionID == "" {
		return door{Base: orders.DraftPath + s.Store.DraftLink(draft), Draft: draft}, err
	}
	commission, err := s.Store.Commission(ctx, draft.CommissionID)
	return door{Base: orders.CommissionPath + s.Store.CommissionLink(commission), Draft: draft, Commission: commission}, err
}

func (s *Server) openHat(c *gin.Context) (door, error) {
	ctx := c.Request.Context()
	commission, err := s.Store.CommissionByLink(ctx, c.Param("link"))
	if err != nil {
		return door{}, err
	}
	draft, err := s.Store.Draft(ctx, commission.DraftID)
	return door{Base: orders.CommissionPath + s.Store.CommissionLink(commission), Draft: draft, Commission: commission}, err
}

// welcomeView is the first page.
type welcomeView struct{ Studio, Place, Chat string }

func (s *Server) showWelcome(c *gin.Context) error {
	f := s.frame(c, s.say(c, "A hat made for your head"))
	w := welcomeView{Chat: s.ChatLink}
	st, err := s.Store.Studio(c.Request.Context())
	if err != nil {
		return err
	}
	if st.Version > 0 { // described by the milliner herself
		w.Studio, w.Place = st.Name, st.Place
	}
	s.render(c, http.StatusOK, "welcome", f, w)
	return nil
}

// consentQuestion is the one that comes before everything else.
func consentQuestion() (orders.Question, bool) {
	for _, q := range orders.Questions {
		if q.Needed && q.Kind == orders.Consent {
			return q, true
		}
	}
	return orders.Question{}, false
}
