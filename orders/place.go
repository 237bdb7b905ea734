package orders

import "slices"

// Applies says whether the question is asked of someone with these answers.
func (q Question) Applies(a Answers) bool {
	return q.Only.holds(a) && !slices.ContainsFunc(q.Also, func(c If) bool { return !c.holds(a) })
}

// MayApply says whether the question is asked already, or will be if answers still to come allow it.
func (q Question) MayApply(a Answers) bool {
	rules := func(c If) bool { return a[c.Key].Value != "" && !c.holds(a) }
	return !rules(q.Only) && !slices.ContainsFunc(q.Also, rules)
}

func (c If) holds(a Answers) bool {
	value := a[c.Key].Value
	return c.Key == "" || slices.Contains(c.Is, value) || value != "" && slices.Contains(c.Is, Given) ||
		value != "" && value != Later && slices.Contains(c.Is, Taken)
}

// Find returns the question with that key, and false when there is none.
func (in Intake) Find(key string) (Question, bool) {
	i := slices.IndexFunc(in, func(q Question) bool { return q.Key == key })
	if i < 0 {
		return Question{}, false
	}
	return in[i], true
}

// OnTheWay says whether it is asked before sending.
func (q Question) OnTheWay() bool { return q.Needed || q.Offered }

// Next returns the first question on the way to sending that is still to be asked: a needed one without
// an answer, or an offered one that was neither answered nor left out; false when there is none. The
// place in the conversation is worked out from the answers every time and is stored nowhere.
func (in Intake) Next(a Answers) (Question, bool) {
	return in.first(a, func(q Question) bool {
		_, dealtWith := a[q.Key]
		return q.Needed && a[q.Key].Value == "" || q.Offered && !dealtWith
	})
}

// Missing returns the first needed question without an answer, and false when all may be sent.
func (in Intake) Missing(a Answers) (Question, bool) {
	return in.first(a, func(q Question) bool { return q.Needed && a[q.Key].Value == "" })
}

func (in Intake) first(a Answers, wanted func(Question) bool) (Question, bool) {
	i := slices.IndexFunc(in, func(q Question) bool { return q.Applies(a) && wanted(q) })
	if i < 0 {
		return Question{}, false
	}
	return in[i], true
}

// Pages lists in order the screens on the way to sending that apply.
func (in Intake) Pages(a Answers) []string { return in.screens(a, true, Question.Applies) }

// Ahead lists the screens of Pages and those that answers still to come may add.
func (in Intake) Ahead(a Answers) []string { return in.screens(a, true, Question.MayApply) }

// Extras lists in order the screens of the other questions that apply.
func (in Intake) Extras(a Answers) []string { return in.screens(a, false, Question.Applies) }

func (in Intake) screens(a Answers, onTheWay bool, asks func(Question, Answers) bool) []string {
	var pages []string
	for _, q := range in {
		if q.OnTheWay() == onTheWay && asks(q, a) && !slices.Contains(pages, q.Page) {
			pages = append(pages, q.Page)
		}
	}
	return pages
}

// On lists the questions of a page that apply.
func (in Intake) On(page string, a Answers) []Question {
	var on []Question
	for _, q := range in {
		if q.Page == page && q.Applies(a) {
			on = append(on, q)
		}
	}
	return on
}

// Before returns the question asked before key, for going back, and false for the first.
func (in Intake) Before(key string, a Answers) (Question, bool) {
	var before Question
	for _, q := range in {
		if q.Key == key {
			return before, before.Key != ""
		}
		if q.Applies(a) {
			before = q
		}
	}
	return Question{}, false
}
