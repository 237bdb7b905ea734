package server

import (
	"bytes"
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"github.com/gin-gonic/gin"

	"perchbook/fitting/draw"
	"perchbook/orders"
)

// showPatterns hands out the patterns of the hat as it was signed off. They come as a file to open
// in whatever prints at full size.
func (s *Server) showPatterns(paper draw.Paper) func(*gin.Context) error {
	return func(c *gin.Context) error {
		com, sheet, err := s.askedSheet(c)
		if err != nil {
			return err
		}
		_, settled, err := sheet.Read()
		if err != nil {
			return err
		}
		var pdf bytes.Buffer
		o := draw.PatternOptions{Paper: paper, Number: sheetName(com, sheet), Made: sheet.Signed}
		if err := draw.Patterns(&pdf, settled, o); err != nil {
			return fmt.Errorf("patterns of sheet %s: %w", sheet.ID, err)
		}
		name := fmt.Sprintf("patterns-%s-%d-%s.pdf", com.Number, sheet.Number, paperFile(paper))
		c.Header("Content-Disposition", `attachment; filename="`+name+`"`)
		c.Data(http.StatusOK, "application/pdf", pdf.Bytes())
		return nil
	}
}

// paperFile is a paper's name in a file's: "letter".
func paperFile(p draw.Paper) string {
	words := strings.Fields(strings.ToLower(string(p)))
	return words[len(words)-1]
}

// askedSheet is the fit sheet that the address names.
func (s *Server) askedSheet(c *gin.Context) (orders.Commission, orders.FitSheet, error) {
	ctx := c.Request.Context()
	com, err := s.Store.Commission(ctx, c.Param("id"))
	if err != nil {
		return com, orders.FitSheet{}, err
	}
	sheets, err := s.Store.Sheets(ctx, com.ID)
	if err != nil {
		return com, orders.FitSheet{}, err
	}
	sheet, err := numbered(sheets, c.Param("number"))
	return com, sheet, err
}

// numbered finds the fit sheet of that number.
func numbered(sheets []orders.FitSheet, number string) (orders.FitSheet, error) {
	n, err := strconv.Atoi(number)
	i := slices.IndexFunc(sheets, func(sh orders.FitSheet) bool { return sh.Number == n })
	if err != nil || i < 0 {
		return orders.FitSheet{}, orders.ErrNotFound
	}
	return sheets[i], nil
}
