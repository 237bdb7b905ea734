package server

import (
	"bytes"
	"fmt"
	"html/template"
	"strconv"
	"strings"

	"perchbook/fitting"
	"perchbook/fitting/draw"
	"perchbook/templates"
)

// cuttingSheet is what goes to the bench: pieces to tick off, the lay drawn, and how the hat is made up.
type cuttingSheet struct {
	Pieces  []cutRow
	Besides []cutRow // that the hat takes beside its cloth
	Lay     template.HTML
	Yield   []string
	Steps   []fitting.Step
}

// cutRow is one thing to tick off. Numbers are those on the drawing of the lay.
type cutRow struct {
	Numbers, Name, Remark string
	Size                  amount
}

// cuttingSheetOf puts the sheet together from the result as it was signed; only how many hats a roll
// gives is worked out anew, and left out when the engine has come to refuse the hat.
func cuttingSheetOf(in fitting.Input, r fitting.Result) cuttingSheet {
	sheet := cuttingSheet{Besides: besides(r.Cloth.Notions, r.Elastic.Colour), Steps: r.MakeUp()}
	for _, c := range r.Cloth.Cuts() {
		sheet.Pieces = append(sheet.Pieces, cutRowOf(c, r))
	}
	cloth, err := in.Cloth.Size()
	if err != nil {
		return sheet
	}
	var drawing bytes.Buffer
	if draw.Lay(&drawing, r.Cloth, cloth) == nil {
		sheet.Lay = templates.SVG(drawing.Bytes())
	}
	sheet.Yield = layWords(r.Cloth, cloth)
	if sol, err := fitting.Solve(in); err == nil {
		sheet.Yield = append(sheet.Yield, rollWords(sol, in, cloth)...)
	}
	return sheet
}

func cutRowOf(c fitting.Cut, r fitting.Result) cutRow {
	var numbers []string
	for _, n := range c.Numbers {
		numbers = append(numbers, strconv.Itoa(n))
	}
	row := cutRow{Numbers: strings.Join(numbers, ", "), Name: c.Kind.Named()}
	if n := len(c.Numbers); n > 1 {
		row.Name = fmt.Sprintf("%d × %s", n, row.Name)
	}
	if c.Parts > 1 {
		row.Name += fmt.Sprintf(", part %d of %d", c.Part, c.Parts)
	}
	switch {
	case c.Diameter > 0:
		row.Size, row.Remark = cloth(c.Diameter.Millimetres()), "across"
	case c.Kind == fitting.StripPiece:
		fold := r.Strip.Marked().Millimetres()
		row.Size = by(cloth(2*fold), cloth(c.Length.Millimetres()))
		row.Remark = "on the bias, " + cloth(fold).String() + " from the fold"
	default:
		row.Size, row.Remark = by(cloth(c.Width.Millimetres()), cloth(c.Length.Millimetres())), "on the bias"
	}
	return row
}

// by is a width by a length.
func by(width, length amount) amount {
	return amount{strings.TrimSuffix(width.Figure, " cm") + " × " + length.Figure, strings.TrimSuffix(width.Inches, " in") + " × " + length.Inches}
}

// besides lists what a hat takes beside its cloth, the elastic in a colour where one is known.
func besides(notions []fitting.Notion, colour string) []cutRow {
	var rows []cutRow
	for _, n := range notions {
		row := cutRow{Name: capital(string(n.Kind)), Size: tape(n.Length.Millimetres())}
		switch n.Kind {
		case fitting.Lining:
			row.Name, row.Size, row.Remark = "Lining circle", cloth(n.Diameter.Millimetres()), "across"
		case fitting.ElasticCord:
			row.Remark = "knots included; try it on"
			if colour != "" {
				row.Remark = colour + "; " + row.Remark
			}
		case fitting.EdgeWire:
			row.Remark = "where one is wanted"
		case fitting.Pins:
			row.Size, row.Remark = amount{}, "points guarded"
		case fitting.Band:
			row.Size, row.Remark = amount{}, "where the hair is too short for a comb"
		}
		if n.Count > 1 {
			row.Name = fmt.Sprintf("%d × %s", n.Count, row.Name)
		}
		rows = append(rows, row)
	}
	return rows
}

func capital(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

// layWords say what the lay takes, and what would do where the cloth does not.
func layWords(l fitting.Lay, size fitting.ClothSize) []string {
	on := func(s fitting.ClothSize) string {
		return by(tape(s.Width.Millimetres()), cloth(s.Length.Millimetres())).String()
	}
	if !l.Fits {
		return []string{fmt.Sprintf("A piece of %s does not do. One of %s would: it is drawn, and %s of it is used.", on(size), on(l.Takes), percentOf(l.UsedFraction))}
	}
	return []string{fmt.Sprintf("On %s: the lay takes %s of the length, and the pieces are %s of the cloth.", on(size), cloth(l.Takes.Length.Millimetres()), percentOf(l.UsedFraction))}
}

func percentOf(fraction float64) string { return decimal(100*fraction, 0) + " %" }

// rollLength is the roll that is spoken of: ten metres (our choice).
const rollLength = 10_000 * fitting.Millimetre

// rollWords say how many such hats the piece and a roll of its width give.
func rollWords(sol fitting.Solution, in fitting.Input, size fitting.ClothSize) []string {
	piece, err := sol.Yield(in, in.Cloth)
	if err != nil {
		return nil
	}
	roll := in.Cloth
	roll.Width, roll.Length = &size.Width, new(rollLength)
	whole, err := sol.Yield(in, roll)
	if err != nil {
		return nil
	}
	return []string{fmt.Sprintf("Hats alike: %d from this piece, %d from a roll of 10 m (by area alone it would be %d).", piece.Hats, whole.Hats, whole.AreaHats)}
}

// codeOf draws the code that opens an address on the phone, or nothing when the address is too long for one.
func codeOf(address string) template.HTML {
	var b bytes.Buffer
	if draw.Code(&b, address) != nil {
		return ""
	}
	return templates.SVG(b.Bytes())
}
