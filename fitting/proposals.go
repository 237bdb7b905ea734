package fitting

// Proposal is one complete hat for a wearer: what is advised for one presence,
// worked out in full.
type Proposal struct {
	Presence Presence
	Chosen   bool     // the one that Fit returns: of the presence wished for, or the balanced one
	Hat      Hat      // every figure
	Solution Solution // its Result with the reasons and cautions of the advice
	Trades   []string // what this hat is beside the other proposals, each a plain sentence
}

// Alternative is a proposal of another presence in short, as the contract has it.
type Alternative struct {
	Presence Presence `json:"presence"`
	Hat      Hat      `json:"hat"` // every figure: as the hat of an input it gives this proposal in full
	Summary  Summary  `json:"summary"`
	Trades   []string `json:"trades"`
}

// Summary holds the figures by which proposals are told apart.
type Summary struct {
	Across    Length    `json:"across_mm"` // the brim's outer diameter
	Height    Length    `json:"height_mm"` // that the brim adds above the head
	Ahead     Angle     `json:"view_ahead_deg"`
	Shear     Angle     `json:"shear_deg"`
	Mass      Mass      `json:"mass_g"`
	SlipsAt   float64   `json:"slips_at_mps"`
	Beaufort  int       `json:"beaufort"`
	Fastening Fastening `json:"fastening"`
	ClothFits bool      `json:"cloth_fits"`
	Cut       Length    `json:"elastic_cut_mm"`
}

// Proposals returns a quiet, a balanced and a bold hat for the input, in this
// order, each advised as by [Advise] and worked out as by [Solve], with what each
// trades against the others. One that cannot be made is left out. Where nothing is
// left to advise there is one, the hat given. The error is a [Refusal] when the
// proposal of the presence wished for, or the balanced one without a wish, cannot
// be.
func Proposals(in Input) ([]Proposal, error) {
	if in.Hat.Complete() {
		p, err := propose(in, chosenPresence(in), givenHat(in))
		return []Proposal{p}, err
	}
	k, err := newTask(in)
	if err != nil {
		return nil, err
	}
	var all []Proposal
	for _, presence := range presences {
		p, err := k.proposal(presence)
		if err == nil {
			all = append(all, p)
		} else if presence == chosenPresence(in) {
			return nil, err
		}
	}
	return traded(all), nil
}

func (k task) proposal(presence Presence) (Proposal, error) {
	advice, err := k.as(presence).advice()
	if err != nil {
		return Proposal{}, err
	}
	return propose(k.in, presence, advice)
}

func propose(in Input, presence Presence, a Advice) (Proposal, error) {
	chosen := presence == chosenPresence(in)
	in.Hat = a.Hat
	s, err := Solve(in)
	if err != nil {
		return Proposal{}, err
	}
	s.Result.Reasons = append(a.Reasons, s.Result.Reasons...)
	s.Result.Cautions = append(a.Cautions, s.Result.Cautions...)
	return Proposal{presence, chosen, a.Hat, s, []string{}}, nil
}

// Summary is what the proposal comes to.
func (p Proposal) Summary() Summary {
	r := p.Solution.Result
	return Summary{
		Across: p.Solution.Brim.across(), Height: p.Solution.height(), Ahead: r.View.Ahead, Shear: r.Brim.Shear, Mass: r.Hold.Mass,
		SlipsAt: r.Hold.SlipsAt, Beaufort: r.Hold.Beaufort, Fastening: r.Hold.Fastening, ClothFits: r.Cloth.Fits, Cut: r.Elastic.Cut,
	}
}

func (p Proposal) alternative() Alternative {
	return Alternative{p.Presence, p.Hat, p.Summary(), p.Trades}
}

func (b Brim) across() Length { return Length(2 * b.Outer.Radius) }

// height is how far the brim's highest point is above the head, zero when it is
// not.
func (s Solution) height() Length {
	up := Vec{0, 0, 1}
	return max(0, Length(max(s.Brim.Inner.reach(up), s.Brim.Outer.reach(up)))-s.Head.C)
}
