package server

import (
	"net/http"
	"time"
	"unicode/utf8"

	"github.com/gin-gonic/gin"

	"perchbook/orders"
)

// measureForm is a measure card as the milliner writes it.
type measureForm struct {
	commissionHead
	Problems []mend
	Tapes    []measureField
	Callipers,
	Note []field
	Child bool
}

// A measureField is the readings of one tape. The first carries the problem.
type measureField struct {
	Key, Name, Problem string
	Readings           []field
	Sure               *tickBox // asked when the value is unlikely or the readings disagree
}

type tickBox struct {
	Key, Label string
	Ticked     bool
}

// most readings of one tape on the form; three are usual
const readingFields = 4

// callipers are the two figures that only the maker takes.
var callipers = []orders.Question{
	{Key: "head_length", Short: "Head length", Hint: "Callipers, from between the brows to the back of the head.", Kind: orders.Length, Min: 100, Max: 260},
	{Key: "head_breadth", Short: "Head breadth", Hint: "Callipers, across the widest part above the ears.", Kind: orders.Length, Min: 100, Max: 260},
}

const longestNote = 2000 // letters

func tapeQuestions() []orders.Question {
	var list []orders.Question
	for _, key := range []string{"girth", "nape", "ear_to_ear", "brow_to_nape"} {
		q, _ := orders.Questions.Find(key)
		q.Needed = false
		list = append(list, q)
	}
	return list
}

func (s *Server) showMeasure(c *gin.Context) error {
	f, err := s.file(c.Request.Context(), c.Param("id"))
	if err != nil {
		return err
	}
	form, _ := readMeasure(c, f)
	return s.measurePage(c, http.StatusOK, form)
}

func (s *Server) measurePage(c *gin.Context, status int, form measureForm) error {
	name := "Measure card for " + form.Number
	if len(form.Problems) > 0 {
		name = "Problem: " + name
	}
	s.render(c, status, "measure", s.frame(c, name), form)
	return nil
}

func (s *Server) saveMeasure(c *gin.Context) error {
	ctx := c.Request.Context()
	f, err := s.file(ctx, c.Param("id"))
	if err != nil {
		return err
	}
	form, card := readMeasure(c, f)
	if len(form.Problems) == 0 {
		_, err = s.Store.AddCard(ctx, card)
		if p, ok := asProblem(err); ok {
			form.blame(*p)
		} else if err != nil {
			return err
		}
	}
	if len(form.Problems) > 0 {
		return s.measurePage(c, http.StatusUnprocessableEntity, form)
	}
	kept := "The measure card is kept."
	for _, t := range tapesOf(card) {
		kept += " " + t.Name + ": " + t.Mean + " (" + t.Inches + ")."
		if t.Apart != "" {
			kept += " " + t.Apart
		}
	}
	s.note(c, kept)
	return onward(c, form.Base)
}

// readMeasure reads the form; what was typed stays in it, right or wrong.
func readMeasure(c *gin.Context, f file) (measureForm, orders.MeasureCard) {
	form := measureForm{commissionHead: headOf(f), Child: f.Fitted.Child}
	card := orders.MeasureCard{CommissionID: f.ID, TakenBy: orders.ByMaker, Note: tidy(c.PostForm("note"))}
	into := []*[]float64{&card.Girth, &card.NapeToCrown, &card.EarToEar, &card.BrowToNape}
	for i, q := range tapeQuestions() {
		field, mm := readTape(c, q, f.now)
		form.Tapes, *into[i] = append(form.Tapes, field), mm
		form.Problems = append(form.Problems, mends(field.Readings...)...)
	}
	lengths := []*float64{&card.HeadLength, &card.HeadBreadth}
	for i, q := range callipers {
		field, mm := readLength(q, c.PostForm(q.Key), f.now)
		form.Callipers = append(form.Callipers, field)
		*lengths[i] = mm
	}
	note := field{Key: "note", Label: "Note", Hint: "What mattered: hair, a tender spot, how the tape lay.", Value: card.Note}
	if utf8.RuneCountInString(card.Note) > longestNote {
		note.Problem = "The note is longer than 2000 letters. Shorten it a little."
	}
	form.Note = []field{note}
	form.Problems = append(form.Problems, mends(append(form.Callipers, note)...)...)
	return form, card
}

// readTape reads up to four readings of one tape through the same parser as the client's door.
func readTape(c *gin.Context, q orders.Question, today time.Time) (measureField, []float64) {
	m := measureField{Key: q.Key, Name: q.Short}
	said := orders.Said{Text: c.PostFormArray(q.Key), Sure: c.PostForm("sure-"+q.Key) != "", Enough: true}
	for i := range readingFields {
		f := field{Key: q.Key + "-" + ordinals[i], Label: title(ordinals[i]) + " reading"}
		if i < len(said.Text) {
			f.Value, f.Heard = said.Text[i], q.Echo(said.Text[i]).String()
		}
		m.Readings = append(m.Readings, f)
	}
	a, p := q.Parse(said, today)
	if p == nil {
		return m, a.Millimetres()
	}
	m.Problem = q.Short + ": " + p.Text
	m.Readings[0].Problem = m.Problem
	if p.Confirmable {
		m.Sure = &tickBox{Key: "sure-" + q.Key, Label: "It is so: keep it", Ticked: said.Sure}
	}
	return m, nil
}

var ordinals = [readingFields]string{"first", "second", "third", "fourth"}

// readLength reads one length in the shared way; nothing typed is nought.
func readLength(q orders.Question, typed string, today time.Time) (field, float64) {
	f := field{Key: q.Key, Label: q.Short, Hint: q.Hint, Value: typed}
	a, p := q.Parse(orders.Said{Text: []string{typed}, Sure: true}, today)
	if p != nil {
		f.Problem = q.Short + ": " + p.Text // the list on top of the page stands away from the field
		return f, 0
	}
	if mm := a.Millimetres(); len(mm) == 1 {
		f.Heard = q.Echo(typed).String()
		return f, mm[0]
	}
	return f, 0
}

// blame puts a problem beside the field that it names.
func (m *measureForm) blame(p orders.Problem) {
	for i, q := range tapeQuestions() {
		if q.Key == p.Key {
			m.Tapes[i].Problem, m.Tapes[i].Readings[0].Problem = p.Text, p.Text
			m.Problems = append(m.Problems, mends(m.Tapes[i].Readings[0])...)
			return
		}
	}
	for i := range m.Callipers {
		if m.Callipers[i].Key == p.Key {
			m.Callipers[i].Problem = p.Text
			m.Problems = append(m.Problems, mends(m.Callipers[i])...)
			return
		}
	}
	m.Note[0].Problem = p.Text
	m.Problems = append(m.Problems, mends(m.Note[0])...)
}
