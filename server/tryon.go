package server

import (
	"net/http"

	"github.com/gin-gonic/gin"

	"perchbook/orders"
)

// tryOnView tells a client who never comes how she tries her hat on at home: one end of its elastic is
// left long, and she holds it with a knot that draws open again.
type tryOnView struct {
	Base, Number string
	Views        []view
	Sits         []string
}

func (s *Server) showTryOn(c *gin.Context, d door) error {
	in, settled, err := s.settledHat(c, d.Commission.ID)
	if err != nil {
		return err
	}
	v := tryOnView{Base: d.Base, Number: d.Commission.Number, Views: sheetViews(in, drawHers(d.Language)), Sits: careOf(d.Language, in, settled).Sits}
	s.render(c, http.StatusOK, "tryon", s.frame(c, d.say("Trying your hat on at home")), v)
	return nil
}

// triedOn says whether the hat may be with her to be tried on.
func triedOn(st orders.Stage) bool { return st == orders.InFitting }
