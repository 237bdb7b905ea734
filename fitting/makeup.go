package fitting

import (
	"fmt"
	"math"
	"slices"
)

// Step is one step of the make-up order: what to do, with the hat's own figures, and
// what to take care of while doing it.
type Step struct {
	Name string
	Does []string
	Care []string
}

// MakeUp is the order in which the hat is made up: common practice of the trade, with
// the hat's figures rounded for the bench, and each caution beside the step where it
// acts. Local rules and the instructions of tools and materials come first, and the
// first step says so.
func (r Result) MakeUp() []Step {
	steps := []Step{r.match(), r.cutting()}
	if r.brimmed() {
		steps = append(steps, r.folding())
	}
	steps = append(steps, r.setting())
	if r.brimmed() {
		steps = append(steps, r.curving(), r.joining())
	}
	return append(steps, r.layering(), r.doming(), r.bindingUp(), r.liningUp(), r.tryingOn(), r.stitching(), r.finishing())
}

// brimmed says whether there is a brim to make.
func (r Result) brimmed() bool { return r.Brim.Width >= leastPiece }

func (r Result) match() Step {
	before := r.saying(func(part string) bool { return !slices.Contains(actsLater, part) })
	return Step{"Match the swatch",
		[]string{"Hold her swatch against cloth, binding, lining and elastic, in daylight and by lamplight, before anything is cut."},
		append([]string{"Local rules, and the instructions of your tools and materials, come before this sheet."}, before...)}
}

func (r Result) cutting() Step {
	does := []string{"Fold the cloth so that the crosswise threads lie along the lengthwise ones: the fold is the true bias."}
	if r.brimmed() {
		from := r.Strip.Marked()
		does = append(does, fmt.Sprintf("Brim strip: mark %s from the fold at many places, so that it opens to %s, and never to less than %s; %s long.",
			ToMark(from), ToMark(2*from), ToMark(r.Strip.LeastFlatWidth), ToMark(r.Strip.Length)))
	}
	if n := r.Cloth.Parts; n > 1 {
		does = append(does, fmt.Sprintf("Cut the longest strip in %d parts and join them on the straight thread, with seams of %s.", n, toTape(joinSeam)))
	}
	does = append(does,
		fmt.Sprintf("Bindings: 2.5 cm (1 in) from the fold, so %g cm (2 in) wide.", bindingWidth.Centimetres()),
		fmt.Sprintf("Base: %d circles of %s, front marked.", r.Base.Layers, ToMark(r.Base.CutDiameter)))
	return Step{"Cut on the true bias", does, append([]string{"Count needles and pins out, and back in. Scissors and cutters: cut away from the hand."}, r.about("cloth")...)}
}

// Marked is how far from the bias fold the strip is marked: up to the next half
// centimetre. It opens to twice that.
func (s Strip) Marked() Length { return Length(math.Ceil(float64((s.FromFold-edgeSlack)/5)) * 5) }

func (r Result) folding() Step {
	wide := toTape(2 * r.Strip.Marked() / Length(r.Strip.Folds))
	does := map[int]string{
		1: "Strip: leave it single; its edge is bound.",
		2: "Strip: fold once along the middle, " + wide + " wide.",
	}[r.Strip.Folds]
	if does == "" {
		does = "Strip: both raw edges to the middle with at least 5 mm (1/4 in) free between them, then once along the middle, about " + wide + " wide."
	}
	return Step{"Fold", []string{does, "Bindings: both raw edges to the middle with at least 2 mm (1/8 in) free, then once."}, nil}
}

func (r Result) setting() Step {
	what := "Set the folds"
	if !r.brimmed() {
		what = "Fold and set the bindings, both raw edges to the middle with at least 2 mm (1/8 in) free, then once,"
	}
	return Step{"Set with a dry iron", []string{what + " with a dry iron through baking paper. Try a scrap first."},
		[]string{"An iron burns: stand it on its heel, and let the cloth cool before you touch the folds."}}
}

func (r Result) curving() Step {
	b := r.Brim
	inner, outer := Length(b.Sector.Radians())*b.FlatInnerRadius, b.edge()
	does := []string{
		"Over the shaping template, in steam: stretch the outer edge and ease the inner one, a little at a time, and pin.",
		fmt.Sprintf("The outer edge comes to %s, the inner to %s: %.2f to 1. Let it cool and dry on the template.", toTape(outer), toTape(inner), b.EdgeRatio),
	}
	return Step{"Steam to curve", does, append([]string{"Steam burns: hold the cloth with tongs, hands and face out of the steam."}, r.about("brim")...)}
}

func (r Result) joining() Step {
	does := []string{fmt.Sprintf("Trim the brim to %s wide. Lap the ends by %s at the back and sew them.", toTape(r.Brim.Width), toTape(stripLap))}
	for _, n := range r.Cloth.Notions {
		if n.Kind == EdgeWire {
			does = append(does, fmt.Sprintf("Edge wire, where one is wanted: %s, lapped by %s, its ends covered.", toTape(n.Length), toTape(wireLap)))
		}
	}
	return Step{"Trim and join", does, []string{"Wire ends scratch and spring: turn them from the face and cover them."}}
}

