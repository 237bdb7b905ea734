package server

import (
	"bytes"
	"compress/gzip"
	"mime"
	"net/http"
	"path"
	"slices"
	"strings"

	"github.com/gin-gonic/gin"

	"perchbook/orders"
	"perchbook/templates"
)

// An asset is a static file as it is sent, packed once for all.
type asset struct {
	kind           string
	body, packedUp []byte
}

func assetsOf(pages *templates.Pages) map[string]asset {
	all := map[string]asset{}
	for _, a := range pages.Assets() {
		all[a.Path] = asset{mime.TypeByExtension(path.Ext(a.Name)), a.Body, packed(a.Body)}
	}
	return all
}

func packed(body []byte) []byte {
	var b bytes.Buffer
	w := gzip.NewWriter(&b)
	_, _ = w.Write(body) // a buffer takes everything
	_ = w.Close()
	return b.Bytes()
}

// unpacks says whether the browser reads gzip.
func unpacks(c *gin.Context) bool {
	return slices.ContainsFunc(strings.Split(c.GetHeader("Accept-Encoding"), ","), func(way string) bool {
		name, weight, _ := strings.Cut(strings.ReplaceAll(way, " ", ""), ";")
		return strings.EqualFold(name, "gzip") && (weight == "" || strings.Trim(weight, "q=0.") != "")
	})
}

// sendPage sends a page that is whole. Only the client's pages are packed: how small a page becomes tells
// what repeats in it, so a page that shows foreign words beside something secret could give the secret away.
// The client's pages hold no secret but their own address, which whoever can ask for them knows already; the
// workroom's show what others wrote beside clients' private links.
func sendPage(c *gin.Context, status int, body []byte, bench bool) {
	c.Header("Vary", "Accept-Encoding")
	if !bench && unpacks(c) {
		c.Header("Content-Encoding", "gzip")
		body = packed(body)
	}
	c.Data(status, "text/html; charset=utf-8", body)
}

func (s *Server) asset(c *gin.Context) {
	a, there := s.assets[c.Request.URL.Path]
	if !there {
		s.fail(c, orders.ErrNotFound)
		return
	}
	c.Header("Cache-Control", "public, max-age=31536000, immutable") // its address changes with its content
	c.Header("Vary", "Accept-Encoding")
	if unpacks(c) {
		c.Header("Content-Encoding", "gzip")
		a.body = a.packedUp
	}
	c.Data(http.StatusOK, a.kind, a.body)
}
