package server

import (
	"errors"
	"fmt"
	"net/http"
	"strconv"

	"github.com/gin-gonic/gin"

	"perchbook/orders"
)

// rollView is one roll: what it is of, how much is left, and how that came to be.
type rollView struct {
	Problems        []mend
	Path, Heading   string
	New             bool
	Elastic         bool
	Away            string // since when; "" while it is at hand
	Version         int
	Swatch          string
	Said            []size
	Left, Free      amount
	Missing         amount // of what is reserved; empty when all of it lies there
	Colour          field
	Fields          []field // figures of the cloth
	Shade           field
	Note            field
	Opened          bool  // the description is open to be corrected
	First           field // length of a new roll
	Bought, Counted lengthForm
	Entries         []entryLine
	Begin, More     string
	AwayTrouble     string
}

// An entryLine is one change of the roll's length.
type entryLine struct {
	When, By, What, Note string
	LeftBy, Left, Free   string
	Href, Number         string // of the commission
	Told                 bool
}

const entriesOnPage = 40

// rollTyped is a posted form of a roll that could not be taken: the fields by key, and what is wrong.
type rollTyped struct {
	Form     string // "said", "bought", "counted" or "away"
	Values   map[string]string
	Problems map[string]string
}

func (s *Server) rollOf(c *gin.Context) (orders.Roll, error) {
	n, err := strconv.Atoi(c.Param("number"))
	if err != nil {
		return orders.Roll{}, orders.ErrNotFound
	}
	return s.Store.Roll(c.Request.Context(), n)
}

func (s *Server) showNewRoll(c *gin.Context) error {
	return s.newRollPage(c, http.StatusOK, rollTyped{Form: "said", Values: writtenRoll(orders.RollCloth{Swatch: "#d8cbb2"})})
}

func (s *Server) newRollPage(c *gin.Context, status int, t rollTyped) error {
	v := rollView{New: true, Heading: "A new roll", Path: clothRoom + "/rolls"}
	v.First = fill(field{Key: "length", Label: "Length that lies there", Hint: "Such as 2.4 m. Empty when it is still to be bought."}, t.Values, t.Problems)
	v.describe(t)
	v.Problems = append(v.Problems, mends(v.First)...)
	return s.renderRoll(c, status, v)
}

func (s *Server) renderRoll(c *gin.Context, status int, v rollView) error {
	name := v.Heading
	if len(v.Problems) > 0 {
		name = "Problem: " + name
	}
	s.render(c, status, "roll", s.frame(c, name), v)
	return nil
}

func (s *Server) addRoll(c *gin.Context) error {
	t, made := s.readRoll(c)
	length := 0
	if typed := tidy(c.PostForm("length")); typed != "" {
		t.Values["length"] = typed
		length, t.Problems["length"] = readRollLength("Length that lies there", typed, 0, s.Now())
	}
	if t.wrong() {
		return s.newRollPage(c, http.StatusUnprocessableEntity, t)
	}
	r, err := s.Store.AddRoll(c.Request.Context(), made, length, s.maker(c))
	if p, ok := asProblem(err); ok {
		t.Problems[p.Key] = p.Text
		return s.newRollPage(c, http.StatusUnprocessableEntity, t)
	}
	if err != nil {
		return err
	}
	s.note(c, fmt.Sprintf("It is roll %d: write that on it.", r.Number))
	return onward(c, rollPath(r.Number))
}

func (s *Server) showRoll(c *gin.Context) error {
	r, err := s.rollOf(c)
	if err != nil {
		return err
	}
	return s.rollPage(c, http.StatusOK, r, rollTyped{Form: "", Values: writtenRoll(r.Made)})
}

