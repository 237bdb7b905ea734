package orders

import "slices"

// A Stage is where a commission stands.
type Stage string

// The stages in their usual order, and the two ways out.
const (
	Enquiry    Stage = "enquiry"
	Measured   Stage = "measured"
	Proposed   Stage = "proposed"
	Agreed     Stage = "agreed"
	InHand     Stage = "in hand"
	InFitting  Stage = "fitting"
	Finishing  Stage = "finishing"
	Ready      Stage = "ready"
	HandedOver Stage = "handed over"
	Withdrawn  Stage = "withdrawn"
	Lapsed     Stage = "lapsed"
)

// Stages lists all stages in their usual order.
var Stages = []Stage{Enquiry, Measured, Proposed, Agreed, InHand, InFitting, Finishing, Ready, HandedOver, Withdrawn, Lapsed}

// allowed says where a commission may go from each stage: first the usual next one, then jumps and
// steps back, then the ways out.
var allowed = map[Stage][]Stage{
	Enquiry:    {Measured, Withdrawn, Lapsed},
	Measured:   {Proposed, Enquiry, Withdrawn, Lapsed},
	Proposed:   {Agreed, Measured, Withdrawn, Lapsed},
	Agreed:     {InHand, Proposed, Measured, Withdrawn, Lapsed},
	InHand:     {InFitting, Finishing, Agreed, Proposed, Measured, Withdrawn, Lapsed}, // Finishing: fitted by post
	InFitting:  {Finishing, Ready, InHand, Agreed, Proposed, Measured, Withdrawn, Lapsed},
	Finishing:  {Ready, InFitting, InHand, Proposed, Withdrawn, Lapsed},
	Ready:      {HandedOver, Finishing, InFitting, InHand, Proposed, Withdrawn, Lapsed},
	HandedOver: {Ready, Finishing, InFitting}, // it came back
	Withdrawn:  {Enquiry, Measured, Proposed, Agreed, InHand, InFitting, Finishing, Ready},
	Lapsed:     {Enquiry, Measured, Proposed, Agreed, InHand, InFitting, Finishing, Ready},
}

// Moves lists the stages that may be entered from this one, the usual one first.
func (s Stage) Moves() []Stage { return slices.Clone(allowed[s]) }

// Closed says whether the commission has left the workroom: withdrawn or lapsed.
func (s Stage) Closed() bool { return s == Withdrawn || s == Lapsed }

// Checked says whether the finishing check is made at that stage.
func (s Stage) Checked() bool {
	return s != HandedOver && !s.Closed() && slices.Contains(allowed[s], Ready)
}

// WantsWhy says whether going to that stage needs a reason: every move but the usual next one.
func (s Stage) WantsWhy(to Stage) bool {
	from, there := slices.Index(Stages, s), slices.Index(Stages, to)
	return s.Closed() || to.Closed() || there != from+1
}
