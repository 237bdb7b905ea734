package fitting

// A TapeCheck is the tape that fits the others least.
type TapeCheck struct {
	Field  string  // of the contract, "measures.ear_to_ear_mm"; "" where nothing checks anything
	Taken  Length  // what it shows
	Others Length  // what the others make of it
	Off    float64 // how far that is, in standard deviations of what both may be off by
}

// Agree says whether the tapes go together as well as tapes do: the same two standard deviations from
// which the cautions name one.
func (c TapeCheck) Agree() bool { return c.Off <= noticedOff }

// CheckTapes holds each tape against the head that the others make likeliest. With one tape more than
// are needed it can't be told which is off; it is then the one that is not always taken. It fails with
// the Refusal of a tape that no head of this girth has.
func CheckTapes(m Measures) (TapeCheck, error) {
	t, err := singleTapes(m)
	if err != nil {
		return TapeCheck{}, err
	}
	t.solve(m)
	w, off := t.worst()
	return TapeCheck{w.field, Length(w.taken), w.other, off}, nil
}
