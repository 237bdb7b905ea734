package draw

import (
	"errors"
	"io"
	"strings"
	"time"

	"perchbook/fitting"
)

// Paper is what patterns are printed on.
type Paper string

// The papers that patterns are laid out for.
const (
	A4     Paper = "A4"
	Letter Paper = "US Letter"
)

// PatternOptions say how patterns are laid out.
type PatternOptions struct {
	Paper  Paper
	Number string    // of the commission, printed on every piece; "" leaves it out
	Made   time.Time // the document's date, in UTC; the zero time stands for the first second of 1970
}

// Why patterns are not drawn, beside ErrNotSolved.
var (
	ErrNoPaper = errors.New("draw: patterns are laid out for A4 and US Letter only")
	ErrNumber  = errors.New("draw: a number on patterns is at most 24 plain letters, figures and signs")
	ErrAnchor  = errors.New("draw: the elastic's anchor is a fraction of the base, from 0 to 1")
)

// Patterns writes the pieces of a hat as a PDF at full size: millimetres of the
// hat are millimetres of the paper, to within 0.01. A plan comes first, then each
// piece on as many pages as it needs, which overlap by 10 mm. The same hat with the
// same options gives the same bytes.
//
// The PDF's own fonts are used, which know Latin letters only. So nothing that a
// person typed is printed: our own words, and the commission's number.
//
// It fails when w does, and with ErrNotSolved, ErrNoPaper, ErrNumber or ErrAnchor.
func Patterns(w io.Writer, r fitting.Result, o PatternOptions) error {
	on, known := sheets[o.Paper]
	switch {
	case !known:
		return ErrNoPaper
	case !plain(o.Number):
		return ErrNumber
	case !fraction(r.Elastic.LeftAnchor) || !fraction(r.Elastic.RightAnchor):
		return ErrAnchor
	case !cuttable(r):
		return ErrNotSolved
	}
	b := newBook(on, o)
	laid := b.layOut(pieces(r))
	b.plan(laid)
	for _, l := range laid {
		b.print(l)
	}
	return b.pdf.Output(w)
}

// pieces are the patterns of a hat, in the order of the work.
func pieces(r fitting.Result) []piece {
	all := []piece{baseCircle(r.Base, r.Elastic, r.Cloth.TurnedLayers()), lining(r.Base)}
	if r.Brim.Width >= leastBrim {
		all = append(all, foldGauge(r.Strip), brimTemplate(r.Brim, r.Strip))
	}
	return append(all, elasticRuler(r.Elastic))
}

// leastBrim is the narrowest brim that patterns are drawn for.
const leastBrim = fitting.Millimetre

// plain says whether the PDF's own fonts can print s, and a piece has room for it.
func plain(s string) bool {
	return len(s) <= 24 && strings.IndexFunc(s, func(r rune) bool { return r < ' ' || r > '~' }) < 0
}

// cuttable says whether every figure that a pattern is drawn from can be one: far
// beyond what the engine lets through, so that no paper is wasted on nonsense.
func cuttable(r fitting.Result) bool {
	const most = 3000 // mm
	length := func(l fitting.Length) bool { return l >= 0 && l <= most }
	b, s, e := r.Brim, r.Strip, r.Elastic
	lengths := length(r.Base.Diameter) && length(r.Base.CutDiameter) && length(b.Width) && length(b.FlatOuterRadius) &&
		length(s.FromFold) && length(s.LeastFlatWidth) && s.Length >= 0 && s.Length <= 10*most &&
		length(e.Cut) && length(e.PlusMinus) && length(e.Worn)
	return lengths && r.Base.CutDiameter >= 20 && b.FlatInnerRadius > 0 && b.FlatInnerRadius <= b.FlatOuterRadius &&
		b.Sector > 0 && b.Sector <= 360 && e.Relaxed > 0 && e.Relaxed <= e.Cut
}
