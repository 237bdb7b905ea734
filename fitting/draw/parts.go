package draw

import (
	"slices"

	"perchbook/fitting"
)

func (v *view) drawHead() {
	f := newFace(v.Head)
	outline := headOutline(v.Head, v.from.toward)
	faceLeft, faceRight := f.sides(faceSlices[:], v.from)
	neckLeft, neckRight := f.sides(neckSlices[:], v.from)
	onPaper := v.from.onPaper
	skull, mask, neck := newPatch(v.from.project(outline)), closed(v.from, faceLeft, faceRight), closed(v.from, neckLeft, neckRight)

	outsideHat := v.solids.behindHat
	if v.from.isAbove() {
		mask, neck = patch{within: empty()}, patch{within: empty()}
		faceLeft, faceRight, neckLeft, neckRight = nil, nil, nil, nil
		v.drawSplit(faint, none, "nose", func(p fitting.Vec) bool { return skull.encloses(onPaper(p)) || outsideHat(p) }, f.noseFromAbove())
	}
	over := func(patches ...patch) func(fitting.Vec) bool {
		return func(p fitting.Vec) bool {
			return skull.encloses(onPaper(p)) || slices.ContainsFunc(patches, func(a patch) bool { return a.encloses(onPaper(p)) }) || outsideHat(p)
		}
	}
	overFace, overNeck := over(), over(mask)
	if v.from.isBack() { // the neck is nearer
		overFace, overNeck = over(neck), over()
	}
	v.drawSplit(faint, none, "face", overFace, faceLeft, faceRight)
	v.drawSplit(faint, none, "neck", overNeck, neckLeft, neckRight)
	v.drawSplit(inked, none, "head", func(p fitting.Vec) bool {
		q := onPaper(p)
		return mask.encloses(q) || neck.encloses(q) || v.solids.covered(p) || outsideHat(p)
	}, outline)
	v.drawSplit(taped, none, "tape-line", func(p fitting.Vec) bool {
		return throughHead(v.Head, p, v.from.toward, 1-1e-9) || v.solids.behindHat(p)
	}, tapeLine(v.Head))
	v.drawFeatures(f)
}

// closed is the area between two sides.
func closed(from Camera, left, right []fitting.Vec) patch {
	l := from.project(left)
	for i := len(right) - 1; i >= 0; i-- {
		l = append(l, from.onPaper(right[i]))
	}
	return newPatch(l)
}

func (v *view) drawFeatures(f face) {
	away := func(p fitting.Vec) bool { return v.solids.behindHat(p) || f.turnedAway(p, v.from.toward) }
	behind := func(p fitting.Vec) bool { return v.solids.behind(p) }
	ear := v.Head.BehindEar(fitting.Left)
	for _, side := range [2]float64{1, -1} {
		at := func(shape []fitting.Vec) []fitting.Vec { return f.feature(f.eye, shape, side) }
		if v.facing() {
			v.drawSplit(faint, none, "eye", away, at(upperLid), at(lowerLid))
			v.drawSplit(faint, none, "nose", away, at(nostril))
			v.drawSplit(faint, none, "mouth", away, at(lips))
		}
		v.drawSplit(faint, none, "ear", behind, f.feature(ear, earRim, side), f.feature(ear, earInner, side))
	}
	for _, eye := range v.Head.Eyes() {
		if v.facing() && !away(eye) {
			v.dot(inked, "pupil", eye, 2.2)
		}
	}
}

// facing says whether something of her face is seen.
func (v *view) facing() bool { return !v.from.isBack() && !v.from.isAbove() }

// nearEar is the outline of the ear on the onlooker's side, behind which the
// elastic runs; nil when she looks at both.
func (v *view) nearEar() patch {
	if !v.from.isSide() {
		return patch{within: empty()}
	}
	f := newFace(v.Head)
	return newPatch(v.from.project(f.feature(v.Head.BehindEar(fitting.Left), earRim, v.from.toward.Y)))
}

func (v *view) drawElastic() {
	const spacing = 5 * fitting.Millimetre
	ear := v.nearEar()
	hidden := func(p fitting.Vec) bool {
		return ear.encloses(v.from.onPaper(p)) || v.solids.covered(p) || v.solids.behindHat(p) || throughHead(v.Elastic.Under, p, v.from.toward, 1-1e-7)
	}
	for _, s := range []struct {
		part string
		fitting.Strand
	}{{"left", v.Elastic.Left}, {"right", v.Elastic.Right}} {
		v.drawSplit(corded, under, s.part, hidden, s.Points(spacing))
		if !v.solids.behind(s.Anchor) {
			v.dot(corded, "anchor", s.Anchor, 2.2)
		}
	}
}

func (v *view) drawHat() {
	hidden := v.solids.behind
	brim := v.solids.cones[0]
	for _, thread := range weave(v.Result.Brim, brim) {
		v.drawThread(thread)
	}
	v.drawSplit(inked, unseen, "rim", hidden, ring(rim(v.Seat)))
	if hasLip(v.Solution) {
		v.drawSplit(inked, unseen, "brim-inner", hidden, ring(v.Brim.Inner))
		v.drawSplit(inked, none, "lip", hidden, v.solids.cones[1].outlines(v.from.toward)...)
	}
	v.drawSplit(inked, unseen, "brim-outer", hidden, ring(v.Brim.Outer))
	v.drawSplit(inked, none, "brim-side", hidden, brim.outlines(v.from.toward)...)
	if dome := v.solids.dome.outline(v.from.toward); dome != nil {
		v.drawSplit(inked, none, "dome", v.solids.behindHat, dome) // the head does not reach beyond its base
	}
	v.drawCrown()
}

// drawCrown marks the top of the head with a cross on its surface, and the
// base's centre with a dot.
func (v *view) drawCrown() {
	const arm = 5
	c := v.Head.Crown()
	long := []fitting.Vec{v.Head.OnSurface(c.Plus(fitting.Vec{X: arm})), c, v.Head.OnSurface(c.Plus(fitting.Vec{X: -arm}))}
	wide := []fitting.Vec{v.Head.OnSurface(c.Plus(fitting.Vec{Y: arm})), c, v.Head.OnSurface(c.Plus(fitting.Vec{Y: -arm}))}
	tall := []fitting.Vec{c.Plus(fitting.Vec{Z: arm}), c.Plus(fitting.Vec{Z: -arm})}
	v.draw(gauged, "crown", long, wide, tall)
}
