package draw

import "perchbook/fitting"

// nameSides says which side is which.
func (v *view) nameSides() {
	whose := "her own "
	if v.Yours {
		whose = "your own "
	}
	if v.Small {
		whose = "own "
	}
	switch {
	case v.from.isFront():
		v.foot(whose+"right", whose+"left")
	case v.from.isBack(), v.from.isAbove():
		v.foot(whose+"left", whose+"right")
	case v.from.isAskew():
		v.foot("from the front and "+whose+string(v.from.side()), "")
	default:
		v.foot("from "+whose+v.from.name, "")
	}
}

// nameElastic writes each seen side's length, or for the front that the elastic
// runs behind the head.
func (v *view) nameElastic() {
	named := false
	for _, s := range v.strokes {
		l := label{lines: []string{"elastic"}}
		switch {
		case named:
			return
		case v.from.isFront() && s.pen == under:
			l.lines = append(l.lines, "behind head")
			named = true
		case v.from.isSide() && s.pen == corded && s.part == v.from.name && v.Sizes:
			l.lines = append(l.lines, centimetres(v.strand(s.part).Length))
			named = true
		case v.from.isBack() && s.pen == corded && v.Sizes:
			l.lines = append(l.lines, centimetres(v.strand(s.part).Length))
		default:
			continue
		}
		l.about = longest(s.lines).parts()
		v.label(l)
	}
}

func (v *view) strand(side string) fitting.Strand {
	if side == "left" {
		return v.Elastic.Left
	}
	return v.Elastic.Right
}
