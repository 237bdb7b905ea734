// Package server is the portal on the web: the client's door and the workroom.
package server

import (
	"fmt"
	"log/slog"
	"net/http"
	"net/url"
	"time"

	"github.com/alexedwards/scs/v2"
	"github.com/gin-gonic/gin"

	"perchbook/orders"
	"perchbook/templates"
)

// Config is what a Server is made from.
type Config struct {
	Store     *orders.Store
	Log       *slog.Logger
	PublicURL string           // origin used in every link; "" when only this machine can open the pages
	Proxies   []string         // addresses whose forwarding headers are believed; none by default
	Demo      bool             // say on every page that the studio is invented
	ChatLink  string           // where the studio's chat is begun, "" without one
	ChatCalls http.Handler     // answers the messenger's calls at ChatPath; nil: it does not call
	Now       func() time.Time // nil: time.Now
}

// ChatPath is where the messenger calls.
const ChatPath = "/chat/calls"

// A Server answers the portal's requests. Make one with New.
type Server struct {
	Config
	pages    *templates.Pages
	assets   map[string]asset // by address
	sessions *scs.SessionManager
	signIns  *limiter // by address and by name
	begins   *limiter // new drafts and codes, by address
	hashing  chan struct{}
	shown    map[string]bool // routes that a browser can load again
	spent    string          // a hash to compare with when there is no such maker, so that both take as long
}

// New loads the pages and makes a server. It touches neither network nor store.
func New(c Config) (*Server, error) {
	pages, err := templates.Load()
	if err != nil {
		return nil, err
	}
	if c.Now == nil {
		c.Now = time.Now
	}
	s := &Server{
		Config: c, pages: pages, assets: assetsOf(pages), sessions: newSessions(c),
		signIns: newLimiter(time.Minute/6, 8), begins: newLimiter(time.Minute/10, 20),
		hashing: make(chan struct{}, 2), shown: map[string]bool{},
	}
	s.spent, err = s.hash("no such password")
	return s, err
}

// Handler is the whole site. Cross-origin protection and sessions stand outside gin: gin writes
// headers in a way that would lose the session cookie.
func (s *Server) Handler() (http.Handler, error) {
	gin.SetMode(gin.ReleaseMode)
	g := gin.New()
	g.HandleMethodNotAllowed = true
	if err := g.SetTrustedProxies(s.Proxies); err != nil {
		return nil, fmt.Errorf("trusted proxies: %w", err)
	}
	g.Use(s.logged, dropUploads, s.recovered, s.headers, bodyLimit)
	g.NoRoute(s.page(func(*gin.Context) error { return orders.ErrNotFound }))
	g.NoMethod(s.page(func(*gin.Context) error { return orders.ErrNotFound }))
	g.GET("/healthz", s.health)
	g.GET("/assets/:name", s.asset)
	g.GET(orders.FeedPath+":link/diary.ics", s.serveFeed)
	if s.ChatCalls != nil {
		g.POST(ChatPath, gin.WrapH(s.ChatCalls))
	}
	s.clientRoutes(g)
	s.entranceRoutes(g)
	s.workroomRoutes(g.Group("/workroom", s.signedIn))
	for _, r := range g.Routes() {
		s.shown[r.Path] = s.shown[r.Path] || r.Method == http.MethodGet
	}
	return s.originGuard(s.sessions.LoadAndSave(g))
}

func (s *Server) originGuard(next http.Handler) (http.Handler, error) {
	cop := http.NewCrossOriginProtection()
	if s.PublicURL != "" {
		if err := cop.AddTrustedOrigin(s.PublicURL); err != nil {
			return nil, fmt.Errorf("public address %s: %w", s.PublicURL, err)
		}
	}
	return cop.Handler(next), nil
}

// page turns a handler that may fail into one that gin can call. fail is the only place that
// decides what a failure looks like.
func (s *Server) page(h func(*gin.Context) error) gin.HandlerFunc {
	return func(c *gin.Context) {
		if err := h(c); err != nil {
			s.fail(c, err)
		}
	}
}

func (s *Server) health(c *gin.Context) {
	if err := s.Store.Ping(c.Request.Context()); err != nil {
		s.Log.Error("health check failed", "err", err)
		c.String(http.StatusServiceUnavailable, "database not answering\n")
		return
	}
	c.String(http.StatusOK, "ok\n")
}

// secure says whether browsers reach the site over TLS.
func (c Config) secure() bool {
	u, err := url.Parse(c.PublicURL)
	return err == nil && u.Scheme == "https"
}