func (s *Server) rollPage(c *gin.Context, status int, r orders.Roll, t rollTyped) error {
	d, err := s.desk(c.Request.Context())
	if err != nil {
		return err
	}
	v := rollView{
		Path: rollPath(r.Number), Heading: r.Named(), Elastic: r.Reel > 0, Version: r.Version, Swatch: r.Made.Swatch, Said: saidOfRoll(r),
		Left: rollAmount(r.Left), Free: rollAmount(max(0, r.Free)), Opened: t.Form == "said",
		Bought:  lengthForm{orders.NewEntryID(), field{Key: "bought", Label: "Length that came in", Hint: "Such as 2 m."}, field{Key: "from", Label: "From where (optional)"}},
		Counted: lengthForm{orders.NewEntryID(), field{Key: "counted", Label: "Length that lies there now", Hint: "Measured anew."}, field{Key: "why", Label: "Why it differs", Hint: "A word; it stays with the roll."}},
	}
	if r.Free < 0 {
		v.Missing = rollAmount(-r.Free)
	}
	if r.Reel > 0 {
		v.Heading = "Elastic " + r.Named()
	}
	if !r.PutAway.IsZero() {
		v.Away = d.date(r.PutAway)
	}
	for _, f := range []*field{&v.Bought.Length, &v.Bought.Why, &v.Counted.Length, &v.Counted.Why} {
		*f = fill(*f, t.Values, t.Problems)
		v.Problems = append(v.Problems, mends(*f)...)
	}
	if v.AwayTrouble = t.Problems["away"]; v.AwayTrouble != "" {
		v.Problems = append(v.Problems, mend{"f-away", v.AwayTrouble})
	}
	v.describe(t)
	if err := s.rollEntries(c, &v, d, r.Number); err != nil {
		return err
	}
	return s.renderRoll(c, status, v)
}

func (s *Server) rollEntries(c *gin.Context, v *rollView, d desk, number int) error {
	from := c.Query("from")
	list, next, err := s.Store.Entries(c.Request.Context(), number, from, entriesOnPage)
	if err != nil {
		return err
	}
	for _, e := range list {
		v.Entries = append(v.Entries, d.entryLine(e))
	}
	if from != "" {
		v.Begin = v.Path
	}
	if next != "" {
		v.More = v.Path + "?from=" + next
	}
	return nil
}

// entryWords say what an entry did.
var entryWords = map[orders.EntryKind]string{
	orders.Bought: "Came in", orders.Counted: "Counted anew", orders.Reserved: "Reserved", orders.Used: "Cut", orders.LetGo: "Let go",
}

func (d desk) entryLine(e orders.RollEntry) entryLine {
	l := entryLine{When: d.when(e.At), By: e.By, What: entryWords[e.Kind], Note: e.Note, LeftBy: signedMetres(e.LeftBy), Left: metres(e.Left), Free: signedMetres(e.Free), Told: e.Told}
	switch e.Kind {
	case orders.Reserved, orders.LetGo:
		l.What += " " + metres(max(e.FreeBy, -e.FreeBy))
	case orders.Used:
		l.What += " " + metres(-e.LeftBy)
	}
	l.Free = metresOrShort(e.Free)
	if e.By == orders.ByMaker {
		l.By = "the workroom"
	}
	if e.CommissionID != "" {
		l.Href, l.Number = fmt.Sprintf("/workroom/commissions/%s/sheets/%d", e.CommissionID, e.Sheet), fmt.Sprintf("%s / %d", e.Number, e.Sheet)
	}
	return l
}

// readLengthForm reads a posted length with its word of why, and writes it down.
func (s *Server) lengthPosted(c *gin.Context, form, why, label string, least int, write func(orders.Roll, int, string) (string, error)) error {
	r, err := s.rollOf(c)
	if err != nil {
		return err
	}
	t := rollTyped{Form: form, Values: writtenRoll(r.Made), Problems: map[string]string{}}
	t.Values[form], t.Values[why] = tidy(c.PostForm(form)), tidy(c.PostForm(why))
	mm := 0
	if mm, t.Problems[form] = readRollLength(label, t.Values[form], least, s.Now()); t.Problems[form] != "" {
		return s.rollPage(c, http.StatusUnprocessableEntity, r, t)
	}
	said, err := write(r, mm, t.Values[why])
	if p, ok := asProblem(err); ok {
		key := form
		if p.Key != "length" {
			key = why
		}
		t.Problems[key] = p.Text
		return s.rollPage(c, http.StatusUnprocessableEntity, r, t)
	}
	if err != nil {
		return err
	}
	s.note(c, said)
	return onward(c, rollPath(r.Number))
}

