package server

import (
	"encoding/json"
	"fmt"
	"net/http"
	"strings"
	"time"

	"github.com/gin-gonic/gin"

	"perchbook/orders"
)

// copyCommission hands over everything that is kept about the commission's client, as one file.
func (s *Server) copyCommission(c *gin.Context) error {
	ctx := c.Request.Context()
	com, err := s.Store.Commission(ctx, c.Param("id"))
	if err != nil {
		return err
	}
	everything, err := s.Store.Copy(ctx, com.ID)
	if err != nil {
		return err
	}
	body, err := json.MarshalIndent(everything, "", "  ")
	if err != nil {
		return fmt.Errorf("write the copy for commission %s: %w", com.ID, err)
	}
	c.Header("Content-Disposition", `attachment; filename="kept-`+com.Number+`.json"`)
	c.Data(http.StatusOK, "application/json; charset=utf-8", body)
	return nil
}

// eraseView asks the milliner whether she means it.
type eraseView struct {
	commissionHead
	Problems []mend
	Typed    field
}

func (s *Server) showErase(c *gin.Context) error {
	return s.erasePage(c, http.StatusOK, "", "")
}

func (s *Server) erasePage(c *gin.Context, status int, typed, problem string) error {
	f, err := s.file(c.Request.Context(), c.Param("id"))
	if err != nil {
		return err
	}
	v := eraseView{commissionHead: headOf(f), Typed: field{
		Key: "number", Label: "The commission’s number", Hint: "Write " + f.Number + " to show that you mean this one.", Value: typed, Problem: problem,
	}}
	v.Problems = mends(v.Typed)
	name := "Erase commission " + f.Number
	if problem != "" {
		name = "Problem: " + name
	}
	s.render(c, status, "erase", s.frame(c, name), v)
	return nil
}

// eraseCommission erases for good when the number typed is the commission's.
func (s *Server) eraseCommission(c *gin.Context) error {
	ctx, typed := c.Request.Context(), tidy(c.PostForm("number"))
	com, err := s.Store.Commission(ctx, c.Param("id"))
	if err != nil {
		return err
	}
	if strings.NewReplacer("–", "-", "−", "-", " ", "").Replace(typed) != com.Number {
		return s.erasePage(c, http.StatusUnprocessableEntity, typed, "This is not the number of the commission, so nothing was erased. It is "+com.Number+".")
	}
	if err := s.Store.Erase(ctx, com.ID); err != nil {
		return err
	}
	s.note(c, com.Number+" is erased, with everything that was kept because of it.")
	return onward(c, "/workroom")
}

// showForget asks the client whether she means it, before she has sent anything in.
func (s *Server) showForget(c *gin.Context, d door) error {
	s.render(c, http.StatusOK, "forget", s.frame(c, "Erase your answers"), struct{ Base string }{d.Base})
	return nil
}

// forget erases a draft. One that was sent in meanwhile stays, and she sees where it stands.
func (s *Server) forget(c *gin.Context, d door) error {
	if d.sent() {
		return onward(c, d.Base)
	}
	if err := s.Store.EraseDraft(c.Request.Context(), d.Draft.ID); err != nil {
		return err
	}
	return onward(c, "/erased")
}

func (s *Server) showErased(c *gin.Context) error {
	const heading = "Your answers are erased"
	s.render(c, http.StatusOK, "trouble", s.frame(c, heading), trouble{Heading: heading,
		Text: "Nothing of your enquiry is kept here any more, and its private address opens nothing. A backup that the studio made before may hold it until that is replaced."})
	return nil
}

// leftDays is how long an enquiry that is not sent in is kept.
const leftDays = int(orders.LeftAfter / (24 * time.Hour))
