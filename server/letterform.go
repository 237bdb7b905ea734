package server

import (
	"errors"
	"io"
	"mime/multipart"
	"net/http"

	"github.com/gin-gonic/gin"

	"perchbook/orders"
)

// Of what comes with a letter that much is read to its end, so that the browser hears the answer; what is
// larger than the rest of the house allows is not kept.
const mostLetterForm = 128 << 20

// streamed are the routes whose forms are read part by part.
var streamed = map[string]bool{
	orders.CommissionPath + ":link/letters": true,
	"/workroom/commissions/:id/letters":     true,
}

// A letterForm is a letter as it was sent: its words survive whatever is wrong with its files.
type letterForm struct {
	body     string
	uploads  [][]byte
	problem  *orders.Problem // with the files
	kept     int             // bytes of files
	tooLarge bool
}

const (
	filesTooLarge = "One of these files is larger than 12 MB, or all of them are larger than 16 MB. Choose smaller copies; they do just as well. Your words are still here."
	filesNotWhole = "The files did not arrive whole. Choose them once more. Your words are still here."
)

// readLetter reads the form part by part; the words stand before the files, so that they are here when a
// file is too large or the line breaks.
func readLetter(c *gin.Context) letterForm {
	var f letterForm
	if c.ContentType() != gin.MIMEMultipartPOSTForm { // asked first: a reader of parts leaves no other form to read
		c.Request.Body = http.MaxBytesReader(c.Writer, c.Request.Body, maxBody)
		f.body = tidy(c.PostForm("body"))
		return f
	}
	parts, err := c.Request.MultipartReader()
	for err == nil {
		var part *multipart.Part
		if part, err = parts.NextPart(); err == nil {
			err = f.read(part)
		}
	}
	var tooLarge *http.MaxBytesError
	switch {
	case f.tooLarge || errors.As(err, &tooLarge):
		f.problem = &orders.Problem{Key: "enclosed", Text: filesTooLarge}
	case !errors.Is(err, io.EOF):
		f.problem = &orders.Problem{Key: "enclosed", Text: filesNotWhole}
	}
	return f
}

func (f *letterForm) read(part *multipart.Part) error {
	if part.FormName() == "body" {
		text, err := io.ReadAll(io.LimitReader(part, 1<<20))
		f.body = tidy(string(text))
		return err
	}
	if part.FormName() != "enclosed" || len(f.uploads) > orders.MostEnclosed { // one too many is said by the store
		return nil
	}
	file, err := io.ReadAll(io.LimitReader(part, mostPhoto+1))
	switch {
	case len(file) > mostPhoto || f.kept+len(file) > maxBody:
		f.tooLarge = true
	case len(file) > 0: // a field left empty sends an empty file
		f.uploads, f.kept = append(f.uploads, file), f.kept+len(file)
	}
	return err
}