// layering tells how the base's layers lie on each other, from how the lay cuts them.
func (r Result) layering() Step {
	turned := r.Cloth.TurnedLayers()
	says := fmt.Sprintf("All %d circles one way, front on front, so that the bias lies in front.", r.Base.Layers)
	if at := slices.Index(turned, true); at >= 0 {
		says = fmt.Sprintf("%d circles: turn number %d by 45 degrees, so that its straight thread lies in front where the others have the bias.", r.Base.Layers, at+1)
	}
	s := Step{Name: "Layer the base", Does: []string{says}}
	if r.Base.Layers == 2 && !slices.Contains(turned, true) {
		s.Does = append(s.Does, "Brush with stiffener and let it dry.")
		s.Care = []string{"Stiffener gives off fumes: open a window or use extraction, wear gloves, keep it from flame, follow its sheet."}
	}
	return s
}

func (r Result) doming() Step {
	over := "freehand"
	if r.Base.Block != nil {
		over = "over the block of " + toTape(*r.Base.Block)
	}
	return Step{"Dome", []string{fmt.Sprintf("Damp and steam the layers together, pull them %s to %s across the rim and %s deep; pin, and let it dry.", over, toTape(r.Base.Diameter), toTape(r.Base.Sag)),
		"Where the cloth is soft, stiffen it thinly and let it dry."},
		[]string{"Steam burns. Stiffener gives off fumes: open a window, wear gloves, keep it from flame."}}
}

func (r Result) bindingUp() Step {
	round := Length(math.Pi) * r.Base.Diameter
	does := []string{fmt.Sprintf("Stretch the binding round the rim, %s, join its ends on the straight thread, and sew it through all layers.", toTape(round))}
	if r.brimmed() && r.Strip.Folds == 1 {
		does = append(does, fmt.Sprintf("Bind the brim's outer edge, %s, in the same way.", toTape(r.Brim.edge())))
	}
	return Step{"Bind", does, []string{"Needles and pins: out of the mouth, and counted."}}
}

func (r Result) liningUp() Step {
	return Step{"Line", []string{fmt.Sprintf("Trim the lining circle, %s, to what the binding leaves. Stick it in with adhesive and water, 1 to 1, front to front, thinly; let it dry.", ToMark(r.Base.CutDiameter))},
		[]string{"Adhesive gives off fumes: open a window, keep it off the skin and from flame, follow its sheet."}}
}

func (r Result) tryingOn() Step {
	e := r.Elastic
	does := []string{fmt.Sprintf("Cut %s (right to about %s either way), knots %s apart, slack. Pin it at the base's marks: %s.", toTape(e.Cut), toTape(e.PlusMinus), toTape(e.Relaxed), anchors(e)),
		"Try it on her before the ends are set: behind the ears, under the hair, never under the chin."}
	return Step{"Try on the elastic", does, append([]string{"Never over-tight: it gives a headache and marks the skin. Let it out rather than in."}, r.about("elastic", "hold", "hair")...)}
}

// anchors tells how far back from the base's front each end is sewn.
func anchors(e ElasticCut) string {
	left, right := fmt.Sprintf("%.0f %%", 100*e.LeftAnchor), fmt.Sprintf("%.0f %%", 100*e.RightAnchor)
	if left == right {
		return left + " back from the front on either side"
	}
	return left + " back from the front on her left, " + right + " on her right"
}

func (r Result) stitching() Step {
	does := "Sew the elastic behind its knots, then the trimming."
	if r.brimmed() {
		does = "Sew the brim to the base's rim, its join at the back, then the elastic behind its knots, then the trimming."
	}
	return Step{"Stitch", []string{does + " Stitches small, through the binding, not through the lining's face."}, []string{"Guard the finger, and mind the needle's point under the work."}}
}

func (r Result) finishing() Step {
	return Step{"Check the finish", []string{"No pin or needle left in; wire ends covered; elastic knots tight; label at the centre back. Try it on once more and look from every side."},
		append([]string{"Tell her: never drive or cycle in a hat that hides the road. It comes off first."}, r.about("view")...)}
}

// actsLater are the parts of the contract whose cautions act at a later step than the
// first; all others are to be read before anything is cut.
var actsLater = []string{"cloth", "brim", "elastic", "hold", "hair", "view"}

// about are what the cautions say of these parts of the contract.
func (r Result) about(parts ...string) []string {
	return r.saying(func(part string) bool { return slices.Contains(parts, part) })
}

func (r Result) saying(of func(part string) bool) []string {
	var says []string
	for _, n := range r.Cautions {
		end := slices.Index([]rune(n.Field), '.')
		if end < 0 {
			end = len(n.Field)
		}
		if of(n.Field[:end]) {
			says = append(says, n.Says)
		}
	}
	return says
}
