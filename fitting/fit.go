package fitting

import "cmp"

// Solution is a hat on a head as figures and as geometry, for drawing and for
// whatever else is worked out from its shape.
type Solution struct {
	Result  Result
	Head    Head
	Seat    Seat
	Brim    Brim
	Elastic Elastic
}

// Fit returns the hat for the input, of the presence wished for or the balanced
// one without a wish, and the other [Proposals] in short. What stands in in.Hat is
// taken as given; what is missing there is advised: see [Advise]. The error is a
// [Refusal] when the head or the hat cannot be.
func Fit(in Input) (Result, error) {
	all, err := Proposals(in)
	if err != nil {
		return Result{}, err
	}
	return FitOf(all), nil
}

// FitOf is the result of [Fit] from the [Proposals] of the same input.
func FitOf(all []Proposal) (r Result) {
	others := []Alternative{}
	for _, p := range all {
		if p.Chosen {
			r = p.Solution.Result
		} else {
			others = append(others, p.alternative())
		}
	}
	r.Alternatives = others
	return r
}

// Solve works out a hat of which nothing is left to advise: see [Hat.Complete].
// The error is a [Refusal] when the head or the hat cannot be, or when one of its
// figures is missing.
func Solve(in Input) (Solution, error) {
	if err := in.words(); err != nil {
		return Solution{}, err
	}
	t, err := readTapes(in.Measures)
	if err != nil {
		return Solution{}, err
	}
	w, err := readWork(in)
	if err != nil {
		return Solution{}, err
	}
	var s Solution
	s.Head = t.head()
	if s.Seat, err = NewSeat(s.Head, w.base, w.forward, w.sideways); err != nil {
		return Solution{}, err
	}
	if s.Brim, err = NewBrim(s.Seat, w.brim, w.slope, w.lip, w.lipSlope); err != nil {
		return Solution{}, err
	}
	if w.anchors, err = s.anchors(in, w); err != nil {
		return Solution{}, err
	}
	if s.Elastic, err = NewElasticAt(s.Head, s.Seat, in.Hair.Thickness, w.anchors); err != nil {
		return Solution{}, err
	}
	s.Result, err = s.figures(in, t, w)
	return s, err
}

func (s Solution) figures(in Input, t tapes, w work) (Result, error) {
	pattern := s.Brim.Pattern()
	strip, err := pattern.Strip(w.folds)
	if err != nil {
		return Result{}, err
	}
	face, err := readFace(in.Face, t.girth, in.Measures.Sex)
	if err != nil {
		return Result{}, err
	}
	crown, err := s.fromCrown()
	if err != nil {
		return Result{}, err
	}
	hold, err := HoldOf(s.Head, s.Seat, s.Brim, s.Elastic, w.hold)
	if err != nil {
		return Result{}, err
	}
	if w.stretch, err = w.stretchAt(hold.Tension); err != nil {
		return Result{}, err
	}
	taught, err := Learn(in.Learned)
	if err != nil {
		return Result{}, err
	}
	doubt := s.Elastic.plusMinus(worn{s.Head, w.base, in.Hair.Thickness, w.forward, w.sideways, w.anchors}, t.likeliest, crown)
	r := Result{
		Head: s.Head,
		Base: Base{
			Diameter: w.base, CutDiameter: s.Seat.CutDiameter(), Sag: Length(s.Seat.Sag),
			Doming: s.Seat.Doming(), Layers: len(in.Hat.Layers.Turns()), Rule: cmp.Or(in.Hat.Layers, FourOneWay), Block: in.Workroom.block(w.base),
		},
		Placement: s.placement(w, crown.Length),
		Brim:      pattern,
		Strip:     strip,
		Elastic:   s.elasticCut(in, w, doubt.Worn).corrected(taught),
		PlusMinus: doubt,
		View:      NewView(s.Head, s.Brim),
		Hold:      hold,
		Lessons:   taught,
		Face:      face.read(),
		Trim:      Trimming{given(in.Hat.Trim, usualTrim), given(in.Hold.TrimHeight, usualTrimHeight)},
		Reasons:   elasticSays(taught), Alternatives: []Alternative{},
	}
	s.Result = r
	if r.Cloth, err = LayOf(s.Pieces(in.Hat.Layers, given(in.Hat.Trim, usualTrim)), in.Cloth); err != nil {
		return Result{}, err
	}
	r.Cloth.Notions = s.Notions()
	r.Cautions = append(cautions(in, t, r), r.Cloth.short()...)
	r.Cautions = append(append(r.Cautions, s.aboutKnot(in.Hair.Knot)...), s.aboutShoulders(in.Wearer)...)
	r.Cautions = append(r.Cautions, hold.Cautions(w.hold)...)
	if w.reel != nil {
		r.Cautions = append(r.Cautions, w.reel.cautions(hold.Tension)...)
	}
	return r, nil
}

// fromCrown is the way from the crown to the base's centre.
func (s Solution) fromCrown() (Strand, error) {
	on := newSurface(s.Head)
	way, ok := on.connect(s.Head.Crown(), s.Seat.Centre)
	if !ok {
		return Strand{}, Refusal{"hat.forward_deg", "No way could be found from the crown to this place. Tilt the base less."}
	}
	return newStrand(on, s.Seat.Centre, false, []path{way}), nil
}

func (s Solution) placement(w work, crownToCentre Length) Placement {
	p := Placement{
		Forward: w.forward, Sideways: w.sideways, Side: Middle,
		CrownToCentre: crownToCentre, Clock: s.Seat.clock(), TapeLineToRim: s.Head.tapeLineToRim(s.Seat),
	}
	switch {
	case w.sideways > 0:
		p.Side = Left
	case w.sideways < 0:
		p.Side = Right
	}
	return p
}

func (s Solution) elasticCut(in Input, w work, wornPlusMinus Length) ElasticCut {
	left, right := s.Elastic.Left, s.Elastic.Right
	stretched := Length(1 + w.stretch)
	e := ElasticCut{
		LeftPath: left.Length, RightPath: right.Length,
		LeftBehindEar: left.BehindEar, RightBehindEar: right.BehindEar,
		Worn:      left.Length + right.Length,
		PlusMinus: wornPlusMinus / stretched,
		Stretch:   w.stretch, LeftAnchor: w.anchors.Left, RightAnchor: w.anchors.Right, Colour: in.Elastic.Colour,
	}
	if w.reel != nil {
		e.Reel = in.Learned.Reel
	}
	e.Relaxed = e.Worn / stretched
	e.Cut = e.Relaxed + 2*w.knot
	return e
}
