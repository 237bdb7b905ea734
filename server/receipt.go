package server

import (
	"bytes"
	"fmt"
	"net/http"
	"strconv"
	"strings"

	"codeberg.org/go-pdf/fpdf"
	"github.com/gin-gonic/gin"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"

	"perchbook/orders"
)

// showReceipt hands the milliner a receipt as a file.
func (s *Server) showReceipt(c *gin.Context) error {
	com, err := s.Store.Commission(c.Request.Context(), c.Param("id"))
	if err != nil {
		return err
	}
	return s.receiptFile(c, com)
}

// showHerReceipt hands it to the client.
func (s *Server) showHerReceipt(c *gin.Context, d door) error { return s.receiptFile(c, d.Commission) }

func (s *Server) receiptFile(c *gin.Context, com orders.Commission) error {
	ctx := c.Request.Context()
	n, err := strconv.Atoi(c.Param("receipt"))
	if err != nil {
		return orders.ErrNotFound
	}
	p, err := s.Store.Payment(ctx, n)
	if err != nil {
		return err
	}
	if p.CommissionID != com.ID {
		return orders.ErrNotFound
	}
	t, err := s.Store.Terms(ctx)
	if err != nil {
		return err
	}
	desk, err := s.desk(ctx)
	if err != nil {
		return err
	}
	body, err := receiptPDF(p, com, t, desk)
	if err != nil {
		return fmt.Errorf("receipt %d: %w", p.Receipt, err)
	}
	c.Header("Content-Disposition", fmt.Sprintf(`attachment; filename="receipt-%d.pdf"`, p.Receipt))
	c.Data(http.StatusOK, "application/pdf", body)
	return nil
}

// receiptPDF is one page of A5, which every printer takes on its own paper. The same payment gives the
// same bytes.
func receiptPDF(p orders.Payment, com orders.Commission, t orders.Terms, d desk) ([]byte, error) {
	pdf := fpdf.New("P", "mm", "A5", "")
	pdf.SetCreationDate(p.At)
	pdf.SetModificationDate(p.At)
	pdf.SetCatalogSort(true)
	pdf.SetTitle(fmt.Sprintf("Receipt %d", p.Receipt), true)
	pdf.SetMargins(16, 16, 16)
	pdf.AddUTF8FontFromBytes("go", "", goregular.TTF)
	pdf.AddUTF8FontFromBytes("go", "B", gobold.TTF)
	pdf.AddPage()
	write := func(style string, size float64, text string) {
		pdf.SetFont("go", style, size)
		pdf.MultiCell(0, size*0.5, text, "", "L", false)
	}
	seller := t.Seller
	if seller == "" {
		seller = d.studio.Name + "\n" + d.studio.Place
	}
	write("", 10, seller)
	if t.TaxNumber != "" {
		write("", 10, strings.TrimSpace(t.TaxName+" ")+"number "+t.TaxNumber)
	}
	pdf.Ln(10)
	name, verb := "Receipt", "received from"
	if p.Amount < 0 {
		name, verb = "Receipt for money given back", "given back to"
		p.Amount = -p.Amount
	}
	write("B", 18, fmt.Sprintf("%s %d", name, p.Receipt))
	pdf.Ln(4)
	write("B", 22, p.Currency.Say(p.Amount))
	pdf.Ln(4)
	write("", 11, verb+" "+p.Payer)
	write("", 11, "on "+closedWords(p.Day)+", by "+p.Way)
	write("", 11, "for the hat "+com.Number)
	pdf.Ln(8)
	write("", 9, "Written down on "+d.date(p.At)+" by "+p.By+".")
	var b bytes.Buffer
	err := pdf.Output(&b)
	return b.Bytes(), err
}
