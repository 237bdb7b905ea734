package orders

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
