package orders

import (
	"maps"
	"time"
)

// Understand parses what was said for a question and weighs it against her other answers, as page
// and chat both do before they keep it. A *Problem is as from Parse, or doubts a tape that does not
// go with another one. What she has confirmed before she is not asked about again.
func (q Question) Understand(s Said, before Answers, today time.Time) (Answer, *Problem) {
	sure := s
	sure.Sure = true
	kept := before[q.Key]
	if again, p := q.Parse(sure, today); p == nil && kept.Confirmed && again.Value == kept.Value {
		s = sure
	}
	a, p := q.Parse(s, today)
	if p != nil {
		return a, p
	}
	with := Answers{}
	maps.Copy(with, before)
	with[q.Key] = a
	for _, doubt := range Unlikely(with) {
		if doubt.Key != q.Key {
			continue
		}
		if !s.Sure {
			return Answer{}, &doubt
		}
		a.Confirmed = true
	}
	return a, nil
}
