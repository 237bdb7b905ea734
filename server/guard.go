package server

import (
	"fmt"
	"net/http"
	"runtime/debug"
	"strings"
	"time"

	"github.com/alexedwards/scs/v2"
	"github.com/gin-gonic/gin"
)

const maxBody = 16 << 20 // a photograph of 12 MB and its form

func newSessions(c Config) *scs.SessionManager {
	m := scs.New()
	m.Store = c.Store.Sessions()
	m.HashTokenInStore = true
	m.Lifetime = 14 * 24 * time.Hour
	m.IdleTimeout = 3 * 24 * time.Hour
	m.Cookie.Name = "perchbook"
	m.Cookie.HttpOnly = true
	m.Cookie.SameSite = http.SameSiteLaxMode
	if c.secure() {
		m.Cookie.Name, m.Cookie.Secure = "__Host-perchbook", true
	}
	m.ErrorFunc = func(w http.ResponseWriter, _ *http.Request, err error) {
		c.Log.Error("session not kept", "err", err)
		http.Error(w, "Something went wrong. Nothing you sent before is lost; please try again.", http.StatusInternalServerError)
	}
	return m
}

// signedIn lets only the milliner past; others are sent to sign in, and then back to the fit sheet
// whose printed code they followed.
func (s *Server) signedIn(c *gin.Context) {
	if s.maker(c) != "" {
		c.Header("Cache-Control", "no-store")
		return
	}
	if c.FullPath() == sheetRoute && c.Request.Method == http.MethodGet {
		s.sessions.Put(c.Request.Context(), "asked", c.Request.URL.Path)
	}
	c.Redirect(http.StatusSeeOther, "/enter")
	c.Abort()
}

// maker is the name of who is signed in, "" for nobody.
func (s *Server) maker(c *gin.Context) string {
	return s.sessions.GetString(c.Request.Context(), "maker")
}

// policy says from where a page may take what it shows.
func policy(pictures string) string {
	return "default-src 'none'; style-src 'self'; script-src 'self'; img-src " + pictures + "; " +
		"connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
}

// headers forbids whatever a page of ours never needs. No page has inline script or style.
func (s *Server) headers(c *gin.Context) {
	h := c.Writer.Header()
	h.Set("Content-Security-Policy", policy("'self' data:"))
	h.Set("Referrer-Policy", "no-referrer") // private links stand in addresses
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("X-Frame-Options", "DENY")
	h.Set("Cross-Origin-Opener-Policy", "same-origin")
	h.Set("Permissions-Policy", "camera=(), microphone=(), geolocation=()")
	if !strings.HasPrefix(c.Request.URL.Path, "/assets/") {
		h.Set("Cache-Control", "no-store")
	}
	if s.secure() {
		h.Set("Strict-Transport-Security", "max-age=31536000")
	}
}

func bodyLimit(c *gin.Context) {
	limit := int64(maxBody)
	if streamed[c.FullPath()] {
		limit = mostLetterForm
	}
	c.Request.Body = http.MaxBytesReader(c.Writer, c.Request.Body, limit)
}

// dropUploads removes the temporary files of a form. gin forgets them when the request was copied
// on its way, as the sessions do.
func dropUploads(c *gin.Context) {
	defer func() {
		if f := c.Request.MultipartForm; f != nil {
			_ = f.RemoveAll()
		}
	}()
	c.Next()
}

func (s *Server) recovered(c *gin.Context) {
	defer func() {
		if r := recover(); r != nil {
			s.fail(c, fmt.Errorf("panic: %v\n%s", r, debug.Stack()))
		}
	}()
	c.Next()
}

// logged writes one line a request: the route and never the address, which may hold a private link.
func (s *Server) logged(c *gin.Context) {
	begun := time.Now()
	c.Next()
	s.Log.Info("request", "method", c.Request.Method, "route", c.FullPath(),
		"status", c.Writer.Status(), "ms", time.Since(begun).Milliseconds())
}
