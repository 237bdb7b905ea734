package server

import (
	"bytes"
	"fmt"
	"net/http"

	"github.com/gin-gonic/gin"

	"perchbook/fitting/draw"
)

// showPaperTape tells how a tape to print is used, and leads to it on both papers.
func (s *Server) showPaperTape(c *gin.Context) error {
	s.render(c, http.StatusOK, "papertape", s.frame(c, s.say(c, "A paper tape to print")), nil)
	return nil
}

// paperTape hands it out as a file for that paper.
func (s *Server) paperTape(paper draw.Paper) func(*gin.Context) error {
	return func(c *gin.Context) error {
		say := func(english string) string { return s.say(c, english) }
		words := draw.PaperTapeWords{
			Language: string(s.language(c)), Title: say("Paper tape"),
			Card: say("Lay a bank card here. It covers this rectangle exactly: 85.6 × 53.98 mm (card size ID-1 of ISO/IEC 7810)."),
			Steps: []string{
				say("Print at 100 % (actual size), without fitting to the page."),
				say("If the card and the rectangle differ by more than the thickness of a line, the tape is false: change the printer’s scale to 100 % and print again, or take string and a ruler."),
				say("Cut out the four strips along their edges."),
				say("Glue each strip onto the flap of the one before, its upper end on the broken line, so that the figures go on."),
				say("Centimetres are along one edge, inches along the other. Paper tears: lay it gently, and do not pull."),
			},
			Glue: say("glue the next strip here"),
		}
		var pdf bytes.Buffer
		if err := draw.PaperTape(&pdf, paper, words); err != nil {
			return fmt.Errorf("paper tape: %w", err)
		}
		c.Header("Content-Disposition", `attachment; filename="paper-tape-`+paperFile(paper)+`.pdf"`)
		c.Data(http.StatusOK, "application/pdf", pdf.Bytes())
		return nil
	}
}
