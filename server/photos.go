package server

import (
	"errors"
	"io"
	"mime/multipart"
	"net/http"
	"slices"
	"strings"

	"github.com/gin-gonic/gin"

	"perchbook/orders"
)

const mostPhoto = 12 << 20 // bytes of one photograph

// showPhotos lists what she has already sent in for a question.
func (a *asked) showPhotos(d door) {
	if a.Kind != orders.Photograph {
		return
	}
	for i, id := range strings.Fields(d.Draft.Answers[a.Key].Value) {
		a.Photos = append(a.Photos, photoLink{Src: d.Base + "/photographs/" + id, Words: d.say("Photograph %d that you have added", i+1)})
	}
}

// ID is the stored name of the photograph, for taking it away again.
func (p photoLink) ID() string { return p.Src[strings.LastIndex(p.Src, "/")+1:] }

// photograph sends a picture to whom it was found for. No cache on the way or in the browser keeps it,
// and no other site can show it.
func photograph(c *gin.Context, jpeg []byte) error {
	c.Header("Cache-Control", "private, no-store")
	c.Header("Cross-Origin-Resource-Policy", "same-origin")
	c.Data(http.StatusOK, "image/jpeg", jpeg)
	return nil
}

// clientPhoto shows a photograph to her who sent it.
func (s *Server) clientPhoto(c *gin.Context, d door) error {
	p, err := s.Store.Photo(c.Request.Context(), d.Draft.ID, c.Param("photo"))
	if err != nil {
		return err
	}
	return photograph(c, p.JPEG)
}

// photoQuestion is the question about photographs that an address names.
func photoQuestion(c *gin.Context, d door) (orders.Question, error) {
	q, ok := orders.Questions.Find(c.Param("photo"))
	if !ok || q.Kind != orders.Photograph || !q.Applies(d.Draft.Answers) {
		return q, orders.ErrNotFound
	}
	return q, nil
}

func (s *Server) backToPhotos(c *gin.Context, d door) error {
	q, err := photoQuestion(c, d)
	if err != nil {
		return err
	}
	return onward(c, d.ask(q.Page))
}

func (s *Server) addPhoto(c *gin.Context, d door) error {
	q, err := photoQuestion(c, d)
	if err != nil {
		return err
	}
	upload, err := uploaded(c, q.Key)
	done := c.PostForm("done") != ""
	var tooLarge *http.MaxBytesError
	var problem *orders.Problem
	switch {
	case errors.As(err, &tooLarge):
		return s.photoProblem(c, d, q, http.StatusRequestEntityTooLarge, orders.NewProblem(q.Key, "That photograph is larger than 12 MB. Please send a smaller copy; it does just as well."))
	case errors.Is(err, http.ErrMissingFile) && done:
		return onward(c, d.after(q.Page, c.Query("from")))
	case errors.Is(err, http.ErrMissingFile):
		return s.photoProblem(c, d, q, http.StatusUnprocessableEntity, orders.NewProblem(q.Key, "Please choose a photograph first, then add it."))
	case err != nil:
		return s.photoProblem(c, d, q, http.StatusUnprocessableEntity, orders.NewProblem(q.Key, "The photograph did not arrive whole. Please add it once more."))
	}
	_, err = s.Store.AddPhoto(c.Request.Context(), d.Draft.ID, q.Key, upload)
	if errors.As(err, &problem) {
		return s.photoProblem(c, d, q, http.StatusUnprocessableEntity, problem)
	}
	if err != nil {
		return err
	}
	if done { // a picture chosen before pressing Done is meant to be kept
		return onward(c, d.after(q.Page, c.Query("from")))
	}
	return onward(c, d.ask(q.Page))
}

// uploaded reads the file of a form.
func uploaded(c *gin.Context, key string) ([]byte, error) {
	header, err := c.FormFile(key)
	if err != nil {
		return nil, err
	}
	return readUpload(header)
}

// readUpload reads one file of a form whole; *http.MaxBytesError when it is too large.
func readUpload(header *multipart.FileHeader) ([]byte, error) {
	if header.Size > mostPhoto {
		return nil, &http.MaxBytesError{Limit: mostPhoto}
	}
	file, err := header.Open()
	if err != nil {
		return nil, err
	}
	defer func() { _ = file.Close() }()
	return io.ReadAll(file)
}

// photoProblem shows the page of a photograph again.
func (s *Server) photoProblem(c *gin.Context, d door, q orders.Question, status int, problem *orders.Problem) error {
	c.Params = append(c.Params, gin.Param{Key: "page", Value: q.Page})
	a := d.askedOf(q, nil, problem)
	a.showPhotos(d)
	s.askPage(c, status, d, []asked{a})
	return nil
}

func (s *Server) removePhoto(c *gin.Context, d door) error {
	q, err := photoQuestion(c, d)
	if err != nil {
		return err
	}
	id := c.PostForm("photo")
	if !slices.Contains(strings.Fields(d.Draft.Answers[q.Key].Value), id) {
		return onward(c, d.ask(q.Page)) // removed before, on another page
	}
	if err := s.Store.RemovePhoto(c.Request.Context(), d.Draft.ID, q.Key, id); err != nil {
		return err
	}
	return onward(c, d.ask(q.Page))
}
