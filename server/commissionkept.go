package server

import (
	"encoding/json"
	"fmt"
	"net/http"

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
	return handOver(c, everything, com.Number, err)
}

// handOver sends a copy as a file to save.
func handOver(c *gin.Context, everything orders.Copy, name string, err error) error {
	if err != nil {
		return err
	}
	body, err := json.MarshalIndent(everything, "", "  ")
	if err != nil {
		return fmt.Errorf("write the copy %s: %w", name, err)
	}
	c.Header("Content-Disposition", `attachment; filename="kept-`+name+`.json"`)
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
	if !isNumber(typed, com) {
		return s.erasePage(c, http.StatusUnprocessableEntity, typed, "This is not the number of the commission, so nothing was erased. It is "+com.Number+".")
	}
	if err := s.Store.Erase(ctx, com.ID); err != nil {
		return err
	}
	s.note(c, com.Number+" is erased, with everything that was kept because of it.")
	return onward(c, "/workroom")
}
