package fitting

// Advice is a hat with every figure there, and why.
type Advice struct {
	Hat      Hat
	Reasons  []Note // one for each figure that was advised, then the wishes that are not met
	Cautions []Note // what the figures given make impossible
}

// Advise fills in the figures that in.Hat leaves out; those that stand there are
// taken as given. It finds, among the hats inside the hard limits, the one that
// the soft pulls together like best, by a search that begins at fixed places and
// ends after a fixed number of trials: the same input gets the same advice.
//
// Where the figures given leave no hat inside the limits the nearest is advised,
// with a caution. The error is a [Refusal] when the head, the face or a figure
// given cannot be, or when nothing is given and no base on this head meets the
// event's rule.
func Advise(in Input) (Advice, error) {
	if in.Hat.Complete() {
		return givenHat(in), nil
	}
	k, err := newTask(in)
	if err != nil {
		return Advice{}, err
	}
	return k.advice()
}

// givenHat leaves nothing to advise.
func givenHat(in Input) Advice {
	return Advice{Hat: in.Hat, Reasons: append([]Note{}, unmetBy(in)...)}
}

func (k task) advice() (Advice, error) {
	chosen, other := k.settle()
	if chosen.exceeded > 0 && k.free() && k.in.Occasion.LeastBase != nil {
		return Advice{}, k.ruleTooLarge()
	}
	a := Advice{Hat: k.hat(chosen.trial.figures), Reasons: append(k.reasons(chosen, other), unmetBy(k.in)...)}
	if there, ok := k.taughtTo(chosen); ok {
		a.Hat = k.hat(there.trial.figures)
		a.Reasons = k.learnedSays(a.Reasons, chosen.trial, there.trial)
	}
	if chosen.exceeded > 0 {
		a.Cautions = nearest(chosen.found)
	}
	return a, nil
}

// chosenPresence is the one wished for, or the middle one without a wish.
func chosenPresence(in Input) Presence {
	if in.Wish.Presence == "" {
		return Balanced
	}
	return in.Wish.Presence
}

// task is one piece of advice to give.
type task struct {
	in      Input
	search  search // with the brim either way
	side    sideOf
	lessons []Lesson
}

func newTask(in Input) (task, error) {
	if err := in.words(); err != nil {
		return task{}, err
	}
	t, err := readTapes(in.Measures)
	if err != nil {
		return task{}, err
	}
	k := task{in: in, side: sideFor(in)}
	full := in
	full.Hat = k.hat(figures{})
	w, err := readWork(full)
	if err != nil {
		return task{}, err
	}
	p, err := readPerson(in, t, w)
	if err != nil {
		return task{}, err
	}
	if k.lessons, err = Learn(in.Learned); err != nil {
		return task{}, err
	}
	k.search.person = p
	k.search.low = figures{smallestBase, farthestBack, leastAside, narrowest, -steepest}
	k.search.high = figures{largestBase, farthestFront, mostAside, widest, steepest}
	return k, checkGiven(in.Hat, p)
}

// as is the same task for a hat of another presence.
func (k task) as(p Presence) task {
	person := *k.search.person
	person.presence = presenceOf(p, k.in.Wish.Presence)
	k.search.person = &person
	return k
}

// checkGiven refuses figures that no hat on this head has, whatever the others
// are.
func checkGiven(h Hat, p *person) error {
	if err := within("hat.base_mm", "The base's diameter", given(h.Base, leastBase), leastBase, mostBase); err != nil {
		return err
	}
	seat, err := NewSeat(p.head, leastBase, given(h.Forward, 0), given(h.Sideways, 0))
	if err != nil {
		return err
	}
	_, err = NewBrim(seat, given(h.BrimWidth, 0), given(h.BrimSlope, 0), p.lip, p.lipSlope)
	return err
}

// free says whether every figure is left to the advice.
func (k task) free() bool {
	h := k.in.Hat
	return h.Base == nil && h.Forward == nil && h.Sideways == nil && h.BrimWidth == nil && h.BrimSlope == nil
}

// hat is the given one with what is missing taken from the figures.
func (k task) hat(f figures) Hat {
	h := k.in.Hat
	fill(&h.Base, Length(f.base))
	fill(&h.Forward, Angle(f.forward))
	fill(&h.Sideways, Angle(k.side.sign*f.sideways))
	fill(&h.BrimWidth, Length(f.width))
	fill(&h.BrimSlope, Angle(f.slope))
	return h
}

func fill[T any](p **T, value T) {
	if *p == nil {
		*p = &value
	}
}
