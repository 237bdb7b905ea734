package server

import (
	"fmt"
	"strings"

	"github.com/gin-gonic/gin"

	"perchbook/orders"
)

// photosOf lists the photographs among a client's answers.
func photosOf(f file) []photoLink {
	var links []photoLink
	for _, id := range photoIDs(f.Draft) {
		links = append(links, photoLink{
			Src:   "/workroom/commissions/" + f.ID + "/photographs/" + id,
			Words: fmt.Sprintf("Photograph %d sent in by the client", len(links)+1),
		})
	}
	return links
}

// mirroredWords tell the milliner where to look for the client's own right in the photographs.
func mirroredWords(d orders.Draft) string {
	switch d.Answers["mirrored"].Value {
	case "no":
		return "Not mirrored: the client’s own right is on the left of the picture."
	case "yes":
		return "Mirrored: the client’s own right is on the right of the picture."
	}
	return "The client has not said whether they are mirrored. Ask before the side is settled by them."
}

func photoIDs(d orders.Draft) []string {
	var ids []string
	for _, q := range orders.Questions {
		if q.Kind == orders.Photograph {
			ids = append(ids, strings.Fields(d.Answers[q.Key].Value)...)
		}
	}
	return ids
}

// showPhoto shows a photograph of this commission's client; any other is not found.
func (s *Server) showPhoto(c *gin.Context) error {
	ctx := c.Request.Context()
	com, err := s.Store.Commission(ctx, c.Param("id"))
	if err != nil {
		return err
	}
	p, err := s.Store.Photo(ctx, com.DraftID, c.Param("photo"))
	if err != nil {
		return err
	}
	return photograph(c, p.JPEG)
}
