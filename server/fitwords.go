package server

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"perchbook/fitting"
)

// SayFit writes a worked out hat as plain text for a person: the figures rounded
// and named as on the fit sheet, then why, then the pieces to cut and the make-up
// order with what to take care of at each step. It fails only when w does.
func SayFit(w io.Writer, r fitting.Result) error {
	var b strings.Builder
	for _, part := range sizesOf(r) {
		fmt.Fprintf(&b, "%s\n", part.Heading)
		columns := tabwriter.NewWriter(&b, 0, 1, 2, ' ', 0)
		for _, row := range part.Rows {
			fmt.Fprintf(columns, "  %s\t%s", row.Name, row.Amount)
			if row.Remark != "" {
				fmt.Fprintf(columns, "\t%s", row.Remark)
			}
			fmt.Fprintln(columns)
		}
		columns.Flush()
		b.WriteString("\n")
	}
	var why []string
	for _, n := range r.Reasons {
		why = append(why, n.Says)
	}
	sayList(&b, "Why", why)
	sayOthers(&b, r.Alternatives)
	sayPieces(&b, r)
	sayMakeUp(&b, r.MakeUp())
	_, err := io.WriteString(w, strings.TrimRight(b.String(), "\n")+"\n")
	return err
}

// sayOthers are the proposals of other presences, with what each trades.
func sayOthers(b *strings.Builder, all []fitting.Alternative) {
	var says []string
	for _, a := range all {
		says = append(says, fmt.Sprintf("%s, with a brim of %s %s: %s", title(string(a.Presence)), tape(a.Hat.BrimWidth.Millimetres()),
			slopeWords(*a.Hat.BrimSlope), strings.Join(a.Trades, " ")))
	}
	sayList(b, "Instead", says)
}

func sayList(b *strings.Builder, heading string, all []string) {
	if len(all) == 0 {
		return
	}
	fmt.Fprintf(b, "%s\n", heading)
	for _, says := range all {
		fmt.Fprintf(b, "  - %s\n", says)
	}
	b.WriteString("\n")
}

func sayPieces(b *strings.Builder, r fitting.Result) {
	b.WriteString("Cut and tick off\n")
	columns := tabwriter.NewWriter(b, 0, 1, 2, ' ', 0)
	for _, c := range r.Cloth.Cuts() {
		row := cutRowOf(c, r)
		fmt.Fprintf(columns, "  [ ] %s\t%s\t%s\n", row.Name, row.Size, row.Remark)
	}
	for _, row := range besides(r.Cloth.Notions, r.Elastic.Colour) {
		fmt.Fprintf(columns, "  [ ] %s\t%s", row.Name, row.Size)
		if row.Remark != "" {
			fmt.Fprintf(columns, "\t%s", row.Remark)
		}
		fmt.Fprintln(columns)
	}
	columns.Flush()
	b.WriteString("\n")
}

func sayMakeUp(b *strings.Builder, steps []fitting.Step) {
	b.WriteString("Make up in this order\n")
	for i, s := range steps {
		fmt.Fprintf(b, "  %d. %s. %s\n", i+1, s.Name, strings.Join(s.Does, " "))
		for _, care := range s.Care {
			fmt.Fprintf(b, "     Care: %s\n", care)
		}
	}
	b.WriteString("\n")
}
