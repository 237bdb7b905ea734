package server

import (
	"context"
	"errors"
	"net/http"
	"slices"
	"strings"

	"github.com/gin-gonic/gin"

	"perchbook/orders"
)

// hatView is the client's own page: where her hat stands, and all that is hers.
type hatView struct {
	Base, Number, Occasion, DayWords, Address, Reach string
	Arrived                                          bool
	Now                                              string // what happens next, in a sentence
	Truth                                            string // whether there is time for her hat; "" when it need not be said
	Stages                                           []clientStage
	Hours                                            []hourView
	Offer                                            *heldView // an hour that is kept for her
	Choose                                           string    // where she books one herself, "" when she can't
	Problems                                         []mend
	Settled                                          *settledView
	Cost                                             *costView
	TryOn                                            bool // the hat may be with her to be tried on
	Care                                             bool // how it is worn and kept is to be read now
	Needed                                           []answerLine
	Added                                            []partView
	Later                                            bool           // something is left to be measured or answered
	Letters, Older                                   []clientLetter // the newest first
	Write, Enclosed                                  field
	Reached                                          string // where the studio's answer will come
}

// clientStage is a stage in the client's words, with the day on which it was entered.
type clientStage struct {
	Name, When, State string // State: "done", "here" or "ahead"
}

const recentLetters = 3 // shown at once; the others are folded

type clientLetter struct {
	From, When, Text string
	Photos, Papers   []photoLink
}

// stageWords name the stages to a client, and say what happens while a hat stands there.
var stageWords = map[orders.Stage]struct{ name, now string }{
	orders.Enquiry:    {"Asked for", "The studio has your enquiry and will write to you. Until then you can add to your answers here."},
	orders.Measured:   {"Measured", "The studio has your measurements and is working out a hat from them."},
	orders.Proposed:   {"Designed", "The studio has settled a design for you. It stands below. Tell the studio there whether you like it, or write what should be different."},
	orders.Agreed:     {"Agreed", "You and the studio have agreed. Your hat waits for its turn on the bench."},
	orders.InHand:     {"Being made", "Your hat is on the bench."},
	orders.InFitting:  {"Fitting", "Your hat is ready to be tried on."},
	orders.Finishing:  {"Finishing", "What the fitting showed is being put right, and the last stitches are made."},
	orders.Ready:      {"Ready", "Your hat is finished and waits for you."},
	orders.HandedOver: {"Yours", "Your hat is with you. Wear it well."},
	orders.Withdrawn:  {"Withdrawn", "This hat was called off. Write to the studio if you would like it after all."},
	orders.Lapsed:     {"Laid aside", "The studio has not heard from you for a while and has laid this hat aside. Write if you would still like it."},
}

func (s *Server) showHat(c *gin.Context, d door) error {
	return s.hatPage(c, http.StatusOK, d, wish{})
}

// wish is what she wrote about one appointment, or with none to the studio, and what was wrong with it.
type wish struct {
	appointment, text, problem string
	enclosed                   string // what was wrong with the files
	agreeing
}

func (s *Server) hatPage(c *gin.Context, status int, d door, w wish) error {
	ctx := c.Request.Context()
	desk, err := s.desk(ctx)
	if err != nil {
		return err
	}
	v := hatView{
		Base: d.Base, Number: d.Commission.Number, Address: s.Store.Origin() + d.Base, Reach: desk.studio.Reach,
		Occasion: d.occasion(), DayWords: d.say("The day is not fixed yet."), Later: d.leftForLater(),
		Arrived: c.Query("arrived") != "", Now: d.say(stageWords[d.Commission.Stage].now),
		Needed: d.neededLines(), Added: d.addedParts(true), Reached: d.Draft.Answers["reach"].Value,
		Write: field{Key: "body", Label: d.say("Write to the studio"), Hint: d.say("Ask, or say what you think. The answer will stand here.")},
	}
	v.Enclosed = field{Key: "enclosed", Label: d.say("Photographs or PDF files with it"), Hint: d.say("Up to four, a PDF of at most 8 MB."), Problem: w.enclosed}
	if st := d.Commission.Stage; st.Closed() || st == orders.HandedOver { // nothing is asked of her any more
		v.Needed = slices.DeleteFunc(v.Needed, func(l answerLine) bool { return l.Missing })
	}
	if w.appointment == "" {
		v.Write.Value, v.Write.Problem = w.text, w.problem
		v.Problems = mends(v.Write, v.Enclosed)
	}
	if d.Commission.Day != orders.NotFixed {
		v.DayWords = d.say("To be worn on %s.", orders.SayWorn(d.Commission.Day))
	}
	if err := s.fillHat(ctx, &v, d, desk, w); err != nil {
		return err
	}
	f := s.frame(c, d.say("Your hat %s", v.Number))
	if len(v.Problems) > 0 {
		f.Title = d.say("Problem: %s", f.Title)
	}
	s.render(c, status, "hat", f, v)
	return nil
}

