package server

import (
	"context"
	"errors"
	"net/http"
	"strings"
	"unicode/utf8"

	"github.com/alexedwards/argon2id"
	"github.com/gin-gonic/gin"

	"perchbook/orders"
)

// SetUp is the purpose of the one-time code with which the milliner sets her password.
const SetUp = "set up"

// hashing cost: 19 MiB, two passes, one lane.
var hashCost = &argon2id.Params{Memory: 19 * 1024, Iterations: 2, Parallelism: 1, SaltLength: 16, KeyLength: 32}

const leastPassword = 10 // letters

func (s *Server) entranceRoutes(g gin.IRouter) {
	g.GET("/enter", s.page(s.showEntrance))
	g.POST("/enter", s.page(s.enter))
	g.GET("/enter/first/:code", s.page(s.showFirst))
	g.POST("/enter/first/:code", s.page(s.setFirst))
	g.POST("/workroom/leave", s.page(s.leave))
}

// entrance is the sign-in page and the page that sets the first password.
type entrance struct {
	Action, Button, Lead string
	Name, Password       field
	Problems             []mend
}

func signInForm(name string) entrance {
	return entrance{
		Action: "/enter", Button: "Sign in",
		Name:     field{Key: "name", Label: "Your name", Value: name},
		Password: field{Key: "password", Label: "Password"},
	}
}

func firstForm(code, name string) entrance {
	return entrance{
		Action: "/enter/first/" + code, Button: "Set my password",
		Lead:     "This link opens once. Choose the name and password with which you will enter the workroom.",
		Name:     field{Key: "name", Label: "Your name", Value: name},
		Password: field{Key: "password", Label: "Password", Hint: "At least 10 letters; a short sentence is good."},
	}
}

func (s *Server) showEntrance(c *gin.Context) error {
	if s.maker(c) != "" {
		return onward(c, "/workroom")
	}
	s.render(c, http.StatusOK, "entrance", s.frame(c, "Sign in"), signInForm(""))
	return nil
}

func (s *Server) enter(c *gin.Context) error {
	name, password := strings.TrimSpace(c.PostForm("name")), c.PostForm("password")
	if err := errors.Join(s.signIns.allow("from "+c.ClientIP()), s.signIns.allow("as "+strings.ToLower(name))); err != nil {
		return errTooMany
	}
	ok, err := s.knows(c.Request.Context(), name, password)
	if err != nil {
		return err
	}
	if !ok {
		f := signInForm(name)
		f.Password.Problem = "That name and password do not belong together. Check both and try again."
		return s.again(c, "Sign in", f)
	}
	return s.admit(c, name)
}

func (s *Server) again(c *gin.Context, title string, f entrance) error {
	f.Problems = mends(f.Name, f.Password)
	s.render(c, http.StatusUnprocessableEntity, "entrance", s.frame(c, "Problem: "+title), f)
	return nil
}

// knows takes as long for an unknown name as for a wrong password.
func (s *Server) knows(ctx context.Context, name, password string) (bool, error) {
	m, err := s.Store.MakerByName(ctx, name)
	known := err == nil
	if errors.Is(err, orders.ErrNotFound) {
		m.PasswordHash = s.spent
	} else if err != nil {
		return false, err
	}
	s.hashing <- struct{}{}
	defer func() { <-s.hashing }()
	match, err := argon2id.ComparePasswordAndHash(password, m.PasswordHash)
	return known && match, err
}

func (s *Server) hash(password string) (string, error) {
	s.hashing <- struct{}{}
	defer func() { <-s.hashing }()
	return argon2id.CreateHash(password, hashCost)
}

// admit signs a maker in under a new session token.
func (s *Server) admit(c *gin.Context, name string) error {
	if err := s.sessions.RenewToken(c.Request.Context()); err != nil {
		return err
	}
	s.sessions.Put(c.Request.Context(), "maker", name)
	if asked := s.sessions.PopString(c.Request.Context(), "asked"); asked != "" {
		return onward(c, asked)
	}
	return onward(c, "/workroom")
}

func (s *Server) leave(c *gin.Context) error {
	if err := s.sessions.Destroy(c.Request.Context()); err != nil {
		return err
	}
	return onward(c, "/enter")
}

func (s *Server) showFirst(c *gin.Context) error {
	if err := s.begins.allow("code " + c.ClientIP()); err != nil {
		return err
	}
	if err := s.Store.PeekCode(c.Request.Context(), SetUp, c.Param("code")); err != nil {
		return err
	}
	s.render(c, http.StatusOK, "entrance", s.frame(c, "Set your password"), firstForm(c.Param("code"), ""))
	return nil
}

func (s *Server) setFirst(c *gin.Context) error {
	if err := s.begins.allow("code " + c.ClientIP()); err != nil {
		return err
	}
	code, name, password := c.Param("code"), strings.TrimSpace(c.PostForm("name")), c.PostForm("password")
	f := firstForm(code, name)
	if n := utf8.RuneCountInString(name); n == 0 || n > 60 {
		f.Name.Problem = "Write a name of 1 to 60 letters."
	}
	if n := utf8.RuneCountInString(password); n < leastPassword || n > 200 {
		f.Password.Problem = "Choose a password of 10 to 200 letters."
	}
	if f.Name.Problem+f.Password.Problem != "" {
		return s.again(c, "Set your password", f)
	}
	return s.setPassword(c, code, name, password)
}

func (s *Server) setPassword(c *gin.Context, code, name, password string) error {
	ctx := c.Request.Context()
	hash, err := s.hash(password)
	if err != nil {
		return err
	}
	err = s.Store.Together(ctx, func(tx *orders.Store) error {
		if _, err := tx.UseCode(ctx, SetUp, code); err != nil {
			return err
		}
		_, err := tx.SaveMaker(ctx, orders.Maker{Name: name, PasswordHash: hash})
		return err
	})
	if err != nil {
		return err
	}
	s.note(c, "Your password is set. Begin with the studio's name, hours and blocks.")
	return s.admit(c, name)
}
