package server

import (
	"errors"
	"net/http"
	"strconv"

	"github.com/gin-gonic/gin"

	"perchbook/orders"
)

// studioView is the studio's settings as the milliner writes them.
type studioView struct {
	Problems                       []mend
	Version                        int
	Name, Place, Reach, Zone       field
	Hours                          []field // Monday first
	Closed, Buffer, Notice, Blocks field
	Exceptions, MoveHours          field
	Buffers                        []field
	Minutes                        []field
	Side                           field
	Sides                          []stageChoice
	Reels                          []reelForm
	Cloth, Estimates               []field
	Estimated                      bool // something is said among the estimates
	Layers                         field
	LayerRules                     []stageChoice
}

func (s *Server) showStudio(c *gin.Context) error {
	st, err := s.Store.Studio(c.Request.Context())
	if err != nil {
		return err
	}
	return s.studioPage(c, http.StatusOK, studioForm(writtenStudio(st), st.Version), nil)
}

// studioPage shows the form; problems stand by the field's key.
func (s *Server) studioPage(c *gin.Context, status int, v studioView, problems map[string]string) error {
	v.blame(problems)
	name := "Studio"
	if len(v.Problems) > 0 {
		name = "Problem: " + name
	}
	s.render(c, status, "studio", s.frame(c, name), v)
	return nil
}

func (s *Server) saveStudio(c *gin.Context) error {
	typed := map[string]string{}
	for _, key := range studioKeys() {
		typed[key] = tidy(c.PostForm(key))
	}
	version, err := strconv.Atoi(c.PostForm("version"))
	if err != nil {
		version = -1 // no version is an old version
	}
	st, problems := readStudio(typed, s.Now())
	st.Version = version
	if len(problems) > 0 {
		return s.studioPage(c, http.StatusUnprocessableEntity, studioForm(typed, version), problems)
	}
	_, err = s.Store.SaveStudio(c.Request.Context(), st)
	if p, ok := asProblem(err); ok {
		return s.studioPage(c, http.StatusUnprocessableEntity, studioForm(typed, version), map[string]string{studioField(p.Key): p.Text})
	}
	if errors.Is(err, orders.ErrConflict) {
		now, err := s.Store.Studio(c.Request.Context())
		if err != nil {
			return err
		}
		return s.studioPage(c, http.StatusConflict, studioForm(typed, now.Version), map[string]string{"name": changedStudio})
	}
	if err != nil {
		return err
	}
	s.note(c, "The settings are kept.")
	return onward(c, "/workroom/studio")
}

const changedStudio = "Somebody changed the settings meanwhile. What you typed is still here. Keep it once more to put it in place of what was changed, or load the page anew to see that first."
