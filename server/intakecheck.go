package server

import (
	"errors"
	"net/http"
	"slices"

	"github.com/gin-gonic/gin"

	"perchbook/orders"
)

// An answerLine is one answer in a summary, with the way to change it.
type answerLine struct {
	ID, Name, Words, Href string
	Missing, Advised      bool
	Doubt                 string // it does not go with another answer
}

// A partView is the answers under one heading.
type partView struct {
	Heading string
	Lines   []answerLine
}

type checkView struct {
	Base, Send, Back, Heading string
	Sent                      bool
	Address                   string // with which she comes back; "" once she has a page of her own
	First                     bool   // never here: she was told how to come back when she began
	Problems                  []mend
	Wanting                   string // says what is still to be answered
	Needed                    []answerLine
	Added                     []partView
	FirstMissing              string // where the first missing answer is given
	Advised                   []answerLine
	Tape                      tapeMeasure
	Heard                     []heard
	Agreement                 agreement
}

func (s *Server) showCheck(c *gin.Context, d door) error {
	s.checkAnswers(c, http.StatusOK, d)
	return nil
}

// checkAnswers shows everything she has said. With any status but OK what is missing is a problem.
func (s *Server) checkAnswers(c *gin.Context, status int, d door) {
	v := checkView{Base: d.Base, Send: d.Base + "/send", Back: d.Base, Heading: d.say("Check your answers"), Sent: d.sent(),
		Needed: d.neededLines(), Added: d.addedParts(true), Tape: d.measure("check"), Heard: d.heard(c.Query("kept")), Agreement: d.agreement()}
	if steps := d.steps(); !v.Sent && len(steps) > 0 {
		v.Back = d.ask(steps[len(steps)-1])
	}
	if !v.Sent {
		v.Address = s.Store.Origin() + d.Base
	}
	if v.Sent {
		v.Heading = d.say("Your answers")
	}
	v.Advised = d.advised()
	missing := v.missing(d, status != http.StatusOK)
	if missing > 0 {
		v.FirstMissing = d.resume()
		v.Wanting = d.Language.Put(orders.SayCount(missing, "One answer is still missing. Everything else is kept.", "%d answers are still missing. Everything else is kept."))
	}
	f := s.frame(c, v.Heading)
	if len(v.Problems) > 0 {
		f.Title = d.say("Problem: %s", v.Heading)
	}
	s.render(c, status, "check", f, v)
}

// missing counts the answers that are missing.
func (v *checkView) missing(d door, asProblems bool) int {
	n := 0
	for _, l := range v.Needed {
		if !l.Missing {
			continue
		}
		n++
		if asProblems {
			v.Problems = append(v.Problems, mend{l.ID, d.say("“%s” is still to be answered.", l.Name)})
		}
	}
	return n
}

// neededLines are the answers without which nothing can be sent.
func (d door) neededLines() []answerLine {
	doubts := map[string]string{}
	for _, p := range orders.Unlikely(d.Draft.Answers) {
		doubts[p.Key] = d.heed(&p)
	}
	var lines []answerLine
	for _, q := range orders.Questions {
		if !q.Needed || !q.Applies(d.Draft.Answers) || q.Key == privacyKey() {
			continue
		}
		words := d.shown(q)
		lines = append(lines, answerLine{ID: "a-" + q.Key, Name: d.say(q.Short), Words: words, Missing: words == "",
			Href: d.ask(q.Page) + "?from=" + fromCheck, Doubt: doubts[q.Key]})
	}
	return lines
}

// advised are what was not answered of the things that help most.
func (d door) advised() []answerLine {
	var lines []answerLine
	for _, q := range orders.Questions {
		if q.Advised && q.Applies(d.Draft.Answers) && d.Draft.Answers[q.Key].Value == "" {
			lines = append(lines, answerLine{Name: d.say(q.Short), Words: d.say(q.Why), Href: d.ask(q.Page) + "?from=" + fromCheck})
		}
	}
	return lines
}

// addedParts are the answers that may be left out, by heading: those given, or all.
func (d door) addedParts(given bool) []partView {
	var parts []partView
	for _, q := range orders.Questions {
		words := d.shown(q)
		if q.Needed || !q.Applies(d.Draft.Answers) || given && words == "" {
			continue
		}
		heading := d.say(q.Part)
		at := slices.IndexFunc(parts, func(p partView) bool { return p.Heading == heading })
		if at < 0 {
			at, parts = len(parts), append(parts, partView{Heading: heading})
		}
		line := answerLine{ID: "a-" + q.Key, Name: d.say(q.Short), Words: words, Href: d.ask(q.Page), Advised: q.Advised}
		if given || q.Offered {
			line.Href += "?from=" + fromCheck
		}
		parts[at].Lines = append(parts[at].Lines, line)
	}
	return parts
}

// sendIn turns the draft into a commission; sent twice, it leads to the same.
func (s *Server) sendIn(c *gin.Context, d door) error {
	commission, err := s.Store.Send(c.Request.Context(), d.Draft.ID)
	var problem *orders.Problem
	if errors.As(err, &problem) {
		s.checkAnswers(c, http.StatusUnprocessableEntity, d)
		return nil
	}
	if err != nil {
		return err
	}
	return onward(c, orders.CommissionPath+s.Store.CommissionLink(commission)+"?arrived=1")
}

type moreView struct {
	Base, Onward, OnwardLabel string
	Parts                     []partView
	Heard                     []heard
}

// showMore lists what she may add now or later.
func (s *Server) showMore(c *gin.Context, d door) error {
	v := moreView{Base: d.Base, Onward: d.Base + "/check", OnwardLabel: d.say("Go on to check and send"), Parts: d.addedParts(false), Heard: d.heard(c.Query("kept"))}
	if d.sent() {
		v.Onward, v.OnwardLabel = d.Base, d.say("Back to your hat")
	}
	s.render(c, http.StatusOK, "more", s.frame(c, d.say("More that helps")), v)
	return nil
}

type resumeView struct{ Base, Address, Onward, Name, Words string }

// showResume welcomes her back to a draft.
func (s *Server) showResume(c *gin.Context, d door) error {
	v := resumeView{Base: d.Base, Address: s.Store.Origin() + d.Base, Onward: d.resume(), Name: d.Draft.Answers["name"].Value,
		Words: d.say("Everything is answered that the studio needs. Look it over, and send it.")}
	left := 0
	for _, q := range orders.Questions {
		if q.Needed && q.MayApply(d.Draft.Answers) && d.Draft.Answers[q.Key].Value == "" {
			left++
		}
	}
	if left > 0 {
		v.Words = d.Language.Put(orders.SayCount(left, "What you have answered is kept. One question is left before you can send it.", "What you have answered is kept. %d questions are left before you can send it."))
	}
	s.render(c, http.StatusOK, "resume", s.frame(c, d.say("Your enquiry so far")), v)
	return nil
}
