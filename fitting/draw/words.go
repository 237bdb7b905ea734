package draw

import (
	"strings"

	"perchbook/fitting"
)

// title names the drawing for those who hear it.
func (v *view) title() string {
	t := "The hat, seen from "
	if v.Yours {
		t = "Your hat, seen from "
	}
	switch {
	case v.from.isFront():
		return t + "the front"
	case v.from.isBack():
		return t + "behind"
	case v.from.isAbove():
		return t + "above"
	case v.from.isAskew():
		return t + "the front and " + v.whose() + " own " + string(v.from.side())
	}
	return t + v.whose() + " own " + v.from.name
}

// whose is how the wearer is spoken of.
func (v *view) whose() string {
	if v.Yours {
		return "your"
	}
	return "the wearer's"
}

// description says in words what is drawn, with the sizes if they are written.
func (v *view) description() string {
	parts := []string{v.sayBase(), v.sayBrim(), v.sayElastic(), v.saySight()}
	switch {
	case v.from.isFront():
		parts = append([]string{"On the left of the picture is " + v.whose() + " own right."}, parts...)
	case v.from.isBack(), v.from.isAbove():
		parts = append([]string{"On the right of the picture is " + v.whose() + " own right."}, parts...)
	}
	if v.trimmed() {
		parts = append(parts, "A dotted circle holds the place of the trimming; it is no design.")
	}
	return strings.Join(parts, " ")
}

// sized is what it says when sizes are written, else nothing.
func (v *view) sized(parts ...string) string {
	if !v.Sizes || v.Small {
		return ""
	}
	return strings.Join(parts, "")
}

func (v *view) sayBase() string {
	p := v.Result.Placement
	var ways []string
	switch {
	case p.Forward > 0:
		ways = append(ways, "forward")
	case p.Forward < 0:
		ways = append(ways, "backward")
	}
	switch p.Side {
	case fitting.Left, fitting.Right:
		ways = append(ways, "to "+v.whose()+" own "+string(p.Side))
	}
	if ways == nil {
		return "The base" + v.sized(", ", centimetres(v.Result.Base.Diameter), " across,") + " sits on the crown."
	}
	return "The base" + v.sized(", ", centimetres(v.Result.Base.Diameter), " across,") + " sits" +
		v.sized(" ", centimetres(p.CrownToCentre)) + " from the crown " + strings.Join(ways, " and ") + "."
}

func (v *view) sayBrim() string {
	way := "lies flat"
	switch slope := v.Brim.Slope; {
	case slope > 0:
		way = "lifts away from the head" + v.sized(" at ", degrees(slope))
	case slope < 0:
		way = "droops" + v.sized(" at ", degrees(slope))
	}
	return "The brim" + v.sized(", ", centimetres(v.Brim.Width), " wide,") + " " + way + "."
}

func (v *view) sayElastic() string {
	side := func(s fitting.Strand, name string) string {
		behind := ""
		if s.BehindEar {
			behind = " behind the ear"
		}
		return "on " + v.whose() + " own " + name + behind + v.sized(", ", centimetres(s.Length))
	}
	return "The elastic runs under the hair from both sides of the base to the nape: " +
		side(v.Elastic.Left, "left") + "; " + side(v.Elastic.Right, "right") + "."
}

func (v *view) saySight() string {
	if _, _, ok := fitting.Sight(v.Head, v.Brim, 0); !ok {
		return "Looking ahead, the eyes meet no brim."
	}
	return "A dotted line runs from the eye to the lowest part of the brim ahead" +
		v.sized(", ", degrees(v.Result.View.Ahead), " above the level") + "."
}
