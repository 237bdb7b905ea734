package server

import (
	"cmp"
	"slices"
	"strings"

	"github.com/gin-gonic/gin"

	"perchbook/orders"
	"perchbook/templates"
)

// asked is one question as a page shows it. What was typed survives, right or wrong.
type asked struct {
	orders.Question
	Language templates.Language
	Lone     bool     // the only one on its page: its label is the heading
	Kept     bool     // an answer to it is kept
	Typed    []string // what stands in the fields
	Problem  string
	Unsure   bool // the problem is a question that she can answer with yes
	More     bool // one more reading is wanted
	Picks    []pick
	Pictured bool // the options have drawings of their own
	Swatched bool // the options are colours
	AtHand   bool // its problem is seen without looking for it
	Photos   []photoLink
}

// pick is one option of a choice.
type pick struct {
	ID, Value, Label, Drawing string
	Swatch                    string // colour that it stands for, #rrggbb
	Chosen                    bool
}

// reading is one of the fields for a tape that is laid several times.
type reading struct {
	ID, Label, Value string
	Heard            string // as it was understood; not while she still measures, so that it is not copied
}

// ID is that of the question's first control, where the list of problems points.
func (a asked) ID() string { return "f-" + a.Key }

// Sample shows how a reading may be written: the middle of what can be, so that it hints at nothing.
func (a asked) Sample() string {
	middle := (a.Min + a.Max) / 2
	return a.Language.Say("%.1f cm or %d ½ in", middle/10, int(middle/25.4))
}

// First is what stands in the only field.
func (a asked) First() string { return strings.Join(a.Typed, "\n") }

// Heard is one length as it was understood, beside its field.
func (a asked) Heard() string {
	if a.Kind != orders.Length {
		return ""
	}
	return a.Language.Put(a.Echo(a.First()))
}

// Long says that a text is written over several lines.
func (a asked) Long() bool { return a.Max > orders.OneLine }

// FillIn is the browser's name for what it may fill in by itself.
func (a asked) FillIn() string {
	if a.Key == "name" {
		return "name"
	}
	return "off"
}

var readingNames = [...]string{"First reading", "Second reading", "Third reading", "Fourth reading", "Fifth reading", "Sixth reading"}

// Readings are three fields, and one more once three disagree.
func (a asked) Readings() []reading {
	filled := slices.DeleteFunc(slices.Clone(a.Typed), func(s string) bool { return strings.TrimSpace(s) == "" })
	n := max(3, min(len(filled), len(readingNames)))
	if a.More && len(filled) == n && n < len(readingNames) {
		n++
	}
	all := make([]reading, n)
	for i := range all {
		all[i] = reading{ID: a.ID(), Label: a.Language.Say(readingNames[i])}
		if i > 0 {
			all[i].ID += "-" + string(rune('1'+i))
		}
		if i < len(filled) {
			all[i].Value = filled[i]
			if done := len(filled) >= 3 || a.Kept; done && !a.More {
				all[i].Heard = a.Language.Put(a.Echo(filled[i]))
			}
		}
	}
	return all
}

func (d door) askedOf(q orders.Question, typed []string, problem *orders.Problem) asked {
	q = q.In(d.say)
	a := asked{Question: q, Typed: typed, Language: d.Language}
	if problem != nil {
		a.Problem, a.Unsure, a.More = d.heed(problem), problem.Confirmable, problem.NeedsMore
	}
	options := q.Options
	if q.Kind == orders.Consent {
		options = []orders.Option{{Value: orders.Yes, Label: d.say("Yes, it may")}, {Value: "no", Label: d.say("No")}}
	}
	for i, o := range options {
		p := pick{ID: a.ID(), Value: o.Value, Label: o.Label, Swatch: q.Swatch(o.Value), Chosen: slices.Contains(typed, o.Value)}
		a.Swatched = a.Swatched || p.Swatch != ""
		if i > 0 {
			p.ID += "-" + o.Value
		}
		if name := q.Key + "-" + o.Value; templates.Drawn(name) {
			p.Drawing, a.Pictured = name, true
		}
		a.Picks = append(a.Picks, p)
	}
	return a
}

// typedOf puts a kept answer back into the fields as it was typed.
func typedOf(q orders.Question, kept orders.Answer) []string {
	switch q.Kind {
	case orders.Choice, orders.Choices, orders.Photograph:
		return strings.Fields(kept.Value)
	case orders.Consent:
		if kept.Value == "" && kept.Said != "" {
			return []string{"no"}
		}
		return strings.Fields(kept.Value)
	case orders.Readings:
		if kept.Value == orders.Later {
			return nil
		}
		return strings.Split(kept.Said, "; ")
	case orders.Date:
		if kept.Value == orders.NotFixed {
			return []string{q.Show(kept)} // in words that are understood when they come back
		}
	}
	return []string{kept.Said}
}