func (s *Server) buyRoll(c *gin.Context) error {
	return s.lengthPosted(c, "bought", "from", "Length that came in", 1, func(r orders.Roll, mm int, from string) (string, error) {
		err := s.Store.Buy(c.Request.Context(), r.Number, c.PostForm("entry"), mm, from, s.maker(c))
		return metres(mm) + " came in.", err
	})
}

func (s *Server) countRoll(c *gin.Context) error {
	return s.lengthPosted(c, "counted", "why", "Length that lies there now", 0, func(r orders.Roll, mm int, why string) (string, error) {
		now, err := s.Store.Count(c.Request.Context(), r.Number, c.PostForm("entry"), mm, why, s.maker(c))
		return "Counted: " + metres(mm) + " lies there." + shortOf(now), err
	})
}

// shortOf says what is missing of a roll for what is reserved; "" when nothing is.
func shortOf(r orders.Roll) string {
	if r.Free >= 0 {
		return ""
	}
	return fmt.Sprintf(" More is reserved than that: %s is missing and stands on the shopping list.", metres(-r.Free))
}

func (s *Server) saveRoll(c *gin.Context) error {
	r, err := s.rollOf(c)
	if err != nil {
		return err
	}
	t, made := s.readRoll(c)
	if t.wrong() {
		return s.rollPage(c, http.StatusUnprocessableEntity, r, t)
	}
	err = s.Store.SaveRoll(c.Request.Context(), r.Number, postedVersion(c), made)
	if p, ok := asProblem(err); ok {
		t.Problems[p.Key] = p.Text
		return s.rollPage(c, http.StatusUnprocessableEntity, r, t)
	}
	if errors.Is(err, orders.ErrConflict) {
		t.Problems["colour"] = changedRoll
		return s.rollPage(c, http.StatusConflict, r, t)
	}
	if err != nil {
		return err
	}
	s.note(c, "Corrected. Hats that are not signed yet follow.")
	return onward(c, rollPath(r.Number))
}

const changedRoll = "Somebody changed this roll meanwhile. What you typed is still here; keep it once more to put it in place of what was changed."

func postedVersion(c *gin.Context) int {
	n, err := strconv.Atoi(c.PostForm("version"))
	if err != nil {
		return -1 // no version is an old version
	}
	return n
}

func (s *Server) putRollAway(c *gin.Context) error {
	return s.rollMoved(c, "It is put away.", func(r orders.Roll) error {
		return s.Store.PutRollAway(c.Request.Context(), r.Number, postedVersion(c), s.maker(c))
	})
}

func (s *Server) takeRollOut(c *gin.Context) error {
	return s.rollMoved(c, "It is at hand again. Count what lies there.", func(r orders.Roll) error {
		return s.Store.TakeRollOut(c.Request.Context(), r.Number, postedVersion(c))
	})
}

func (s *Server) rollMoved(c *gin.Context, done string, move func(orders.Roll) error) error {
	r, err := s.rollOf(c)
	if err != nil {
		return err
	}
	t := rollTyped{Form: "away", Values: writtenRoll(r.Made), Problems: map[string]string{}}
	err = move(r)
	if p, ok := asProblem(err); ok {
		t.Problems["away"] = p.Text
		return s.rollPage(c, http.StatusUnprocessableEntity, r, t)
	}
	if errors.Is(err, orders.ErrConflict) {
		t.Problems["away"] = "Somebody changed this roll meanwhile. Look at it once more."
		return s.rollPage(c, http.StatusConflict, r, t)
	}
	if err != nil {
		return err
	}
	s.note(c, done)
	return onward(c, rollPath(r.Number))
}