func (s *Server) fillHat(ctx context.Context, v *hatView, d door, desk desk, w wish) error {
	history, err := s.Store.History(ctx, d.Commission.ID)
	if err != nil {
		return err
	}
	v.Stages = d.stagesOf(desk, d.Commission.Stage, history)
	if v.Truth, err = s.truthFor(ctx, d); err != nil {
		return err
	}
	booked, err := s.Store.Appointments(ctx, d.Commission.ID)
	if err != nil {
		return err
	}
	clocks, _, err := s.clocks(ctx, d, desk)
	if err != nil {
		return err
	}
	v.Hours = desk.hoursOf(d, clocks, booked, w)
	holds, err := s.Store.Holds(ctx, d.Commission.ID)
	if err != nil {
		return err
	}
	if len(holds) > 0 {
		v.Offer = d.held(holds[0], clocks)
	}
	if !d.Commission.Stage.Closed() {
		v.Choose = d.Base + "/hours"
	}
	for _, h := range v.Hours {
		v.Problems = append(v.Problems, h.mends()...)
	}
	sheets, err := s.Store.Sheets(ctx, d.Commission.ID)
	if err != nil {
		return err
	}
	if v.Settled, err = d.settledOf(desk, sheets); err != nil {
		return err
	}
	letters, err := s.lettersTo(ctx, desk, d)
	recent := min(len(letters), recentLetters)
	v.Letters, v.Older = letters[:recent], letters[recent:]
	if err != nil {
		return err
	}
	v.TryOn = v.Settled != nil && triedOn(d.Commission.Stage)
	v.Care = v.Settled != nil && cared(d.Commission.Stage)
	if v.Cost, err = s.costOf(ctx, d, desk, w.agreeing); err != nil {
		return err
	}
	v.Problems = append(v.Problems, v.Cost.mends()...)
	if !v.Cost.Open() { // agreeing to the cost says yes to the design too
		v.Settled.offerLiking(d, letters)
	}
	return nil
}

// leftForLater says whether a tape waits for the consultation.
func (d door) leftForLater() bool {
	for _, a := range d.Draft.Answers {
		if a.Value == orders.Later {
			return true
		}
	}
	return false
}

// stagesOf lays the stages out in order. The two ways out are shown only when taken.
func (d door) stagesOf(at desk, now orders.Stage, history []orders.Move) []clientStage {
	entered := map[orders.Stage]string{}
	for _, m := range history {
		entered[m.To] = d.day(at, m.At)
	}
	here := slices.Index(orders.Stages, now)
	var line []clientStage
	for i, st := range orders.Stages {
		stage := clientStage{Name: d.say(stageWords[st].name), State: "ahead"}
		switch {
		case i == here:
			stage.State, stage.When = "here", entered[st]
		case st.Closed():
			continue
		case now.Closed() && entered[st] == "":
			continue
		case i < here && (entered[st] != "" || !now.Closed()):
			stage.State, stage.When = "done", entered[st]
		}
		line = append(line, stage)
	}
	return line
}

// lettersTo lists what the studio and she have written to each other about this hat, newest first.
func (s *Server) lettersTo(ctx context.Context, at desk, d door) ([]clientLetter, error) {
	c := d.Commission
	all, err := s.Store.Letters(ctx, c.ClientID)
	if err != nil {
		return nil, err
	}
	var letters []clientLetter
	base := orders.CommissionPath + s.Store.CommissionLink(c)
	for _, l := range slices.Backward(all) {
		if l.Kind != orders.LetterTalk || l.CommissionID != "" && l.CommissionID != c.ID {
			continue
		}
		// the link in a letter leads to this very page
		l.Body = strings.ReplaceAll(l.Body, ": {link}", ".")
		text, err := s.Store.FillLinks(ctx, l)
		if err != nil {
			return nil, err
		}
		from := d.say("From you")
		if l.Out {
			from = d.say("From the studio")
		}
		letters = append(letters, clientLetter{from, d.hour(at, l.At), text, photosWith(d.Language, base, l), papersWith(d.Language, base, l)})
	}
	return letters, nil
}

// herAppointment is an appointment of this commission and of no other.
func (s *Server) herAppointment(c *gin.Context, d door) (orders.Appointment, error) {
	a, err := s.Store.Appointment(c.Request.Context(), c.Param("id"))
	if err == nil && a.CommissionID != d.Commission.ID {
		err = orders.ErrNotFound
	}
	return a, err
}

// receiveLetter takes what she wrote to the studio.
func (s *Server) receiveLetter(c *gin.Context, d door) error {
	if err := s.begins.allow("letter " + d.Commission.ID); err != nil {
		return err
	}
	form := readLetter(c)
	w := wish{text: form.body}
	if form.problem == nil {
		_, err := s.Store.Receive(c.Request.Context(), d.Commission.ID, form.body, form.uploads...)
		if err != nil && !errors.As(err, &form.problem) {
			return err
		}
	}
	switch p := form.problem; {
	case p != nil && p.Key == "enclosed":
		w.enclosed = d.heed(p)
	case p != nil:
		w.problem = d.heed(p)
	}
	if form.problem != nil {
		return s.hatPage(c, http.StatusUnprocessableEntity, d, w)
	}
	return onward(c, d.Base+"#letters")
}

func (s *Server) confirmAppointment(c *gin.Context, d door) error {
	a, err := s.herAppointment(c, d)
	if err != nil {
		return err
	}
	_, err = s.Store.Confirm(c.Request.Context(), a.ID)
	return s.answered(c, d, wish{appointment: a.ID}, err)
}

func (s *Server) askToMove(c *gin.Context, d door) error {
	a, err := s.herAppointment(c, d)
	if err != nil {
		return err
	}
	text := tidy(c.PostForm("wish-" + a.ID))
	_, err = s.Store.AskToMove(c.Request.Context(), a.ID, text)
	return s.answered(c, d, wish{appointment: a.ID, text: text}, err)
}

// answered shows her page again, with what was wrong if anything was.
func (s *Server) answered(c *gin.Context, d door, w wish, err error) error {
	var problem *orders.Problem
	if errors.As(err, &problem) {
		w.problem = d.heed(problem)
		return s.hatPage(c, http.StatusUnprocessableEntity, d, w)
	}
	if err != nil {
		return err
	}
	return onward(c, d.Base+"#hour-"+w.appointment)
}