// askView is one screen of questions.
type askView struct {
	Base, Action, Back, Heading string
	Asked                       []asked
	Lone                        bool // one question alone
	AtHand                      bool // with nothing between its heading and its problem
	NextWords                   string
	Problems                    []mend
	Unsure                      bool // nothing is wrong; something is asked back
	Doubted                     bool // one of the problems can be answered with yes
	Tape                        tapeMeasure
	Heard                       []heard
	Agreement                   agreement // after a tape was kept
	Skip, SkipWords             string    // question, or page of several, that may be left out, and its button
	Address                     string    // with which she comes back; "" once she has a page of her own
	First                       bool      // the first screen tells how to come back
	Photograph, HasPhotos       bool
	Points                      bool   // points are marked here, on a picture that stays with her
	Next                        string // where to go on from a photograph, which has nothing more to send
}

// agreement is whether her tapes go together, with the way to those that she may take again.
type agreement struct {
	Agree bool
	Text  string
	Again []answerLine
}

func (d door) agreement() agreement {
	all := d.Draft.Answers.Agreement()
	shown := agreement{Agree: all.Agree, Text: d.Language.Put(all.Text)}
	for _, key := range all.Again {
		q, _ := orders.Questions.Find(key)
		shown.Again = append(shown.Again, answerLine{Name: d.say(q.Short), Href: d.ask(q.Page) + "?from=" + fromCheck})
	}
	return shown
}

// heard is an answer said back.
type heard struct{ Name, Words string }

// pageHeadings name the screens that hold several questions.
var pageHeadings = map[string]string{"you": "Who is it for?", "occasion": "What is it for, and when?", "face_tapes": "Four tapes of your face", "outfit_colours": "The colours of your outfit"}

func (s *Server) askPage(c *gin.Context, status int, d door, all []asked) {
	page, from := c.Param("page"), c.Query("from")
	v := askView{Base: d.Base, Action: d.ask(page), Back: d.back(page, from, c.Query("kept")), Next: d.after(page, from), Asked: all, Lone: len(all) == 1, NextWords: d.say("Next"),
		Heading: cmp.Or(d.say(pageHeadings[page]), all[0].Label), Tape: d.measure(page), Heard: d.heard(c.Query("kept")), Unsure: true}
	v.AtHand = v.Lone && all[0].Picture == "" && len(all[0].Photos) == 0
	if from == fromCheck {
		v.Action += "?from=" + fromCheck
	}
	if from == fromCheck || d.sent() {
		v.NextWords = d.say("Keep this")
	}
	for i := range all {
		all[i].AtHand = v.AtHand
		all[i].Lone, all[i].Kept = v.Lone, d.Draft.Answers[all[i].Key].Value != ""
		v.weigh(d, all[i])
	}
	if kept, ok := orders.Questions.Find(c.Query("kept")); ok && kept.Kind == orders.Readings {
		v.Agreement = d.agreement()
	}
	if !d.sent() {
		v.Address, v.First = s.Store.Origin()+d.Base, page == d.steps()[0]
	}
	if v.Points {
		c.Header("Content-Security-Policy", policy("'self' data: blob:"))
	}
	f := s.frame(c, v.Heading)
	if len(v.Problems) > 0 {
		f.Title = d.say("Problem: %s", v.Heading)
	}
	s.render(c, status, "question", f, v)
}

// weigh takes note of one question for the page as a whole.
func (v *askView) weigh(d door, a asked) {
	if a.Problem != "" {
		v.Problems = append(v.Problems, mend{a.ID(), a.Problem})
		v.Unsure = v.Unsure && (a.Unsure || a.More)
		v.Doubted = v.Doubted || a.Unsure
	}
	if !a.Needed {
		v.Skip, v.SkipWords = a.Key, d.say("Leave this out")
		if !v.Lone {
			v.Skip, v.SkipWords = a.Page, d.say("Leave these out")
		}
		if a.Kept && a.Private() {
			v.SkipWords = d.say("Erase this note")
		}
	}
	v.Photograph = v.Photograph || a.Kind == orders.Photograph
	v.Points = v.Points || a.Kind == orders.Points
	v.HasPhotos = v.HasPhotos || len(a.Photos) > 0
}

// shown says a kept answer back, "" where there is none.
func (d door) shown(q orders.Question) string {
	return d.Language.Put(q.Phrase(d.Draft.Answers[q.Key]))
}

// heard says the answers of a page back, if that is a page and they are there.
func (d door) heard(page string) []heard {
	var all []heard
	for _, q := range orders.Questions.On(page, d.Draft.Answers) {
		if words := d.shown(q); words != "" && q.Kind != orders.Photograph {
			all = append(all, heard{d.say(q.Short), words})
		}
	}
	return all
}
