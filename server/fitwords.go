package server

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"perchbook/fitting"
)

// SayFit writes a worked out hat as plain text for a person: the figures rounded
// and named as on the fit sheet, then why, then what to take care of. It fails
// only when w does.
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
	var why, care []string
	for _, n := range r.Reasons {
		why = append(why, n.Says)
	}
	for _, n := range r.Cautions {
		care = append(care, n.Says)
	}
	sayList(&b, "Why", why)
	sayList(&b, "Take care", append(care, benchCautions...))
	_, err := io.WriteString(w, strings.TrimRight(b.String(), "\n")+"\n")
	return err
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
